import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { certainClose, partWindows, windowOf } from '../../core/exposure/window.ts';
import type { Rules } from '../../core/directions/rules.ts';
import { checkRules } from '../../core/directions/check.ts';
import { MINUTE } from '../../core/time.ts';
import type { Pass } from '../../core/visit/visit.ts';
import { relaxer } from '../support/directions-kit.ts';
import { NOON } from '../support/floor-life.ts';
import { mark, min, partsDone, pass } from '../support/pass-kit.ts';

const minutes = (least: number, most: number) => fc.integer({ min: least, max: most }).map((one) => one * MINUTE);

/** Directions that the check lets through, with two to six parts, some under a ceiling of their own. */
const rules: fc.Arbitrary<Rules> = fc
  .record({
    nominalMs: minutes(5, 40),
    minAfterMs: minutes(0, 20),
    extra: minutes(1, 20),
    ceilingMs: fc.option(minutes(20, 80)),
    minTotalMs: fc.option(minutes(1, 20)),
    ceilings: fc.array(fc.option(minutes(20, 60)), { minLength: 2, maxLength: 6 }),
  })
  .map(({ extra, ceilings, ...one }) =>
    relaxer({
      ...one,
      class: one.ceilingMs === null ? 'colour' : 'thio',
      maxAfterMs: one.minAfterMs + extra,
      parts: ceilings.map((ceilingMs) => ({
        place: 'other',
        share: 1 / ceilings.length,
        ceilingMs: ceilingMs === null || one.ceilingMs === null ? ceilingMs : Math.min(ceilingMs, one.ceilingMs),
      })),
    }),
  )
  .filter((one) => checkRules(one).length === 0);

/** A pass whose parts were done one after another, some perhaps never marked; applied a while after the last mark. */
const applied: fc.Arbitrary<Pass> = rules.chain((one) =>
  fc
    .tuple(fc.array(fc.integer({ min: 1, max: 12 }), { maxLength: one.parts.length }), fc.nat(12))
    .map(([lengths, rest]) => {
      let at = 0;
      const parts = partsDone(...lengths.map((length) => (at += length)));
      return pass({ parts, applied: mark(lengths.length === one.parts.length ? at : at + rest) }, one);
    }),
);

describe('windows', () => {
  it('[E4] part windows intersect to the window wherever there is room', () => {
    let withRoom = 0;
    fc.assert(
      fc.property(applied, (one) => {
        const window = windowOf(one, NOON);
        const parts = partWindows(one);
        if (window === null) throw new Error('a pass that was applied has a window');
        if (window.roomMs < 0) return;
        withRoom += 1;
        expect(Math.max(...parts.map((part) => part.opensAt))).toBe(window.opensAt);
        expect(Math.min(...parts.map((part) => part.closesAt))).toBe(window.closesAt);
      }),
    );
    expect(withRoom).toBeGreaterThan(10);
  });

  it('[E3] finishing later never moves the close past what first touch allows', () => {
    fc.assert(
      fc.property(applied, fc.nat(60), (one, later) => {
        const certain = certainClose({ ...one, applied: null });
        const finished = one.applied === null ? 0 : (one.applied.at - NOON) / MINUTE;
        const close = windowOf({ ...one, applied: mark(finished + later) }, NOON)?.closesAt ?? NaN;
        expect(close).toBeGreaterThanOrEqual(windowOf(one, NOON)?.closesAt ?? NaN);
        if (certain !== null && one.parts.length > 0) expect(close).toBeLessThanOrEqual(certain);
        const head = one.rules?.ceilingMs ?? null;
        if (head !== null) expect(close).toBeLessThanOrEqual(NOON + head);
      }),
    );
  });

  it('[E3] a part under a lower ceiling only brings the close earlier', () => {
    fc.assert(
      fc.property(applied, fc.nat(5), minutes(20, 60), (one, part, ceilingMs) => {
        if (one.rules === null) throw new Error('unknown product');
        const parts = one.rules.parts.map((plan, i) =>
          i === part % (one.rules?.parts.length ?? 1)
            ? { ...plan, ceilingMs: Math.min(ceilingMs, plan.ceilingMs ?? Infinity, one.rules?.ceilingMs ?? Infinity) }
            : plan,
        );
        const lower = { ...one, rules: { ...one.rules, parts } };
        expect(windowOf(lower, NOON)?.closesAt).toBeLessThanOrEqual(windowOf(one, NOON)?.closesAt ?? NaN);
        expect(windowOf(lower, NOON)?.opensAt).toBe(windowOf(one, NOON)?.opensAt);
      }),
    );
  });

  it('[E7] while application runs the expected end never lies before now, and what is certain does not move', () => {
    fc.assert(
      fc.property(applied, fc.integer({ min: 0, max: 90 }), fc.integer({ min: 0, max: 30 }), (one, at, later) => {
        const running = { ...one, applied: null };
        const window = windowOf(running, min(at));
        expect(window?.appliedAt).toBeGreaterThanOrEqual(min(at));
        expect(window?.expected).toBe(true);
        expect(windowOf(running, min(at + later))?.opensAt).toBeGreaterThanOrEqual(window?.opensAt ?? NaN);
        const certain = certainClose(running);
        if (certain !== null) expect(window?.closesAt).toBeLessThanOrEqual(certain);
      }),
    );
  });
});
