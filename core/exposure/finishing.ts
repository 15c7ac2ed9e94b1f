import type { ConditionStep, NeutralizerStep, ShampooStep } from '../directions/rules.ts';
import type { EpochMs } from '../time.ts';
import { stageBegan, type Pass, type Shampoo, type VisitFacts } from '../visit/visit.ts';

/** The neutralize step of a pass's directions, if there is one. */
export function neutralizeStep(pass: Pass): ShampooStep | NeutralizerStep | null {
  for (const step of pass.rules?.finishing ?? []) if (step.kind !== 'condition') return step;
  return null;
}

export function conditionStep(pass: Pass): ConditionStep | null {
  for (const step of pass.rules?.finishing ?? []) if (step.kind === 'condition') return step;
  return null;
}

/** Whether a shampoo shows that the hair is not neutral yet: a coloured lather, or a strip above the limit (S5). */
export function failed(shampoo: Shampoo, step: ShampooStep): boolean {
  if (shampoo.indicator === 'coloured') return true;
  return shampoo.strip !== null && step.stripLimit !== null && shampoo.strip > step.stripLimit;
}

/** Shampoos wanted: the directions' count and one more for each that failed when it could have been the last (S5). */
export function shampoosWanted(pass: Pass, step: ShampooStep): number {
  let wanted = step.count;
  pass.shampoos.forEach((shampoo, i) => {
    if (i + 1 >= step.count && failed(shampoo, step)) wanted = Math.max(wanted, i + 2);
  });
  return wanted;
}

/** When the present shampoo went on: at the one before, or as the stage began; after a rinse in between, the latter. */
export function shampooOnAt(visit: VisitFacts, pass: Pass): EpochMs {
  const last = pass.shampoos[pass.shampoos.length - 1];
  return Math.max(stageBegan(visit), last?.at ?? 0);
}

/** Whether a shampoo of this stay at the basin was marked before its dwell was over (S4). */
export function shampooCutShort(visit: VisitFacts, pass: Pass, step: ShampooStep): boolean {
  const beganAt = stageBegan(visit);
  return pass.shampoos.some((shampoo, i) => {
    const onAt = Math.max(beganAt, pass.shampoos[i - 1]?.at ?? 0);
    return shampoo.at >= beganAt && shampoo.at - onAt < step.dwellMs;
  });
}

/** Window of a neutralizer from its last touch (S1); null until it is on or once its water is. */
export function neutralizerWindow(pass: Pass): { readonly opensAt: EpochMs; readonly closesAt: EpochMs } | null {
  const step = neutralizeStep(pass);
  if (step?.kind !== 'neutralizer' || pass.neutralizerOn === null || pass.neutralizerWater !== null) return null;
  return { opensAt: pass.neutralizerOn.at + step.minAfterMs, closesAt: pass.neutralizerOn.at + step.maxAfterMs };
}

/**
 * When the minimum of the present step is reached: rinse, shampoo dwell, a neutralizer's rinse, conditioner.
 * Null where the stage has none, or its clock has not begun.
 */
export function minimumAt(visit: VisitFacts): EpochMs | null {
  const pass = visit.passes[visit.pass];
  if (pass === undefined) return null;
  switch (visit.stage) {
    case 'rinse':
      return pass.water === null || pass.rules === null ? null : pass.water.at + pass.rules.rinseMs;
    case 'neutralize': {
      const step = neutralizeStep(pass);
      if (step === null) return null;
      if (step.kind === 'neutralizer')
        return pass.neutralizerWater === null ? null : pass.neutralizerWater.at + step.rinseMs;
      return pass.shampoos.length >= shampoosWanted(pass, step) ? null : shampooOnAt(visit, pass) + step.dwellMs;
    }
    case 'condition': {
      const step = conditionStep(pass);
      return step === null ? null : stageBegan(visit) + step.dwellMs;
    }
    case 'prep':
    case 'apply':
    case 'process':
    case 'dry':
    case 'finished':
      return null;
    default:
      return visit.stage satisfies never;
  }
}
