import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ceilingAt, certainClose, partWindows, windowOf } from '../../core/exposure/window.ts';
import { SECOND } from '../../core/time.ts';
import type { Pass } from '../../core/visit/visit.ts';
import { applied, lengths, seconds, someRules } from './parts-kit.ts';

const windows = (one: Pass) => {
  const window = windowOf(one, one.applied?.at ?? 0);
  if (window === null) throw new Error('no window');
  return { window, parts: partWindows(one) };
};
/** The same head, its application ended so much later, its last part with it. */
const later = (one: Pass, ms: number): Pass => ({
  ...one,
  applied: one.applied && { ...one.applied, at: one.applied.at + ms },
  parts: one.parts.map((part, i) => (i === one.parts.length - 1 ? { ...part, doneAt: part.doneAt + ms } : part)),
});

describe('windows of parts', () => {
  it('[E4] intersect to the window wherever there is room', () => {
    let roomy = 0;
    fc.assert(
      fc.property(someRules, lengths, (rules, took) => {
        const { window, parts } = windows(applied(rules, took));
        if (window.roomMs < 0) return;
        roomy += 1;
        expect(Math.max(...parts.map((part) => part.opensAt))).toBe(window.opensAt);
        expect(Math.min(...parts.map((part) => part.closesAt))).toBe(window.closesAt);
      }),
      { numRuns: 500 },
    );
    // Of random heads enough have room for this to say something.
    expect(roomy).toBeGreaterThan(20);
  });

  it('[E4] a second’s change of F moves each instant by at most a second, and none backwards', () => {
    fc.assert(
      fc.property(someRules, lengths, (rules, took) => {
        const one = applied(rules, took);
        const [before, after] = [windows(one), windows(later(one, SECOND))];
        const moved = [
          after.window.opensAt - before.window.opensAt,
          after.window.closesAt - before.window.closesAt,
          ...after.parts.flatMap((part, i) => [
            part.opensAt - (before.parts[i]?.opensAt ?? NaN),
            part.closesAt - (before.parts[i]?.closesAt ?? NaN),
          ]),
        ];
        expect(moved.every((ms) => ms >= 0 && ms <= SECOND)).toBe(true);
      }),
    );
  });

  it('[E3] finishing later never moves the close past what first touch allows', () => {
    fc.assert(
      fc.property(someRules, lengths, seconds(0, 7200), (rules, took, ms) => {
        const one = applied(rules, took);
        const { window } = windows(later(one, ms));
        expect(window.closesAt).toBeLessThanOrEqual((one.begun?.at ?? 0) + (rules.ceilingMs ?? 0));
        expect(window.closesAt).toBeLessThanOrEqual(ceilingAt(one) ?? 0);
      }),
    );
  });

  it('[E3] a part with a lower ceiling only brings it earlier', () => {
    fc.assert(
      fc.property(someRules, lengths, fc.nat({ max: 11 }), seconds(1, 3600), (rules, took, which, ceilingMs) => {
        const part = which % rules.parts.length;
        const parts = rules.parts.map((one, i) => (i === part ? { ...one, ceilingMs } : { ...one, ceilingMs: null }));
        const without = windows(applied({ ...rules, parts: parts.map((one) => ({ ...one, ceilingMs: null })) }, took));
        const { window } = windows(applied({ ...rules, parts }, took));
        expect(window.closesAt).toBeLessThanOrEqual(without.window.closesAt);
        expect(window.opensAt).toBe(without.window.opensAt);
      }),
    );
  });

  it('[E4] the close always wins: certain and told are the same, room or none, ready or not', () => {
    fc.assert(
      fc.property(someRules, lengths, fc.option(seconds(0, 3600), { nil: null }), (rules, took, ready) => {
        const head = applied(rules, took);
        const at = (head.applied?.at ?? 0) + (ready ?? 0);
        const test = { at, by: null, version: 9, place: 'first', result: 'ready', part: null } as const;
        const one: Pass = ready === null ? head : { ...head, tests: [test] };
        const { window } = windows(one);
        expect(window.closesAt).toBe(certainClose(one));
        expect(window.closesAt).toBeLessThanOrEqual(windows(head).window.closesAt);
        if (ready !== null) expect(window.closesAt).toBeLessThanOrEqual(at + rules.graceMs);
      }),
    );
  });
});
