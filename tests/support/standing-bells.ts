import type { Bell } from '../../core/bells/bell.ts';
import { rungAtChair, rungAtVisit, rungOnFloor, type Rung } from '../../core/bells/subject.ts';
import type { Floor } from '../../core/floor.ts';

export interface Standing {
  readonly bell: Bell;
  readonly rung: Rung;
  readonly visit: string | null;
  readonly chair: number | null;
}

/** Every standing bell of a floor, with whoever it rings at. */
export function standingOn(floor: Floor): readonly Standing[] {
  const ofVisits = Object.values(floor.visits).map(({ facts }) => {
    return { rung: rungAtVisit(facts), visit: facts.id, chair: null };
  });
  const ofChairs = Object.values(floor.places).map((place) => {
    return { rung: rungAtChair(place), visit: null, chair: place.number };
  });
  const all = [...ofVisits, ...ofChairs, { rung: rungOnFloor(floor), visit: null, chair: null }];
  return all.flatMap((one) => one.rung.ringing.bells.map((bell) => ({ bell, ...one })));
}
