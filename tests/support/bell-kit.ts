import type { Bell } from '../../core/bells/bell.ts';
import type { People } from '../../core/bells/circles.ts';
import type { Person } from '../../core/salon/salon.ts';
import { NOON, type FloorLife } from './floor-life.ts';

/** Seconds after noon. */
export const sec = (seconds: number): number => NOON + Math.round(seconds * 1000);

/** A standing bell written by hand: `rinse` at WARNING, rung at noon, of whose deed it is, seen by nobody yet. */
export function standing(changes: Partial<Bell> = {}): Bell {
  const levelAt = changes.levelAt ?? sec(0);
  const level = changes.level ?? 'WARNING';
  return {
    cause: 'off',
    kind: 'rinse',
    level,
    episode: 1,
    dueAt: sec(0),
    rungAt: sec(0),
    levelAt,
    soundAt: level === 'NOTICE' ? null : levelAt,
    helper: null,
    circle: 0,
    circleAt: levelAt,
    taken: null,
    passed: [],
    shown: [],
    unreached: [],
    ...changes,
  };
}

/** Somebody on shift since an hour before noon. */
export function onShiftAs(id: string, roles: Person['roles'], changes: Partial<Person> = {}): Person {
  return { id, roles, retired: false, shift: { sinceAt: sec(-3600) }, away: null, ...changes };
}

export const peopleOf = (...people: readonly Person[]): People =>
  Object.fromEntries(people.map((one) => [one.id, one]));

/** Sends everybody who is named on shift. */
export function beginShifts(life: FloorLife, ...people: readonly string[]): FloorLife {
  for (const person of people) life.do({ type: 'BeginShift', person }, { by: person });
  return life;
}
