import type { ProductClass } from '../../../../core/directions/product-class.ts';
import { defaultParts, type FinishingStep, type Rules } from '../../../../core/directions/rules.ts';
import type { Ms } from '../../../../core/time.ts';
import { minutesText, numberText } from './minutes.ts';
import type { PartDraft } from './part-plan.ts';

/** One step after the rinse as typed. All kinds' fields are kept, so that nothing typed is lost. */
export interface StepDraft {
  kind: FinishingStep['kind'];
  count: string;
  dwell: string;
  proof: 'indicator' | 'strip' | 'count';
  stripLimit: string;
  minAfter: string;
  maxAfter: string;
  rinse: string;
  rods: boolean;
}

/** Directions as they stand in the form: text as typed, so that nothing is lost by being wrong. */
export interface DirectionsDraft {
  name: string;
  source: string;
  class: ProductClass | '';
  nominal: string;
  minAfter: string;
  maxAfter: string;
  ceiling: string;
  minTotal: string;
  manner: Rules['manner'];
  /** How many parts, as typed; the plan follows once it is a number from 1 to 12. */
  partCount: string;
  parts: PartDraft[];
  firstTest: string;
  testEvery: string;
  grace: string;
  rinse: string;
  finishing: StepDraft[];
  heat: Rules['heat'];
  /** Own figures under heat (E10): all blank where the directions give none. */
  heatMinAfter: string;
  heatMaxAfter: string;
  heatCeiling: string;
  heads: string;
  washAfter: string;
  colourAfter: string;
}

export function stepDraft(kind: StepDraft['kind']): StepDraft {
  // Two neutralizing shampoos are common practice, no source; minutes are never proposed.
  return {
    kind,
    count: '2',
    dwell: '',
    proof: 'indicator',
    stripLimit: '',
    minAfter: '',
    maxAfter: '',
    rinse: '',
    rods: kind === 'neutralizer',
  };
}

/** What usually follows the rinse of a class (common practice, no source); the directions decide. */
export function usualFinishing(productClass: ProductClass | ''): StepDraft[] {
  if (productClass === 'hydroxide') return [stepDraft('shampoos'), stepDraft('condition')];
  if (productClass === 'thio') return [stepDraft('neutralizer'), stepDraft('condition')];
  return productClass === '' ? [] : [stepDraft('condition')];
}

/** An empty form. Only what is common practice or the salon's own habit is filled in; the product's minutes never are. */
export function blankDraft(): DirectionsDraft {
  return {
    name: '',
    source: '',
    class: '',
    nominal: '',
    minAfter: '',
    maxAfter: '',
    ceiling: '',
    minTotal: '',
    manner: 'whole-head',
    partCount: String(defaultParts.length),
    parts: defaultParts.map((part) => ({ place: part.place, share: numberText(part.share * 100), ceiling: '' })),
    firstTest: '',
    testEvery: '5',
    grace: '2',
    rinse: '',
    finishing: [],
    heat: 'never',
    heatMinAfter: '',
    heatMaxAfter: '',
    heatCeiling: '',
    heads: '',
    washAfter: '',
    colourAfter: '',
  };
}

const minutesOrBlank = (ms: Ms | null): string => (ms === null ? '' : minutesText(ms));
const numberOrBlank = (value: number | null): string => (value === null ? '' : numberText(value));

function draftOfStep(step: FinishingStep): StepDraft {
  const blank = stepDraft(step.kind);
  switch (step.kind) {
    case 'shampoos':
      return {
        ...blank,
        count: String(step.count),
        dwell: minutesText(step.dwellMs),
        proof: step.proof,
        stripLimit: numberOrBlank(step.stripLimit),
      };
    case 'neutralizer':
      return {
        ...blank,
        minAfter: minutesText(step.minAfterMs),
        maxAfter: minutesText(step.maxAfterMs),
        rinse: minutesText(step.rinseMs),
        rods: step.rods,
      };
    case 'condition':
      return { ...blank, dwell: minutesText(step.dwellMs) };
    default:
      return step satisfies never;
  }
}

/** Kept directions as a form shows them. */
export function draftOf(rules: Rules, name: string, source: string): DirectionsDraft {
  return {
    name,
    source,
    class: rules.class,
    nominal: minutesText(rules.nominalMs),
    minAfter: minutesText(rules.minAfterMs),
    maxAfter: minutesText(rules.maxAfterMs),
    ceiling: minutesOrBlank(rules.ceilingMs),
    minTotal: minutesOrBlank(rules.minTotalMs),
    manner: rules.manner,
    partCount: String(rules.parts.length),
    parts: rules.parts.map((part) => ({
      place: part.place,
      share: numberText(part.share * 100),
      ceiling: minutesOrBlank(part.ceilingMs),
    })),
    firstTest: minutesText(rules.firstTestMs),
    testEvery: minutesText(rules.testEveryMs),
    grace: minutesText(rules.graceMs),
    rinse: minutesText(rules.rinseMs),
    finishing: rules.finishing.map(draftOfStep),
    heat: rules.heat,
    heatMinAfter: minutesOrBlank(rules.underHeat?.minAfterMs ?? null),
    heatMaxAfter: minutesOrBlank(rules.underHeat?.maxAfterMs ?? null),
    heatCeiling: minutesOrBlank(rules.underHeat?.ceilingMs ?? null),
    heads: numberOrBlank(rules.headsPerContainer),
    washAfter: numberOrBlank(rules.washAfterHours),
    colourAfter: numberOrBlank(rules.colourAfterDays),
  };
}
