import { rankOf } from '../../../core/bells/level.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { headline, type Deed, type HeadlineContext } from '../../../core/visit/headline.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { Bell } from '../../../core/bells/bell.ts';
import type { ChairOnFloor, StandingBell } from '../state/floor-mirror.svelte.ts';

/** Deeds that are wanted now though no instant hangs on them. */
const now: readonly Deed[] = ['to-the-water', 'rinse-now', 'left-with-product', 'keep-rinsing'];

/** When a head's deed falls due; infinity where nothing hangs on the clock. */
export function dueAt(visit: VisitFacts, context: HeadlineContext): EpochMs {
  const { deed, number } = headline(visit, context);
  if (number !== null && 'to' in number) return number.to;
  return now.includes(deed) ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY;
}

/** The bell that a chair's row shows: the most urgent one of its head and of the chair itself, among equals the longest standing. */
export function bellAt(chair: ChairOnFloor, bells: readonly StandingBell[]): StandingBell | null {
  const [first] = bells
    .filter((one) => one.chair === chair.number && (one.visit === null || one.visit.id === chair.visit?.id))
    .sort((a, b) => rankOf(b.bell.level) - rankOf(a.bell.level) || a.bell.levelAt - b.bell.levelAt);
  return first ?? null;
}

const rank = (bell: Bell | undefined): number => (bell === undefined ? -1 : rankOf(bell.level));

/** Heads in the order in which they are due: louder bells first, then the nearer instant, then the chair. */
export function byDue(
  chairs: readonly ChairOnFloor[],
  context: HeadlineContext,
  bells: readonly StandingBell[],
): readonly ChairOnFloor[] {
  return chairs
    .flatMap((chair) => (chair.visit === null ? [] : [{ chair, visit: chair.visit }]))
    .map(({ chair, visit }) => ({ chair, due: dueAt(visit, context), urgency: rank(bellAt(chair, bells)?.bell) }))
    .sort((a, b) => b.urgency - a.urgency || order(a.due, b.due) || a.chair.number - b.chair.number)
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

/** My heads, and those of whom I cover for, first; then all others of the floor; each by what is due next. */
export function headsOf(
  person: PersonId | null,
  chairs: readonly ChairOnFloor[],
  context: HeadlineContext,
  bells: readonly StandingBell[],
  covered: readonly PersonId[] = [],
): Heads {
  const ordered = byDue(chairs, context, bells);
  const isMine = ({ visit }: ChairOnFloor): boolean => {
    const stylist = visit?.stylist ?? null;
    return person !== null && stylist !== null && (stylist === person || covered.includes(stylist));
  };
  return { mine: ordered.filter(isMine), others: ordered.filter((chair) => !isMine(chair)) };
}
