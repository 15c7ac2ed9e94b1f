import type { ProductClass } from '../../../core/directions/product-class.ts';
import type { DirectionsId } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import type { Pass, VisitFacts } from '../../../core/visit/visit.ts';

/** What a client who leaves has on their hair, as far as anybody marked it. */
export interface OnTheHair {
  readonly class: ProductClass | null;
  readonly directions: DirectionsId | null;
  /** First touch; null when nobody knows (S2). */
  readonly sinceAt: EpochMs | null;
  readonly leftAt: EpochMs | null;
}

/** Null when by what was marked no product is on; that is then said, and nothing is promised. */
export function onTheHair(visit: VisitFacts): OnTheHair | null {
  const on = visit.passes.find((pass) => isOn(pass));
  if (on === undefined) return null;
  return {
    class: on.rules?.class ?? null,
    directions: on.directions,
    sinceAt: on.begun?.at ?? null,
    leftAt: visit.end === null ? null : (visit.way[visit.way.length - 1]?.at ?? null),
  };
}

function isOn(pass: Pass): boolean {
  return (pass.begun !== null || pass.beginUnknown) && pass.clear === null;
}
