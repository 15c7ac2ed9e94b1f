import { isThere } from '../../../core/bells/sounding.ts';
import { goesNow } from '../../../core/bells/taking.ts';
import { circleOf, isAway, onShift, type People } from '../../../core/bells/circles.ts';
import { whose } from '../../../core/bells/whose.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { StandingBell } from '../state/floor-mirror.svelte.ts';

/** Why a bell came to somebody whose own head it is not. */
export type WhyMe =
  | { readonly why: 'covering' | 'offered' | 'cannot' | 'not-shown' | 'went' | 'not-here'; readonly of: PersonId }
  | { readonly why: 'free-hands' | 'untaken' | 'nobody-named' | 'everyone' };

interface Floor {
  readonly people: People;
  readonly now: EpochMs;
}

function covers(person: PersonId, id: PersonId | null, { people, now }: Floor): boolean {
  const of = id === null ? undefined : people[id];
  return of !== undefined && onShift(of, now) && isAway(of, now) && of.away?.cover === person;
}

/**
 * Read from where the bell stands now: its steps lie in the log, which no phone has. Null where nothing needs saying: it is their own
 * head, or a bell of their own role.
 */
export function whyMe({ bell, rung }: StandingBell, person: PersonId, floor: Floor): WhyMe | null {
  const { stylist, offeredTo } = rung.owner;
  const asked = whose[bell.kind];
  if (asked.stylist && stylist === person) return null;
  if (asked.stylist && offeredTo === person && stylist !== null) return { why: 'offered', of: stylist };
  for (const id of asked.stylist ? [stylist, offeredTo] : []) {
    if (id !== null && covers(person, id, floor)) return { why: 'covering', of: id };
  }
  const first = circleOf({ ...bell, level: 'CAUTION' }, 0, rung.owner, floor.people, floor.now);
  if (bell.helper === person || covers(person, bell.helper, floor)) {
    // With nobody else to ask the helper is the only one: then it matters that nobody is there.
    return first.length > 1 ? { why: 'free-hands' } : (missing(asked.stylist, stylist, floor) ?? { why: 'free-hands' });
  }
  if (bell.level === 'DANGER' || asked.everyone) return { why: 'everyone' };
  if (first.includes(person)) return null;
  return (
    carried(bell, first, floor) ?? (first.length > 0 ? { why: 'untaken' } : missing(asked.stylist, stylist, floor))
  );
}

/** Nobody whose deed it is could be asked. */
function missing(wanted: boolean, stylist: PersonId | null, { people, now }: Floor): WhyMe | null {
  if (!wanted) return null;
  const one = stylist === null ? undefined : people[stylist];
  if (one === undefined) return { why: 'nobody-named' };
  return onShift(one, now) && !isAway(one, now) ? null : { why: 'not-here', of: one.id };
}

/** What became of those who were asked before. */
function carried(bell: StandingBell['bell'], first: readonly PersonId[], { now }: Floor): WhyMe | null {
  const { taken, passed, shown, unreached } = bell;
  if (taken !== null && goesNow(bell, now) === null) return { why: 'went', of: taken.by };
  const [cannot] = passed;
  if (cannot !== undefined) return { why: 'cannot', of: cannot };
  const missed = first.find((id) => unreached.includes(id) && !shown.some(({ person }) => person === id));
  return missed === undefined ? null : { why: 'not-shown', of: missed };
}

/** Why a bell that asks somebody is only shown to them (R3): they are at that head, or somebody else is. */
export function whyQuiet({ bell, rung }: StandingBell, person: PersonId, now: EpochMs): 'you' | 'other' | null {
  if (bell.taken !== null) return null;
  const there = rung.acts.filter((act) => isThere(bell, act, now));
  if (there.some(({ by }) => by === person)) return 'you';
  return there.length > 0 ? 'other' : null;
}
