import { setTimeout as pause } from 'node:timers/promises';
import { SECOND, type Ms } from '../../core/time.ts';
import type { Players } from './players.ts';

/** How often somebody looks up. People are no faster, and the server hardly notices. */
const LOOK_EVERY: Ms = SECOND;
/** So many looks in a row may fail before the day is given up. */
const FAILURES_BORNE = 20;

/** The day goes on in real time, one model after another, until `over`. Resolves then; throws if the floor is gone. */
export async function goOn(players: Players, over: AbortSignal, say: (sentence: string) => void): Promise<void> {
  let failures = 0;
  while (!over.aborted) {
    try {
      const { view, acts } = await players.look();
      const refused = await players.act(acts.filter((act) => act.at <= view.now));
      // Somebody who looks in may have been quicker.
      for (const one of refused) say(`refused: ${one}`);
      failures = 0;
    } catch (error) {
      if (over.aborted) return;
      if (++failures >= FAILURES_BORNE) throw error;
    }
    await pause(LOOK_EVERY, undefined, { signal: over }).catch(() => undefined);
  }
}
