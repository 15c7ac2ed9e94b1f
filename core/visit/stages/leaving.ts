import {
  conditionStep,
  failed,
  neutralizeStep,
  shampooCutShort,
  shampooOnAt,
  shampoosWanted,
} from '../../exposure/finishing.ts';
import type { NeutralizerStep, ShampooStep } from '../../directions/rules.ts';
import type { EpochMs } from '../../time.ts';
import type { OwedNow } from '../events.ts';
import { stageBegan, type OwedItem, type Pass, type VisitFacts } from '../visit.ts';
import { indexOnWay, itinerary, type Stage, type Step } from './stage.ts';

/** What a stage still wants when it is left at an instant (S4). */
type Wants = (visit: VisitFacts, pass: Pass, at: EpochMs) => OwedItem[];

const nothing: Wants = () => [];

const wants = {
  prep: nothing,
  apply: nothing,
  process: nothing,
  rinse: (_visit, pass, at) => {
    if (pass.water === null) return ['not-marked'];
    return pass.rules !== null && at - pass.water.at < pass.rules.rinseMs ? ['rinse-short'] : [];
  },
  neutralize: (visit, pass, at) => {
    const step = neutralizeStep(pass);
    if (step === null) return [];
    return step.kind === 'shampoos' ? shampoosWant(visit, pass, step, at) : neutralizerWants(pass, step, at);
  },
  condition: (visit, pass, at) => {
    const step = conditionStep(pass);
    return step !== null && at - stageBegan(visit) < step.dwellMs ? ['dwell-short'] : [];
  },
  dry: nothing,
  finished: nothing,
} as const satisfies Record<Stage, Wants>;

function shampoosWant(visit: VisitFacts, pass: Pass, step: ShampooStep, at: EpochMs): OwedItem[] {
  const items: OwedItem[] = [];
  const missing = shampoosWanted(pass, step) - pass.shampoos.length;
  if (missing > 0) items.push('shampoos-short');
  const present = missing > 0 && at - shampooOnAt(visit, pass) < step.dwellMs;
  if (present || shampooCutShort(visit, pass, step)) items.push('dwell-short');
  const last = pass.shampoos[pass.shampoos.length - 1];
  const proof = step.proof === 'strip' ? last?.strip : last?.indicator;
  const shown = step.proof === 'count' || (proof !== undefined && proof !== null);
  if (!shown || (last !== undefined && failed(last, step))) items.push('proof-missing');
  return items;
}

function neutralizerWants(pass: Pass, step: NeutralizerStep, at: EpochMs): OwedItem[] {
  const items: OwedItem[] = [];
  if (pass.neutralizerOn === null) items.push('neutralizer-not-timed');
  if (pass.neutralizerWater === null) items.push('not-marked');
  else if (at - pass.neutralizerWater.at < step.rinseMs) items.push('rinse-short');
  if (step.rods && pass.rodsOut === null) items.push('rods-not-marked');
  return items;
}

/** What is owed when a visit leaves its present stage at an instant. */
export function owedOnLeaving(visit: VisitFacts, at: EpochMs): OwedNow[] {
  const pass = visit.passes[visit.pass];
  if (pass === undefined) return [];
  return wants[visit.stage](visit, pass, at).map((item) => ({ item, stage: visit.stage, pass: visit.pass }));
}

/** Stages between where the visit is and a later step, recorded as not marked (S4). */
export function skipped(visit: VisitFacts, to: Step): OwedNow[] {
  const way = itinerary(visit.passes);
  const here = indexOnWay(way, visit);
  const there = indexOnWay(way, to);
  return way.slice(here + 1, Math.max(here + 1, there)).map(({ stage, pass }) => ({ item: 'not-marked', stage, pass }));
}

/** The step after the visit's present one; finished is its own next. */
export function nextStep(visit: VisitFacts): Step {
  const way = itinerary(visit.passes);
  return way[indexOnWay(way, visit) + 1] ?? { stage: 'finished', pass: visit.pass };
}

/** The first later step with a stage; null when there is none ahead. */
export function stepAhead(visit: VisitFacts, stage: Stage): Step | null {
  const way = itinerary(visit.passes);
  return way.slice(indexOnWay(way, visit) + 1).find((step) => step.stage === stage) ?? null;
}
