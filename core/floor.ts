import type { Bell, BellCause } from './bells/bell.ts';
import type { Directions, Service } from './directions/directions.ts';
import type { DirectionsId, PersonId, PlaceNumber, ServiceId, VisitId } from './ids.ts';
import { emptySalon, type Person, type Place, type Salon } from './salon/salon.ts';
import type { EpochMs } from './time.ts';
import type { Visit } from './visit/history.ts';
import type { VisitFacts } from './visit/visit.ts';

/** Bells whose subject is the whole floor (R2). */
export interface FloorBells {
  readonly bells: readonly Bell[];
  readonly episodes: readonly { readonly cause: BellCause; readonly episode: number }[];
}

/** A time in which nobody kept watch (T4). */
export interface Gap {
  readonly fromAt: EpochMs;
  readonly toAt: EpochMs;
  readonly why: 'slept' | 'restarted' | 'rebooted';
}

/** The whole floor as folded from the log. Words are kept beside it under the keys of `words.ts`. */
export interface Floor {
  readonly salon: Salon;
  readonly places: Readonly<Record<PlaceNumber, Place>>;
  readonly people: Readonly<Record<PersonId, Person>>;
  readonly directions: Readonly<Record<DirectionsId, Directions>>;
  readonly services: Readonly<Record<ServiceId, Service>>;
  readonly visits: Readonly<Record<VisitId, Visit>>;
  readonly floorBells: FloorBells;
  readonly gap: Gap | null;
  readonly words: Readonly<Record<string, string>>;
}

export const emptyFloor: Floor = {
  salon: emptySalon,
  places: {},
  people: {},
  directions: {},
  services: {},
  visits: {},
  floorBells: { bells: [], episodes: [] },
  gap: null,
  words: {},
};

/** The visit that sits at a chair now; null when the chair is free. */
export function visitAt(floor: Floor, chair: PlaceNumber): VisitFacts | null {
  for (const { facts } of Object.values(floor.visits)) {
    if (facts.chair === chair && facts.stage !== 'finished') return facts;
  }
  return null;
}

export function openVisits(floor: Floor): VisitFacts[] {
  return Object.values(floor.visits)
    .map((visit) => visit.facts)
    .filter((facts) => facts.stage !== 'finished');
}
