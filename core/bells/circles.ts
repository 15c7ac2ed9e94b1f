import type { PersonId } from '../ids.ts';
import type { Person, Role } from '../salon/salon.ts';
import { HOUR, type EpochMs, type Ms } from '../time.ts';
import { circles, type BellKind, type Circle } from './bell.ts';
import type { BellLevel } from './level.ts';
import { whose, type Whose } from './whose.ts';

export type People = Readonly<Record<PersonId, Person>>;

/** Who a head belongs to; a chair and the floor belong to nobody. */
export interface Owner {
  readonly stylist: PersonId | null;
  /** The head is being handed over to them: until they have answered both are asked. */
  readonly offeredTo: PersonId | null;
}
export const nobodys: Owner = { stylist: null, offeredTo: null };

/** A shift that nobody ended is over by then (common practice, no source). */
export const longestShift: Ms = 16 * HOUR;

/** Roles that work on the floor (R6, circle 1). */
const onFloor: readonly Role[] = ['stylist', 'assistant', 'senior'];

export function onShift({ retired, shift }: Person, now: EpochMs): boolean {
  return !retired && shift !== null && now < shift.sinceAt + longestShift;
}

export function isAway({ away }: Person, now: EpochMs): boolean {
  return away !== null && now < away.untilAt;
}

/** On shift and not away: somebody who can be asked to go. */
export function isHere(person: Person, now: EpochMs): boolean {
  return onShift(person, now) && !isAway(person, now);
}

export function hasRole({ roles }: Person, wanted: readonly Role[]): boolean {
  return roles.some((role) => wanted.includes(role));
}

/** The person if they are here, else whoever covers for them; null when neither can come. */
function standIn(id: PersonId | null, people: People, now: EpochMs): PersonId | null {
  const person = id === null ? undefined : people[id];
  if (person === undefined || !onShift(person, now)) return null;
  if (!isAway(person, now)) return person.id;
  const cover = person.away?.cover ?? null;
  const covering = cover === null ? undefined : people[cover];
  return covering !== undefined && isHere(covering, now) ? covering.id : null;
}

interface Asking {
  readonly kind: BellKind;
  readonly level: BellLevel;
  readonly helper: PersonId | null;
}

/**
 * Managers who are here; with none of them here all who are not away, for somebody must be the last to ask. Where nobody is on shift
 * nobody goes by a phone, and the wall is the bell.
 */
function managersNow(all: readonly Person[], now: EpochMs): Person[] {
  if (!all.some((one) => onShift(one, now))) return [];
  const some = all.filter((one) => !one.retired && hasRole(one, ['manager', 'owner']) && !isAway(one, now));
  const here = some.filter((one) => isHere(one, now));
  return here.length > 0 ? here : some;
}

/** Everybody whom a bell asks at one circle, the smaller ones included (R6); sorted by id. */
export function circleOf(
  bell: Asking,
  circle: Circle,
  owner: Owner,
  people: People,
  now: EpochMs,
): readonly PersonId[] {
  const all = Object.values(people);
  const here = all.filter((one) => isHere(one, now));
  const asked = new Set<PersonId>();
  const { stylist, roles, everyone }: Whose = whose[bell.kind];
  if (stylist) {
    for (const id of [owner.stylist, owner.offeredTo]) {
      const person = standIn(id, people, now);
      if (person !== null) asked.add(person);
    }
  }
  const helper = standIn(bell.helper, people, now);
  if (helper !== null) asked.add(helper);
  if (roles.length > 0) {
    const some = roles.includes('manager') ? managersNow(all, now) : here.filter((one) => hasRole(one, roles));
    for (const one of some) asked.add(one.id);
  }
  const wide = everyone || bell.level === 'DANGER' ? 2 : circle;
  if (wide >= 1) for (const one of here) if (hasRole(one, onFloor)) asked.add(one.id);
  if (wide >= 2) for (const one of [...here, ...managersNow(all, now)]) asked.add(one.id);
  return [...asked].sort();
}

/** The first circle, from `least` on, in which there is somebody at all. */
export function firstPeopled(bell: Asking, least: Circle, owner: Owner, people: People, now: EpochMs): Circle {
  if (bell.level === 'NOTICE') return least;
  if (bell.level === 'DANGER' || whose[bell.kind].everyone) return 2;
  return circles.find((one) => one >= least && circleOf(bell, one, owner, people, now).length > 0) ?? 2;
}

/** Who is asked to go now. Whoever cannot is not asked again for this bell, unless it comes to DANGER (R3). */
export function audienceOf(
  bell: Asking & { readonly circle: Circle; readonly passed: readonly PersonId[] },
  owner: Owner,
  people: People,
  now: EpochMs,
): readonly PersonId[] {
  const asked = circleOf(bell, bell.circle, owner, people, now);
  return bell.level === 'DANGER' ? asked : asked.filter((id) => !bell.passed.includes(id));
}
