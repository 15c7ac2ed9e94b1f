import { HOUR, MINUTE, type Ms } from '../time.ts';
import { stageOf } from '../visit/stages/stage.ts';
import { classTraits } from './product-class.ts';
import type { FinishingStep, Rules } from './rules.ts';

/** One thing wrong with entered directions: the field and a code that the screens put into words. */
export interface RulesFault {
  readonly field: string;
  readonly fault:
    | 'ceiling-missing'
    | 'max-below-min'
    | 'ceiling-below-min'
    | 'out-of-range'
    | 'parts-count'
    | 'shares-sum'
    | 'part-ceiling-above-head'
    | 'place-twice'
    | 'heat-later'
    | 'step-twice'
    | 'strip-limit-missing';
}

/** No timed step of a salon service is longer than this (common practice, no source). */
const LONGEST_STEP: Ms = 3 * HOUR;

/** All that is wrong with the figures; an empty list means they can be used (E3, E4, S1). */
export function checkRules(rules: Rules): RulesFault[] {
  return [
    ...rangeFaults(rules),
    ...windowFaults(rules),
    ...heatFaults(rules),
    ...partFaults(rules),
    ...finishingFaults(rules.finishing),
  ];
}

function rangeFaults(rules: Rules): RulesFault[] {
  const faults: RulesFault[] = [];
  const within = (field: string, value: Ms | null, least: Ms): void => {
    if (value === null) return;
    if (!Number.isInteger(value) || value < least || value > LONGEST_STEP)
      faults.push({ field, fault: 'out-of-range' });
  };
  within('nominalMs', rules.nominalMs, MINUTE);
  within('minAfterMs', rules.minAfterMs, 0);
  within('maxAfterMs', rules.maxAfterMs, MINUTE);
  within('ceilingMs', rules.ceilingMs, MINUTE);
  within('minTotalMs', rules.minTotalMs, MINUTE);
  within('firstTestMs', rules.firstTestMs, 0);
  within('testEveryMs', rules.testEveryMs, MINUTE / 2);
  within('graceMs', rules.graceMs, 0);
  within('rinseMs', rules.rinseMs, 0);
  rules.parts.forEach((part, i) => within(`parts.${i}.ceilingMs`, part.ceilingMs, MINUTE));
  if (rules.underHeat !== null) {
    within('underHeat.minAfterMs', rules.underHeat.minAfterMs, 0);
    within('underHeat.maxAfterMs', rules.underHeat.maxAfterMs, MINUTE);
    within('underHeat.ceilingMs', rules.underHeat.ceilingMs, MINUTE);
  }
  rules.finishing.forEach((step, i) => {
    if (step.kind !== 'neutralizer') return within(`finishing.${i}.dwellMs`, step.dwellMs, 0);
    within(`finishing.${i}.minAfterMs`, step.minAfterMs, 0);
    within(`finishing.${i}.maxAfterMs`, step.maxAfterMs, MINUTE);
    within(`finishing.${i}.rinseMs`, step.rinseMs, 0);
  });
  return faults;
}

function windowFaults(rules: Rules): RulesFault[] {
  const faults: RulesFault[] = [];
  if (rules.maxAfterMs < rules.minAfterMs) faults.push({ field: 'maxAfterMs', fault: 'max-below-min' });
  if (rules.ceilingMs === null) {
    if (classTraits[rules.class].wantsCeiling) faults.push({ field: 'ceilingMs', fault: 'ceiling-missing' });
  } else if (rules.ceilingMs < Math.max(rules.minAfterMs, rules.minTotalMs ?? 0)) {
    faults.push({ field: 'ceilingMs', fault: 'ceiling-below-min' });
  }
  return faults;
}

/**
 * Figures under heat are limits like the others: each fault of theirs carries their name (E10). Heat makes a product work
 * faster: none of them may come later than the same one without, for heat never spoken of counts as heat.
 */
function heatFaults(rules: Rules): RulesFault[] {
  const { underHeat } = rules;
  if (underHeat === null) return [];
  const faults = windowFaults({ ...rules, ...underHeat });
  const said = new Set(faults.map(({ field }) => field));
  for (const field of ['minAfterMs', 'maxAfterMs', 'ceilingMs'] as const) {
    const [cold, warm] = [rules[field], underHeat[field]];
    const later = cold !== null && (warm === null || warm > cold);
    if (later && !said.has(field)) faults.push({ field, fault: 'heat-later' });
  }
  return faults.map(({ field, fault }) => ({ field: `underHeat.${field}`, fault }));
}

function partFaults(rules: Rules): RulesFault[] {
  const faults: RulesFault[] = [];
  const count = rules.parts.length;
  if (count < 1 || count > 12) faults.push({ field: 'parts', fault: 'parts-count' });
  const sum = rules.parts.reduce((total, part) => total + part.share, 0);
  // Shares are typed as decimals, so thirds miss 1 by a hundredth at most; in thousandths, for fractions never meet a border.
  const missed = Math.round(Math.abs(sum - 1) * 1000);
  if (rules.parts.some((part) => !(part.share > 0)) || missed > 11) {
    faults.push({ field: 'parts', fault: 'shares-sum' });
  }
  rules.parts.forEach((part, i) => {
    // Two parts of one name cannot be told apart at the chair; only `other` is told by its number.
    const first = rules.parts.findIndex((one) => one.place === part.place);
    if (part.place !== 'other' && first < i) faults.push({ field: `parts.${i}.place`, fault: 'place-twice' });
    if (part.ceilingMs === null) return;
    if (part.ceilingMs < rules.minAfterMs) faults.push({ field: `parts.${i}.ceilingMs`, fault: 'ceiling-below-min' });
    if (rules.ceilingMs !== null && part.ceilingMs > rules.ceilingMs) {
      faults.push({ field: `parts.${i}.ceilingMs`, fault: 'part-ceiling-above-head' });
    }
  });
  return faults;
}

function finishingFaults(steps: readonly FinishingStep[]): RulesFault[] {
  const faults: RulesFault[] = [];
  const seen = new Set<string>();
  steps.forEach((step, i) => {
    const stage = stageOf(step);
    if (seen.has(stage)) faults.push({ field: `finishing.${i}`, fault: 'step-twice' });
    seen.add(stage);
    if (step.kind === 'neutralizer' && step.maxAfterMs < step.minAfterMs) {
      faults.push({ field: `finishing.${i}.maxAfterMs`, fault: 'max-below-min' });
    }
    if (step.kind === 'shampoos' && step.proof === 'strip' && step.stripLimit === null) {
      faults.push({ field: `finishing.${i}.stripLimit`, fault: 'strip-limit-missing' });
    }
  });
  return faults;
}
