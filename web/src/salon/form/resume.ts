/** What the first start asks for, in order: no more than seating a first client needs. */
export const firstSteps = ['salon', 'chairs', 'basins', 'people', 'directions', 'service'] as const;
export type FirstStep = (typeof firstSteps)[number];

/** How much of it is stored. Counts are of what is not retired. */
export interface SetUpSoFar {
  readonly setUp: boolean;
  readonly chairs: number;
  readonly basins: number;
  readonly people: number;
  readonly directions: number;
  readonly services: number;
}

export function stepDone(step: FirstStep, so: SetUpSoFar): boolean {
  switch (step) {
    case 'salon':
      return so.setUp;
    case 'chairs':
      return so.chairs > 0;
    case 'basins':
      return so.basins > 0;
    case 'people':
      return so.people > 0;
    case 'directions':
      return so.directions > 0;
    case 'service':
      return so.services > 0;
    default:
      return step satisfies never;
  }
}

/** The step to go on with, wherever the page was left; null once all are done. */
export function nextStep(so: SetUpSoFar): FirstStep | null {
  return firstSteps.find((step) => !stepDone(step, so)) ?? null;
}

/** A step that cannot be opened yet: a service is made from directions. */
export function stepWaits(step: FirstStep, so: SetUpSoFar): boolean {
  return step === 'service' && so.directions === 0 && so.services === 0;
}
