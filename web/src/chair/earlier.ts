import { MINUTE, type EpochMs } from '../../../core/time.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';

/** "Since −1, −2, −5, −10" for a touch that comes late (X4), in minutes. */
export const EARLIER_MINUTES = [1, 2, 5, 10] as const;

/**
 * Which of them can be said of a touch: not before the latest move at this head, for then it would only be kept as
 * a statement (X3). Water on is folded in at its own time whatever came before it, so nothing is held back there.
 */
export function earlierMinutes(visit: VisitFacts | null, command: string, now: EpochMs): readonly number[] {
  const least = command === 'BeginRinse' ? null : latestMoveAt(visit);
  return EARLIER_MINUTES.filter((minutes) => least === null || now - minutes * MINUTE >= least);
}

function latestMoveAt(visit: VisitFacts | null): EpochMs | null {
  if (visit === null) return null;
  return visit.lastMove?.at ?? visit.way[visit.way.length - 1]?.at ?? visit.seatedAt;
}
