import { visitOf, type FloorBellEvent, type FloorEvent, type FloorEventType, type Recorded } from './events.ts';
import type { Floor } from './floor.ts';
import type { PersonId } from './ids.ts';
import type { Person } from './salon/salon.ts';
import type { EpochMs, Ms } from './time.ts';
import { bellsMoved, stepBells } from './visit/evolve-bells.ts';
import type { BellStepEvent, VisitEventType } from './visit/events.ts';
import { evolveVisit } from './visit/history.ts';

type EventOf<T extends FloorEventType> = Extract<FloorEvent, { type: T }>;
type OwnType = Exclude<FloorEventType, VisitEventType>;
type Apply<T extends FloorEventType> = (floor: Floor, event: EventOf<T>, recorded: Recorded) => Floor;

function withPlace(floor: Floor, number: number, change: Partial<Floor['places'][number]>): Floor {
  const place = floor.places[number];
  return place === undefined ? floor : { ...floor, places: { ...floor.places, [number]: { ...place, ...change } } };
}

function withPerson(floor: Floor, id: PersonId, change: Partial<Person>): Floor {
  const one = floor.people[id];
  return one === undefined ? floor : { ...floor, people: { ...floor.people, [id]: { ...one, ...change } } };
}

/** What was asked for at a chair since the time was lost was asked so much later (T3). */
function placesMoved(places: Floor['places'], fromAt: EpochMs, byMs: Ms): Floor['places'] {
  const moved = Object.values(places).map((place) => {
    const help =
      place.help !== null && place.help.at >= fromAt ? { ...place.help, at: place.help.at + byMs } : place.help;
    return [place.number, { ...bellsMoved(place, fromAt, byMs), help }] as const;
  });
  return Object.fromEntries(moved);
}

/** A bell of a chair or of the whole floor goes on by the same steps as one of a head. */
function floorBell(floor: Floor, { chair, ...event }: FloorBellEvent, recorded: Recorded): Floor {
  const step = { ...event, type: event.type.slice('Floor'.length) } as unknown as BellStepEvent;
  if (chair === null) {
    const floorBells = stepBells(floor.floorBells, step, recorded);
    return floorBells === floor.floorBells ? floor : { ...floor, floorBells };
  }
  const place = floor.places[chair];
  return place === undefined ? floor : withPlace(floor, chair, stepBells(place, step, recorded));
}

const appliers = {
  SalonSetUp: (floor, event, { at }) => ({
    ...floor,
    salon: {
      ...floor.salon,
      setUpAt: floor.salon.setUpAt ?? at,
      zone: event.zone,
      language: event.language,
      hourCycle: event.hourCycle,
      demonstration: event.demonstration,
    },
  }),
  PlaceAdded: (floor, { number, kind }) => ({
    ...floor,
    places: {
      ...floor.places,
      // A number used again goes on counting its bells' episodes.
      [number]: { number, kind, retired: false, help: null, bells: [], episodes: floor.places[number]?.episodes ?? [] },
    },
  }),
  PlaceRelabelled: (floor) => floor,
  PlaceRetired: (floor, { number }) => withPlace(floor, number, { retired: true, help: null }),
  FiguresSet: (floor, { figures }) => ({ ...floor, salon: { ...floor.salon, figures } }),
  WallSet: (floor, { wall }) => ({ ...floor, salon: { ...floor.salon, wall } }),
  RoomSet: (floor, { room }) => ({ ...floor, salon: { ...floor.salon, room } }),
  PushSet: (floor, { on }) => ({ ...floor, salon: { ...floor.salon, push: on } }),
  HelpAsked: (floor, { chair }, { at, by }) => withPlace(floor, chair, { help: { by, at } }),
  HelpEnded: (floor, { chair }) => withPlace(floor, chair, { help: null }),
  CivilStepped: (floor, { offsetMs }) => ({
    ...floor,
    salon: { ...floor.salon, civilOffsetMs: offsetMs, offsetHeld: false },
  }),
  TimescaleTaken: (floor) => ({
    ...floor,
    gap: null,
    salon: { ...floor.salon, civilOffsetMs: 0, uncertainSince: null, lastSure: null, offsetHeld: false },
  }),
  GapSeen: (floor, { fromAt, why }, { at }) => ({ ...floor, gap: { fromAt, toAt: at, why } }),
  TimeBecameUncertain: (floor, { aliveAt, timescale }, { at }) => ({
    ...floor,
    salon: {
      ...floor.salon,
      uncertainSince: floor.salon.uncertainSince ?? at,
      lastSure: floor.salon.lastSure ?? { aliveAt: aliveAt ?? at, timescale },
    },
  }),
  TimeConfirmed: (floor, { fromAt, byMs }) => ({
    ...floor,
    salon: { ...floor.salon, uncertainSince: null, lastSure: null, offsetHeld: true },
    floorBells: bellsMoved(floor.floorBells, fromAt, byMs),
    places: placesMoved(floor.places, fromAt, byMs),
    gap: { fromAt: floor.salon.lastSure?.aliveAt ?? fromAt, toAt: fromAt + byMs, why: 'rebooted' },
  }),
  FloorBellRung: floorBell,
  FloorBellWidened: floorBell,
  FloorBellTaken: floorBell,
  FloorBellPassed: floorBell,
  FloorBellShown: floorBell,
  FloorBellNotReached: floorBell,
  FloorBellEnded: floorBell,
  PersonAdded: (floor, { person, roles }) => ({
    ...floor,
    people: { ...floor.people, [person]: { id: person, roles, retired: false, shift: null, away: null } },
  }),
  PersonChanged: (floor, { person, roles }) => withPerson(floor, person, { roles, retired: false }),
  PersonRetired: (floor, { person }) => withPerson(floor, person, { retired: true, shift: null, away: null }),
  ShiftBegun: (floor, { person }, { at }) => withPerson(floor, person, { shift: { sinceAt: at }, away: null }),
  ShiftEnded: (floor, { person }) => withPerson(floor, person, { shift: null, away: null }),
  WentAway: (floor, { person, untilAt, cover }, { at }) =>
    withPerson(floor, person, { away: { fromAt: at, untilAt, cover } }),
  CameBack: (floor, { person }) => withPerson(floor, person, { away: null }),
  DirectionsWritten: (floor, { directions, version, rules, copiedBy }, { at }) => ({
    ...floor,
    directions: {
      ...floor.directions,
      [directions]: { id: directions, version, rules, copiedAt: at, copiedBy, retired: false },
    },
  }),
  DirectionsRetired: (floor, { directions }) => {
    const one = floor.directions[directions];
    return one === undefined
      ? floor
      : { ...floor, directions: { ...floor.directions, [directions]: { ...one, retired: true } } };
  },
  ServiceWritten: (floor, { service, passes, limits }) => ({
    ...floor,
    services: { ...floor.services, [service]: { id: service, passes, limits, retired: false } },
    salon: { ...floor.salon, usualService: floor.salon.usualService ?? service },
  }),
  ServiceRetired: (floor, { service }) => {
    const one = floor.services[service];
    if (one === undefined) return floor;
    const usualService = floor.salon.usualService === service ? null : floor.salon.usualService;
    return {
      ...floor,
      services: { ...floor.services, [service]: { ...one, retired: true } },
      salon: { ...floor.salon, usualService },
    };
  },
  UsualServiceChosen: (floor, { service }) => ({ ...floor, salon: { ...floor.salon, usualService: service } }),
} satisfies { [T in OwnType]: Apply<T> };

/** The floor after one more event. Takes time only from the event. */
export function evolve(floor: Floor, recorded: Recorded): Floor {
  const visit = visitOf(recorded.stream);
  if (visit !== null) {
    return { ...floor, visits: { ...floor.visits, [visit]: evolveVisit(floor.visits[visit], visit, recorded) } };
  }
  const apply = appliers[recorded.event.type as OwnType] as (
    floor: Floor,
    event: FloorEvent,
    recorded: Recorded,
  ) => Floor;
  return apply(floor, recorded.event, recorded);
}

/**
 * Drops visits that need no watching any more: finished over `keepMs` ago, no bell standing, and no reason owed
 * or finished over a day ago. They stay in the log.
 */
export function forget(floor: Floor, now: number, keepMs = 3_600_000): Floor {
  const gone = Object.values(floor.visits).filter(({ facts }) => {
    if (facts.stage !== 'finished' || facts.bells.length > 0) return false;
    const ended = facts.way[facts.way.length - 1]?.at ?? facts.seatedAt;
    const owes = facts.owed.some((one) => one.reason === null);
    return now - ended > (owes ? 24 * 3_600_000 : keepMs);
  });
  if (gone.length === 0) return floor;
  const visits = { ...floor.visits };
  for (const { facts } of gone) delete visits[facts.id];
  return { ...floor, visits };
}
