import { isAway, isHere, onShift } from '../bells/circles.ts';
import type { CommandOf } from '../command.ts';
import { alreadyDone, done, isRefusal, onStream, refuse, type Decision, type Setting } from '../decision.ts';
import type { PersonId } from '../ids.ts';
import { HOUR, MINUTE, type Ms } from '../time.ts';
import type { Person } from './salon.ts';

/** Nobody is away for less or longer than this; who stays away longer ends the shift (common practice, no source). */
const SHORTEST_AWAY: Ms = MINUTE;
const LONGEST_AWAY: Ms = 4 * HOUR;

function working({ floor }: Setting, id: PersonId): Person | Decision {
  const person = floor.people[id];
  return person === undefined || person.retired ? refuse('unknown-person', { field: 'person' }) : person;
}

/** From now on bells ask this person too. */
export function beginShift(setting: Setting, command: CommandOf<'BeginShift'>): Decision {
  const person = working(setting, command.person);
  if (isRefusal(person)) return person;
  const { id, shift } = person;
  // A shift of yesterday that nobody ended is no shift.
  if (shift !== null && onShift(person, setting.now) && !isAway(person, setting.now))
    return alreadyDone(null, { at: shift.sinceAt, by: id }, 'ShiftBegun');
  return done(null, [onStream(setting, 'people', { type: 'ShiftBegun', person: id })]);
}

export function endShift(setting: Setting, command: CommandOf<'EndShift'>): Decision {
  const person = working(setting, command.person);
  if (isRefusal(person)) return person;
  if (person.shift === null) return alreadyDone(null, { at: setting.now, by: person.id }, 'ShiftEnded');
  return done(null, [onStream(setting, 'people', { type: 'ShiftEnded', person: person.id })]);
}

/** Away for some minutes: whoever covers is asked instead. */
export function goAway(setting: Setting, { person: id, forMs, cover }: CommandOf<'GoAway'>): Decision {
  const person = working(setting, id);
  if (isRefusal(person)) return person;
  if (!onShift(person, setting.now)) return refuse('wrong-stage', { field: 'person' });
  if (forMs < SHORTEST_AWAY || forMs > LONGEST_AWAY) return refuse('out-of-range', { field: 'forMs' });
  const covering = cover === null ? null : (setting.floor.people[cover] ?? null);
  if (cover !== null && (covering === null || cover === id || !isHere(covering, setting.now)))
    return refuse('cover-not-here', { field: 'cover' });
  // Said on a phone without a link: the minutes count from when it was said.
  const untilAt = setting.at + forMs;
  return done(null, [onStream(setting, 'people', { type: 'WentAway', person: id, untilAt, cover })]);
}

export function comeBack(setting: Setting, command: CommandOf<'ComeBack'>): Decision {
  const person = working(setting, command.person);
  if (isRefusal(person)) return person;
  if (!isAway(person, setting.now)) return alreadyDone(null, { at: setting.now, by: person.id }, 'CameBack');
  return done(null, [onStream(setting, 'people', { type: 'CameBack', person: person.id })]);
}
