import { rankOf } from '../../../core/bells/level.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { headline, type Deed, type HeadlineContext } from '../../../core/visit/headline.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import { loudestBell } from '../chair/standing-bell.ts';
import type { ChairOnFloor } from '../state/floor-mirror.svelte.ts';

/** Deeds that are wanted now though no instant hangs on them. */
const now: readonly Deed[] = ['to-the-water', 'rinse-now', 'left-with-product', 'keep-rinsing'];

/** When a head's deed falls due; infinity where nothing hangs on the clock. */
export function dueAt(visit: VisitFacts, context: HeadlineContext): EpochMs {
  const { deed, number } = headline(visit, context);
  if (number !== null && 'to' in number) return number.to;
  return now.includes(deed) ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
}

function urgency(visit: VisitFacts): number {
  const bell = loudestBell(visit);
  return bell === null ? -1 : rankOf(bell.level);
}

/** Heads in the order in which they are due: louder bells first, then the nearer instant, then the chair. */
export function byDue(chairs: readonly ChairOnFloor[], context: HeadlineContext): readonly ChairOnFloor[] {
  return chairs
    .filter((chair) => chair.visit !== null)
    .map((chair) => ({ chair, visit: chair.visit as VisitFacts }))
    .sort(
      (a, b) =>
        urgency(b.visit) - urgency(a.visit) ||
        order(dueAt(a.visit, context), dueAt(b.visit, context)) ||
        a.chair.number - b.chair.number,
    )
    .map(({ chair }) => chair);
}

/** Infinities are equal among themselves; their difference would be no number. */
function order(a: number, b: number): number {
  return a === b ? 0 : a < b ? -1 : 1;
}

export interface Heads {
  readonly mine: readonly ChairOnFloor[];
  readonly others: readonly ChairOnFloor[];
}

/** My heads first, then all others of the floor; each by what is due next. */
export function headsOf(person: PersonId | null, chairs: readonly ChairOnFloor[], context: HeadlineContext): Heads {
  const ordered = byDue(chairs, context);
  const isMine = (chair: ChairOnFloor): boolean => person !== null && chair.visit?.stylist === person;
  return { mine: ordered.filter(isMine), others: ordered.filter((chair) => !isMine(chair)) };
}
