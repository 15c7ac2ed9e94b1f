import type { FinishingStep, Rules } from '../../directions/rules.ts';

/** The seven stages of a service and its end (S1). */
export const stages = ['prep', 'apply', 'process', 'rinse', 'neutralize', 'condition', 'dry', 'finished'] as const;
export type Stage = (typeof stages)[number];

/** One step on a visit's way: a stage of one pass. */
export interface Step {
  readonly stage: Stage;
  /** Index of the pass; dry and finished belong to the last. */
  readonly pass: number;
}

/** The stage in which a finishing step is done. */
export function stageOf(step: FinishingStep): 'neutralize' | 'condition' {
  return step.kind === 'condition' ? 'condition' : 'neutralize';
}

/**
 * The way through a visit (S1, S10): per pass prep, apply, process, rinse and the finishing steps in its
 * directions' order; then dry, finished. A pass whose rules are unknown has no finishing steps.
 */
export function itinerary(passes: readonly { readonly rules: Rules | null }[]): readonly Step[] {
  const way: Step[] = [];
  const planned = passes.length === 0 ? [{ rules: null }] : passes;
  planned.forEach(({ rules }, pass) => {
    for (const stage of ['prep', 'apply', 'process', 'rinse'] as const) way.push({ stage, pass });
    for (const step of rules?.finishing ?? []) way.push({ stage: stageOf(step), pass });
  });
  const last = planned.length - 1;
  way.push({ stage: 'dry', pass: last }, { stage: 'finished', pass: last });
  return way;
}

/** Where a step lies on the way; -1 when it is not on it. */
export function indexOnWay(way: readonly Step[], step: Step): number {
  return way.findIndex((one) => one.stage === step.stage && one.pass === step.pass);
}
