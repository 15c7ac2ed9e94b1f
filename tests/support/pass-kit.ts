import type { Rules } from '../../core/directions/rules.ts';
import { MINUTE, type EpochMs } from '../../core/time.ts';
import type { Hands, Mark, PartDone, Pass, StrandTest, VisitFacts, Water } from '../../core/visit/visit.ts';
import { relaxer } from './directions-kit.ts';
import { NOON, type FloorLife } from './floor-life.ts';

/** Facts written by hand, in minutes after noon, for functions that only look at them. */
export const min = (minutes: number): EpochMs => NOON + Math.round(minutes * MINUTE);

export const mark = (minutes: number, version = 1): Mark => ({ at: min(minutes), by: null, version });

export const water = (minutes: number, basin: number | null = 91, version = 1): Water => ({
  ...mark(minutes, version),
  basin,
  confirmed: false,
});

/** Parts done one after another, in the plan's order, at these minutes; the first begun at noon. */
export const partsDone = (...doneAt: readonly number[]): PartDone[] =>
  doneAt.map((at, part) => ({ part, begunAt: min(doneAt[part - 1] ?? 0), doneAt: min(at), by: null }));

/** A pair of hands at the head since `from`, free since `freeAt`. */
export const hands = (from: number, freeAt = from, changes: Partial<Hands> = {}): Hands => ({
  by: null,
  fromAt: min(from),
  untilAt: null,
  freeAt: min(freeAt),
  ...changes,
});

/** A strand test of the part done first. */
export const strand = (minutes: number, result: StrandTest['result'], part: number | null = null): StrandTest => ({
  ...mark(minutes),
  place: 'first',
  result,
  part,
});

/** A pass whose product touched the first strand at noon, by one pair of hands that did every part. */
export function pass(changes: Partial<Pass> = {}, rules: Rules | null = relaxer()): Pass {
  return {
    directions: rules === null ? null : 'directions-1',
    directionsVersion: rules === null ? null : 1,
    rules,
    begun: mark(0),
    beginUnknown: false,
    parts: [],
    hands: [{ ...hands(0), freeAt: Math.max(min(0), ...(changes.parts ?? []).map((one) => one.doneAt)) }],
    leftInWork: [],
    tests: [],
    heat: null,
    heated: false,
    limits: null,
    applied: null,
    water: null,
    firstWater: null,
    clear: null,
    shampoos: [],
    neutralizerOn: null,
    neutralizerWater: null,
    rodsOut: null,
    closeBought: false,
    ...changes,
  };
}

/** A visit in a stage to which it came at `since`. */
export function facts(
  stage: VisitFacts['stage'],
  one: Pass | null = pass(),
  changes: Partial<VisitFacts> = {},
  since = 0,
): VisitFacts {
  return {
    id: 'visit-by-hand',
    version: 1,
    chair: 1,
    service: 'service-1',
    stylist: null,
    seatedAt: min(-10),
    stage,
    pass: 0,
    passes: one === null ? [] : [one],
    limits: [],
    way: [{ ...mark(since), stage, pass: 0 }],
    owed: [],
    burns: null,
    bells: [],
    episodes: [],
    lastMove: null,
    end: null,
    prepared: null,
    settled: null,
    attendedAt: null,
    timeLostAt: null,
    acts: [],
    tingles: null,
    offered: null,
    ...changes,
  };
}

/** Writes directions for each of the passes and a service that uses them. */
export function addService(
  life: FloorLife,
  id: string,
  passes: readonly Rules[],
  limits: VisitFacts['limits'] = [],
): string {
  const ids = passes.map((rules, i) => {
    const directions = `${id}-directions-${i}`;
    life.do(
      { type: 'WriteDirections', directions: null, name: directions, source: 'leaflet', rules },
      { id: directions },
    );
    return directions;
  });
  life.do({ type: 'WriteService', service: null, name: id, passes: ids, limits }, { id });
  return id;
}

/** A sender who has seen the visit as it is now. */
export const saw = (life: FloorLife, visit: string): { seen: number } => ({ seen: life.facts(visit).version });
