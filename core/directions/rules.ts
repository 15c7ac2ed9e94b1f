import type { Ms } from '../time.ts';
import type { ProductClass } from './product-class.ts';

/** Where on the head a part lies, seen from behind the client; `other` has only its place in the order. */
export const partPlaces = ['nape-left', 'nape-right', 'front-left', 'front-right', 'hairline', 'other'] as const;
export type PartPlace = (typeof partPlaces)[number];

/** One part (section) of the head in the order in which it is done. */
export interface PartPlan {
  readonly place: PartPlace;
  /** Share of the whole head's application time, over 0 to 1; the shares of a plan sum to 1. */
  readonly share: number;
  /** This part's own longest time on hair from its first touch, if shorter than the head's. */
  readonly ceilingMs: Ms | null;
}

/** Neutralizing shampoos after a relaxer: at least `count` washes, each left on for `dwellMs`. */
export interface ShampooStep {
  readonly kind: 'shampoos';
  readonly count: number;
  readonly dwellMs: Ms;
  /** What shows the end: an indicator in the lather gone colourless, a pH strip, or only the count. */
  readonly proof: 'indicator' | 'strip' | 'count';
  /** Highest pH that counts as neutral on a strip, 0 to 14; null without strips. */
  readonly stripLimit: number | null;
}

/** A neutralizer after a perm: a timed product with a window of its own, counted from its last touch. */
export interface NeutralizerStep {
  readonly kind: 'neutralizer';
  readonly minAfterMs: Ms;
  readonly maxAfterMs: Ms;
  readonly rinseMs: Ms;
  /** Whether rods come out during this step. */
  readonly rods: boolean;
}

/** Conditioner left on for at least `dwellMs`. */
export interface ConditionStep {
  readonly kind: 'condition';
  readonly dwellMs: Ms;
}

export type FinishingStep = ShampooStep | NeutralizerStep | ConditionStep;

/** What replaces the limits of the same names once heat was on, or may have been (E10). */
export interface HeatLimits {
  readonly minAfterMs: Ms;
  readonly maxAfterMs: Ms;
  readonly ceilingMs: Ms | null;
}

/**
 * The timings and rules of one product, copied from its directions by the salon. Every figure is the
 * salon's own entry; no published table of minutes by hair or strength exists. All lengths in ms.
 */
export interface Rules {
  readonly class: ProductClass;
  /** Planned application of the whole head, first touch to last. */
  readonly nominalMs: Ms;
  /** Least and most from the end of application. */
  readonly minAfterMs: Ms;
  readonly maxAfterMs: Ms;
  /** Longest on hair from first touch; entered, never derived (E3). */
  readonly ceilingMs: Ms | null;
  /** Least on hair from first touch, where the leaflet counts so (E2). */
  readonly minTotalMs: Ms | null;
  /** Whether the head comes off as a whole, or part by part as with foils (E4). */
  readonly manner: 'whole-head' | 'by-part';
  readonly parts: readonly PartPlan[];
  /** Strand tests: first one after the end of application, then every; grace after "ready" (E6). */
  readonly firstTestMs: Ms;
  readonly testEveryMs: Ms;
  readonly graceMs: Ms;
  /** Least time under water. */
  readonly rinseMs: Ms;
  /** neutralize and condition, in the directions' order; either may be absent, none twice. */
  readonly finishing: readonly FinishingStep[];
  readonly heat: 'never' | 'allowed' | 'required';
  /** Own figures under heat, where heat is allowed and the directions give them (E10). */
  readonly underHeat: HeatLimits | null;
  /** Heads one container serves; null when not said. */
  readonly headsPerContainer: number | null;
  /** Hours before the next wash, days before or after colour; null when not said (L1, L2). */
  readonly washAfterHours: number | null;
  readonly colourAfterDays: number | null;
}

/** Four parts, nape first (common practice, no source). */
export const defaultParts: readonly PartPlan[] = [
  { place: 'nape-left', share: 0.25, ceilingMs: null },
  { place: 'nape-right', share: 0.25, ceilingMs: null },
  { place: 'front-left', share: 0.25, ceilingMs: null },
  { place: 'front-right', share: 0.25, ceilingMs: null },
];
