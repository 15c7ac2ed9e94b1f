import { defaultParts, type Rules } from '../../core/directions/rules.ts';
import { MINUTE } from '../../core/time.ts';

/**
 * A hydroxide relaxer with the figures of common practice (no published source): whole head applied in 15 min,
 * processing 10 to 15 min after that, two neutralizing shampoos, no wash for 48 h, no colour for a week. The ceiling of
 * 30 min, the rinse of 5 and the dwells are invented for tests. No strand test comes before the close, so that other rules are
 * seen by themselves; `tested` has them.
 */
export function relaxer(changes: Partial<Rules> = {}): Rules {
  return {
    class: 'hydroxide',
    nominalMs: 15 * MINUTE,
    minAfterMs: 10 * MINUTE,
    maxAfterMs: 15 * MINUTE,
    ceilingMs: 30 * MINUTE,
    minTotalMs: null,
    manner: 'whole-head',
    parts: defaultParts,
    firstTestMs: 60 * MINUTE,
    testEveryMs: 5 * MINUTE,
    graceMs: 2 * MINUTE,
    rinseMs: 5 * MINUTE,
    finishing: [
      { kind: 'shampoos', count: 2, dwellMs: 2 * MINUTE, proof: 'indicator', stripLimit: null },
      { kind: 'condition', dwellMs: 3 * MINUTE },
    ],
    heat: 'never',
    underHeat: null,
    headsPerContainer: 3,
    washAfterHours: 48,
    colourAfterDays: 7,
    ...changes,
  };
}

/** A perm with a timed neutralizer; figures invented for tests. */
export function perm(changes: Partial<Rules> = {}): Rules {
  return relaxer({
    class: 'thio',
    finishing: [
      { kind: 'neutralizer', minAfterMs: 5 * MINUTE, maxAfterMs: 10 * MINUTE, rinseMs: 3 * MINUTE, rods: true },
      { kind: 'condition', dwellMs: 3 * MINUTE },
    ],
    ...changes,
  });
}

/** A colour without a ceiling; figures invented for tests. */
export function colour(changes: Partial<Rules> = {}): Rules {
  return relaxer({
    class: 'colour',
    ceilingMs: null,
    minAfterMs: 20 * MINUTE,
    maxAfterMs: 30 * MINUTE,
    finishing: [{ kind: 'condition', dwellMs: 3 * MINUTE }],
    ...changes,
  });
}

/** Strand tests from 5 min after the end of application, every 5 min, grace 2 (the defaults of the rules, E6). */
export const tested = {
  firstTestMs: 5 * MINUTE,
  testEveryMs: 5 * MINUTE,
  graceMs: 2 * MINUTE,
} as const satisfies Partial<Rules>;

/** Heat allowed, with own figures under it; figures invented for tests. */
export const warmed = {
  heat: 'allowed',
  underHeat: { minAfterMs: 6 * MINUTE, maxAfterMs: 9 * MINUTE, ceilingMs: 20 * MINUTE },
} as const satisfies Partial<Rules>;
