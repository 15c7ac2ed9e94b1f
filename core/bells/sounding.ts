import type { EpochMs, Ms } from '../time.ts';
import { repeatEvery, takenFor, type Bell } from './bell.ts';

/** A bell as heard: from when its bursts count, and how often; null when it is only shown. */
export interface Sounding {
  readonly sinceAt: EpochMs;
  readonly everyMs: Ms;
  /** A single burst, and then quiet until the taking runs out. */
  readonly once: boolean;
}

/**
 * Whether and how a bell sounds at `now` (R3, R5). Taken makes it quiet, never hidden, and only for a while: still standing
 * after that it sounds again; burns that somebody has taken stay quiet, for they stand until a person closes them. `over` at
 * WARNING or DANGER sounds once through a taking that came before it.
 */
export function soundingOf(bell: Bell, now: EpochMs): Sounding | null {
  const everyMs = repeatEvery[bell.level];
  if (everyMs === null) return null;
  if (bell.taken === null) return { sinceAt: bell.levelAt, everyMs, once: false };
  if (bell.kind === 'burns') return null;
  const quietUntil = bell.taken.at + takenFor[bell.level];
  if (now >= quietUntil) return { sinceAt: quietUntil, everyMs, once: false };
  const ringsThrough = bell.kind === 'over' && bell.level !== 'CAUTION' && bell.taken.at < bell.levelAt;
  return ringsThrough && now < bell.levelAt + everyMs ? { sinceAt: bell.levelAt, everyMs, once: true } : null;
}
