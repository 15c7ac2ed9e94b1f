import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectedFinishAt, expectedPartMs, lateFrom } from '../../core/exposure/pace.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import type { Pass } from '../../core/visit/visit.ts';
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

/**
 * List scheduling, written anew: in steps of one hand at a time. Every pair is busy with its own part first; then the open
 * parts are handed out in the order of the plan, each to whoever is free first, tried by looking at all of them.
 */
function byHand(head: Pass, now: number): number {
  const open = (head.rules?.parts ?? []).map((_, i) => i).filter((i) => !head.parts.some((one) => one.part === i));
  const ends: number[] = [];
  const queue = head.hands.map((one) => one.freeAt).sort((a, b) => a - b);
  const working = queue
    .slice(0, open.length)
    .map((from, i) => from + Math.max(expectedPartMs(head, open[i] ?? 0), now - from));
  ends.push(...working);
  const free = [...working];
  for (const part of open.slice(working.length)) {
    const least = Math.min(...free);
    const end = least + expectedPartMs(head, part);
    free[free.indexOf(least)] = end;
    ends.push(end);
  }
  return Math.max(now, ...ends);
}

describe('the expected finish', () => {
  it('[P2] is that of list scheduling with one to three pairs of hands', () => {
    fc.assert(
      fc.property(someHead, ({ head, now }) => {
        expect(Math.abs((expectedFinishAt(head, now) ?? 0) - byHand(head, now))).toBeLessThanOrEqual(1);
      }),
      { numRuns: 500 },
    );
  });

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

describe('the pace bell', () => {
  it('[P4] has at most two episodes per part under any sequence of marks', () => {
    let rang = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 8 }),
        fc.array(seconds(1, 500), { minLength: 8, maxLength: 8 }),
        (count, waits) => {
          const parts = Array.from({ length: count }, () => ({
            place: 'other' as const,
            share: 1 / count,
            ceilingMs: null,
          }));
          const life = FloorLife.salon(relaxer({ parts }));
          const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
          const episodes = () => life.facts(v).episodes.find((one) => one.cause === 'pace')?.episode ?? 0;
          for (let part = 0; part < count; part += 1) {
            const before = episodes();
            life.pass((waits[part] ?? SECOND) / MINUTE);
            if (life.facts(v).stage === 'apply') life.do({ type: 'MarkPartDone', visit: v, part });
            expect(episodes() - before).toBeLessThanOrEqual(2);
          }
          rang += episodes() > 0 ? 1 : 0;
        },
      ),
      { numRuns: 60 },
    );
    expect(rang).toBeGreaterThan(5);
  });
});
