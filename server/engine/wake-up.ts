import { nextBellAt } from '../../core/bells/due.ts';
import type { Outside } from '../../core/bells/outside.ts';
import type { Floor } from '../../core/floor.ts';
import { earliest, MINUTE, SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import type { EngineLog } from './engine-log.ts';

/** No wait is longer (T7). */
const LONGEST_WAIT: Ms = MINUTE;

/** How long to wait for the next instant at which something changes by itself: a bell, or one of the others given (T7). */
export function waitFor(
  floor: Floor,
  now: EpochMs,
  outside: Outside,
  others: readonly (EpochMs | null)[],
  log: EngineLog,
): Ms {
  const next = earliest(bellAt(floor, now, outside, log), ...others) ?? Infinity;
  return Math.min(LONGEST_WAIT, Math.max(1, Math.ceil(next - now)));
}

/** A fault of ours at one head must not stop the clock of all: then it is looked again soon. */
function bellAt(floor: Floor, now: EpochMs, outside: Outside, log: EngineLog): EpochMs | null {
  try {
    return nextBellAt(floor, now, outside);
  } catch (error) {
    log.error({ err: error }, 'the next bell could not be told');
    return now + SECOND;
  }
}
