import { statementAfter } from '../../../core/decision.ts';
import { MINUTE, type EpochMs } from '../../../core/time.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';

/** Between which moments a part can be said to have been done. */
export interface PartTimes {
  readonly fromAt: EpochMs;
  readonly untilAt: EpochMs;
}

/**
 * A forgotten part lies between first touch and the end of the application, or now while that goes on; older than half an hour
 * it would only be kept as a statement (X3). Null where no part can be said any more.
 */
export function partTimes(visit: VisitFacts, now: EpochMs): PartTimes | null {
  const pass = currentPass(visit);
  const begun = pass?.begun ?? null;
  if (pass === null || begun === null || (visit.stage !== 'apply' && visit.stage !== 'process')) return null;
  const fromAt = Math.max(begun.at, now - statementAfter);
  const untilAt = Math.min(now, pass.applied?.at ?? now);
  return fromAt <= untilAt ? { fromAt, untilAt } : null;
}

/** One minute on from a moment, held within the bounds. */
export function stepTime(at: EpochMs, minutes: number, { fromAt, untilAt }: PartTimes): EpochMs {
  return Math.min(untilAt, Math.max(fromAt, at + minutes * MINUTE));
}
