import { visitOf, type FloorEvent, type FloorEventType, type Recorded } from './events.ts';
import type { Floor } from './floor.ts';
import { bellsMoved, endBell, ring, take } from './visit/evolve-bells.ts';
import type { VisitEventType } from './visit/events.ts';
import { evolveVisit } from './visit/history.ts';

type EventOf<T extends FloorEventType> = Extract<FloorEvent, { type: T }>;
type OwnType = Exclude<FloorEventType, VisitEventType>;
type Apply<T extends FloorEventType> = (floor: Floor, event: EventOf<T>, recorded: Recorded) => Floor;

function withPlace(floor: Floor, number: number, change: Partial<Floor['places'][number]>): Floor {
  const place = floor.places[number];
  return place === undefined ? floor : { ...floor, places: { ...floor.places, [number]: { ...place, ...change } } };
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
    places: { ...floor.places, [number]: { number, kind, retired: false } },
  }),
  PlaceRelabelled: (floor) => floor,
  PlaceRetired: (floor, { number }) => withPlace(floor, number, { retired: true }),
  FiguresSet: (floor, { figures }) => ({ ...floor, salon: { ...floor.salon, figures } }),
  WallSet: (floor, { wall }) => ({ ...floor, salon: { ...floor.salon, wall } }),
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
    gap: { fromAt: floor.salon.lastSure?.aliveAt ?? fromAt, toAt: fromAt + byMs, why: 'rebooted' },
  }),
  FloorBellRung: (floor, event, { at }) => ({ ...floor, floorBells: ring(floor.floorBells, event, at) }),
  FloorBellTaken: (floor, { cause }, { at, by }) =>
    by === null ? floor : { ...floor, floorBells: take(floor.floorBells, cause, by, at) },
  FloorBellEnded: (floor, { cause }) => ({ ...floor, floorBells: endBell(floor.floorBells, cause) }),
  PersonAdded: (floor, { person, roles }) => ({
    ...floor,
    people: { ...floor.people, [person]: { id: person, roles, retired: false } },
  }),
  PersonChanged: (floor, { person, roles }) => ({
    ...floor,
    people: { ...floor.people, [person]: { id: person, roles, retired: false } },
  }),
  PersonRetired: (floor, { person }) => {
    const one = floor.people[person];
    return one === undefined ? floor : { ...floor, people: { ...floor.people, [person]: { ...one, retired: true } } };
  },
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
