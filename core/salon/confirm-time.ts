import type { CommandOf } from '../command.ts';
import { done, refuse, rememberedFor, type Decision, type Setting } from '../decision.ts';
import { visitStream, type Draft } from '../events.ts';
import type { Ms } from '../time.ts';

/**
 * Somebody says how long the floor was away: now and all that was recorded since the restart move on by what was missing. The
 * only re-anchoring with visits open (T3). Never shorter than what the machine itself has counted since it booted.
 */
export function confirmTime(setting: Setting, { awayMs }: CommandOf<'ConfirmTime'>): Decision {
  const { uncertainSince, lastSure } = setting.floor.salon;
  if (uncertainSince === null || lastSure === null) return refuse('already-done');
  if (awayMs < 0 || awayMs > rememberedFor) return refuse('out-of-range', { field: 'awayMs' });
  const byMs: Ms = Math.max(0, Math.round(awayMs) - (uncertainSince - lastSure.aliveAt));
  const found = { fromAt: uncertainSince, byMs };
  const at = setting.now + byMs;
  const visits = Object.values(setting.floor.visits)
    .filter(({ facts, history }) => {
      const last = history[history.length - 1];
      return facts.timeLostAt !== null || (last !== undefined && last.recordedAt >= uncertainSince);
    })
    .map(({ facts }): Draft => ({ stream: visitStream(facts.id), at, event: { type: 'TimeFound', ...found } }));
  return done(null, [{ stream: 'salon', at, event: { type: 'TimeConfirmed', ...found } }, ...visits]);
}

/** By how much a turn's commands moved the timescale on; 0 for all but the one above. */
export function movedOnBy(events: readonly Draft[]): Ms {
  return events.reduce((by, { event }) => (event.type === 'TimeConfirmed' ? by + event.byMs : by), 0);
}
