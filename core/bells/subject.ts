import { handsAtWork } from '../exposure/parts.ts';
import type { Floor } from '../floor.ts';
import type { PlaceNumber, VisitId } from '../ids.ts';
import type { Place } from '../salon/salon.ts';
import type { Ringing } from '../visit/evolve-bells.ts';
import { currentPass, type Act, type VisitFacts } from '../visit/visit.ts';
import type { Bell, BellCause } from './bell.ts';
import { nobodys, type Owner } from './circles.ts';

/** Whose bell: a visit's, a chair's, or the floor's. */
export type Subject = VisitId | PlaceNumber | 'floor';

/** What rings there, whose it is, and who is at it. */
export interface Rung {
  readonly ringing: Ringing;
  readonly owner: Owner;
  readonly acts: readonly Act[];
  /** Causes whose deed is being done though the bell still stands: doing the deed is taking it (R3). */
  readonly underWay: readonly BellCause[];
}

export function rungAtVisit(facts: VisitFacts): Rung {
  return { ringing: facts, owner: ownerOf(facts), acts: facts.acts, underWay: hasHelp(facts) ? ['pace'] : [] };
}

/** A second pair of hands is at the application, which is what `pace` asks for. */
function hasHelp(facts: VisitFacts): boolean {
  const pass = facts.stage === 'apply' ? currentPass(facts) : null;
  return pass !== null && handsAtWork(pass).length > 1;
}

export function ownerOf({ stylist, offered }: VisitFacts): Owner {
  return { stylist, offeredTo: offered?.to ?? null };
}

/** Whoever asked for help at a chair stands there. */
export function rungAtChair(place: Place): Rung {
  return { ringing: place, owner: nobodys, acts: place.help === null ? [] : [place.help], underWay: [] };
}

export function rungOnFloor(floor: Pick<Floor, 'floorBells'>): Rung {
  return { ringing: floor.floorBells, owner: nobodys, acts: [], underWay: [] };
}

/** What a command or a receipt means by a visit, a chair or neither; null where there is no such thing. */
export function rungAt(floor: Floor, visit: VisitId | null, chair: PlaceNumber | null): Rung | null {
  if (visit !== null) {
    const known = floor.visits[visit];
    return known === undefined ? null : rungAtVisit(known.facts);
  }
  if (chair === null) return rungOnFloor(floor);
  const place = floor.places[chair];
  return place === undefined ? null : rungAtChair(place);
}

/** A bell that stands, with the visit, chair or floor that it rings at; both null: the floor's. */
export interface Standing {
  readonly bell: Bell;
  readonly rung: Rung;
  readonly visit: VisitId | null;
  readonly chair: PlaceNumber | null;
}

/** Every standing bell of a floor. */
export function standingOn(floor: Pick<Floor, 'visits' | 'places' | 'floorBells'>): readonly Standing[] {
  const at = (rung: Rung, visit: VisitId | null, chair: PlaceNumber | null): Standing[] =>
    rung.ringing.bells.map((bell) => ({ bell, rung, visit, chair }));
  return [
    ...Object.values(floor.visits).flatMap(({ facts }) => at(rungAtVisit(facts), facts.id, null)),
    ...Object.values(floor.places).flatMap((place) => at(rungAtChair(place), null, place.number)),
    ...at(rungOnFloor(floor), null, null),
  ];
}
