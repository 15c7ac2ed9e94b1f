import { MINUTE, type EpochMs } from '../../../core/time.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';
import { partTimes } from './part-times.ts';

/** "Since −1, −2, −5, −10" for a touch that comes late (X4), in minutes. */
export const EARLIER_MINUTES = [1, 2, 5, 10] as const;

/**
 * Which of them can be said of a touch: not before the latest move at this head, for then it would only be kept as
 * a statement (X3). Water on is folded in at its own time whatever came before it, so nothing is held back there.
 */
export function earlierMinutes(visit: VisitFacts | null, command: string, now: EpochMs): readonly number[] {
  const least = leastOf(visit, command, now);
  return EARLIER_MINUTES.filter((minutes) => least === null || now - minutes * MINUTE >= least);
}

/** A part may have been done before others that were marked already. */
function leastOf(visit: VisitFacts | null, command: string, now: EpochMs): EpochMs | null {
  if (command === 'BeginRinse') return null;
  if (command === 'MarkPartDone' && visit !== null) return partTimes(visit, now)?.fromAt ?? now;
  return latestMoveAt(visit);
}

function latestMoveAt(visit: VisitFacts | null): EpochMs | null {
  if (visit === null) return null;
  // A forgotten part is recorded last, though it happened before others.
  const parts = currentPass(visit)?.parts.map((one) => one.doneAt) ?? [];
  const last = visit.lastMove?.at ?? visit.seatedAt;
  return Math.max(last, visit.way[visit.way.length - 1]?.at ?? last, ...parts);
}
