import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedFinishAt, lateFrom } from '../../core/exposure/pace.ts';
import { latestFinish } from '../../core/exposure/window.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife } from '../support/floor-life.ts';
import { hands, min, pass } from '../support/pass-kit.ts';
import { seconds } from './parts-kit.ts';

/** A head in apply: some parts done by one to three pairs of hands, in rounds; `now` after the last mark. */
const someHead = fc
  .record({
    shares: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 2, maxLength: 8 }),
    marked: fc.integer({ min: 1, max: 7 }),
    pairs: fc.integer({ min: 1, max: 3 }),
    took: fc.array(seconds(1, 600), { minLength: 8, maxLength: 8 }),
    wait: seconds(0, 1200),
  })
  .map(({ shares, marked, pairs, took, wait }) => {
    const sum = shares.reduce((a, b) => a + b, 0);
    const plan = shares.map((one) => ({ place: 'other' as const, share: one / sum, ceilingMs: null }));
    const free = Array.from({ length: pairs }, () => min(0));
    const parts = Array.from({ length: Math.min(marked, shares.length - 1) }, (_, part) => {
      const who = part % pairs;
      const begunAt = free[who] ?? 0;
      const doneAt = begunAt + (took[part] ?? SECOND);
      free[who] = doneAt;
      return { part, begunAt, doneAt, by: null };
    });
    const head = pass({ parts, hands: free.map((at) => ({ ...hands(0), freeAt: at })) }, relaxer({ parts: plan }));
    return { head, now: Math.max(...free) + wait };
  });

describe('the expected finish', () => {
  it('[P2] never falls as time passes, and is never before now', () => {
    fc.assert(
      fc.property(someHead, fc.array(seconds(1, 300), { minLength: 1, maxLength: 12 }), ({ head, now }, waits) => {
        let at = now;
        let before = expectedFinishAt(head, at) ?? 0;
        for (const wait of waits) {
          at += wait;
          const after = expectedFinishAt(head, at) ?? 0;
          expect(after).toBeGreaterThanOrEqual(Math.max(before, at));
          before = after;
        }
      }),
    );
  });

  it('[P4] the search finds the first late second: not late a second before', () => {
    fc.assert(
      fc.property(someHead, seconds(0, 3600), ({ head }, limit) => {
        const since = Math.max(...head.hands.map((one) => one.freeAt));
        const from = lateFrom(head, min(0) + limit) ?? 0;
        expect(expectedFinishAt(head, from)).toBeGreaterThan(min(0) + limit);
        if (from > since) expect(expectedFinishAt(head, from - SECOND)).toBeLessThanOrEqual(min(0) + limit);
      }),
    );
  });
});

/** One mark: which of the parts still open, how long after the one before, and how long ago it was done. */
interface Marked {
  readonly nth: number;
  readonly waitMs: number;
  readonly agoMs: number | null;
}
const marked: fc.Arbitrary<Marked> = fc.record({
  nth: fc.nat(11),
  waitMs: seconds(1, 500),
  agoMs: fc.oneof({ weight: 3, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: seconds(0, 900) }),
});

describe('the pace bell', () => {
  it('[P4] has at most two episodes per part under any sequence of marks', () => {
    let [rang, withdrawn] = [0, 0];
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 8 }),
        fc.array(marked, { minLength: 8, maxLength: 16 }),
        (shares, marks) => {
          const sum = shares.reduce((a, b) => a + b, 0);
          const parts = shares.map((one) => ({ place: 'other' as const, share: one / sum, ceilingMs: null }));
          const life = FloorLife.salon(relaxer({ parts }));
          const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
          const episodes = () => life.facts(v).episodes.find((one) => one.cause === 'pace')?.episode ?? 0;
          for (const { nth, waitMs, agoMs } of marks) {
            life.pass(waitMs / MINUTE);
            const before = episodes();
            const stood = life.bells(v).includes(`pace CAUTION #${before}`);
            const done = life.facts(v).passes[0]?.parts.map((one) => one.part) ?? [];
            const open = parts.map((_, part) => part).filter((part) => !done.includes(part));
            const part = open[nth % Math.max(1, open.length)] ?? 0;
            // One told with a time before first touch is refused, and one of half an hour ago kept as said.
            const happenedAt = agoMs === null ? null : life.now - agoMs;
            life.send({ type: 'MarkPartDone', visit: v, part }, { happenedAt });
            expect(episodes() - before).toBeLessThanOrEqual(stood ? 0 : 1);
            if (life.facts(v).stage === 'apply') {
              // Once it rings, it stands until there is a minute to spare.
              const pass = life.facts(v).passes[0];
              const latest = pass === undefined ? null : latestFinish(pass, life.floor.salon.figures);
              const spare = (latest ?? NaN) - ((pass && expectedFinishAt(pass, life.now)) ?? NaN);
              const stands = life.facts(v).bells.some((bell) => bell.cause === 'pace');
              expect(stands).toBe(spare < (stood ? MINUTE : 0));
            }
            withdrawn += stood && life.facts(v).stage === 'apply' && life.bells(v).length === 0 ? 1 : 0;
          }
          life.pass(60);
          expect(episodes()).toBeLessThanOrEqual(2 * parts.length);
          rang += episodes() > 0 ? 1 : 0;
        },
      ),
      { numRuns: 150 },
    );
    expect(rang).toBeGreaterThan(20);
    expect(withdrawn).toBeGreaterThan(5);
  });

  it('[P4] does not flutter: while nothing is marked it rings once and stands', () => {
    fc.assert(
      fc.property(seconds(1, 500), seconds(60, 1200), (took, minAfterMs) => {
        const life = FloorLife.salon(relaxer({ minAfterMs, maxAfterMs: minAfterMs + 5 * MINUTE }));
        const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
        life.pass(took / MINUTE).do({ type: 'MarkPartDone', visit: v, part: null });
        const [from, before] = [life.log.length, life.facts(v).bells.some((bell) => bell.cause === 'pace')];
        life.pass(120);
        const since = life.log.slice(from).map(({ event }) => event);
        const ended = since.filter((one) => one.type === 'BellEnded' && one.cause === 'pace');
        const rung = since.filter((one) => one.type === 'BellRung' && one.cause === 'pace');
        expect([ended.length, rung.length]).toEqual([0, before ? 0 : 1]);
        expect(life.facts(v).bells.map((bell) => bell.cause)).toContain('pace');
      }),
      { numRuns: 60 },
    );
  });
});
