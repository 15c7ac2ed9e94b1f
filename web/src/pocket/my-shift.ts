import { isAway, isHere, onShift, type People } from '../../../core/bells/circles.ts';
import type { PersonId } from '../../../core/ids.ts';
import type { Person } from '../../../core/salon/salon.ts';
import { MINUTE, type EpochMs, type Ms } from '../../../core/time.ts';

/** How somebody stands to the floor. `expired`: the shift was never ended, and is over by its length (R6). */
export type MyShift =
  | { readonly kind: 'on'; readonly sinceAt: EpochMs }
  | { readonly kind: 'away'; readonly untilAt: EpochMs; readonly cover: PersonId | null }
  | { readonly kind: 'off'; readonly expired: boolean };

export function shiftOf(person: Person | undefined, now: EpochMs): MyShift {
  if (person === undefined || person.shift === null) return { kind: 'off', expired: false };
  if (!onShift(person, now)) return { kind: 'off', expired: true };
  if (person.away !== null && isAway(person, now))
    return { kind: 'away', untilAt: person.away.untilAt, cover: person.away.cover };
  return { kind: 'on', sinceAt: person.shift.sinceAt };
}

/** What one touch goes away for (common practice, no source). */
export const awayChoices: readonly Ms[] = [5 * MINUTE, 10 * MINUTE, 15 * MINUTE, 30 * MINUTE];

/** Who can cover, or take a head over: on shift and not away. */
export function hereBut(people: People, except: readonly (PersonId | null)[], now: EpochMs): readonly PersonId[] {
  return Object.values(people)
    .filter((one) => isHere(one, now) && !except.includes(one.id))
    .map(({ id }) => id)
    .sort();
}

/** Whom somebody covers for now, and until when. */
export function coveredBy(person: PersonId | null, people: People, now: EpochMs): readonly Person[] {
  if (person === null) return [];
  return Object.values(people).filter((one) => onShift(one, now) && isAway(one, now) && one.away?.cover === person);
}
