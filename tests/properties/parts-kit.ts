import fc from 'fast-check';
import type { Rules } from '../../core/directions/rules.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import type { Pass } from '../../core/visit/visit.ts';
import { relaxer } from '../support/directions-kit.ts';
import { hands, mark, min, pass } from '../support/pass-kit.ts';

/** Whole seconds, as moments are recorded (T1). */
export const seconds = (least: number, most: number) => fc.integer({ min: least, max: most }).map((n) => n * SECOND);

/** Directions that the form would take: one to twelve equal parts, the last perhaps with an earlier ceiling of its own. */
export const someRules: fc.Arbitrary<Rules> = fc
  .record({
    count: fc.integer({ min: 1, max: 12 }),
    nominalMs: seconds(300, 2400),
    minAfterMs: seconds(0, 1200),
    spare: seconds(0, 900),
    over: seconds(60, 3600),
    own: fc.option(seconds(0, 1200), { nil: null }),
    minTotal: fc.option(seconds(60, 1800), { nil: null }),
  })
  .map(({ count, nominalMs, minAfterMs, spare, over, own, minTotal }) => {
    const ceilingMs = Math.max(minAfterMs, minTotal ?? 0) + over;
    const last = own === null ? null : Math.min(ceilingMs, minAfterMs + own);
    const parts = Array.from({ length: count }, (_, i) => ({
      place: 'other' as const,
      share: 1 / count,
      ceilingMs: i === count - 1 ? last : null,
    }));
    const maxAfterMs = Math.max(MINUTE, minAfterMs + spare);
    return relaxer({ nominalMs, minAfterMs, maxAfterMs, ceilingMs, minTotalMs: minTotal, parts });
  });

/** A head whose parts took so long each, one after another, by one pair of hands; all done. */
export function applied(rules: Rules, took: readonly number[]): Pass {
  let at = min(0);
  const parts = rules.parts.map((_, part) => {
    const begunAt = at;
    at += took[part % took.length] ?? MINUTE;
    return { part, begunAt, doneAt: at, by: null };
  });
  return pass({ parts, applied: { ...mark(0), at }, hands: [{ ...hands(0), freeAt: at }] }, rules);
}

export const lengths = fc.array(seconds(1, 900), { minLength: 12, maxLength: 12 });
