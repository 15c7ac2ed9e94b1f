import { HOUR, type EpochMs, type Ms } from '../time.ts';
import type { Stage } from './stages/stage.ts';
import { stageBegan, type VisitFacts } from './visit.ts';

/** A pass left in a timed stage for longer than this was forgotten, not served (T4). */
const LEFT_AFTER: Ms = 6 * HOUR;

/** Stages in which something runs against time. */
const timed: readonly Stage[] = ['apply', 'process', 'rinse', 'neutralize', 'condition'];

/** From when a visit counts as unattended (T4); null in a stage without time. Somebody who says that it is attended begins it anew. */
export function unattendedFrom(visit: VisitFacts): EpochMs | null {
  if (!timed.includes(visit.stage)) return null;
  return Math.max(stageBegan(visit), visit.attendedAt ?? Number.NEGATIVE_INFINITY) + LEFT_AFTER;
}

/** Whether it is left: asked about by one bell, and nothing else of it rings or counts (T4). */
export function isUnattended(visit: VisitFacts, now: EpochMs): boolean {
  const from = unattendedFrom(visit);
  return from !== null && now >= from;
}
