import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { currentPass, productOn, stageBegan, stageLimit } from '../../../core/visit/visit.ts';
import { facts, mark, min, pass } from '../../support/pass-kit.ts';

describe('what follows from the facts', () => {
  it('[X4] product is on from first touch, known or not, until it is seen off', () => {
    expect(productOn(facts('prep', pass({ begun: null })))).toBe(false);
    expect(productOn(facts('apply'))).toBe(true);
    expect(productOn(facts('rinse', pass({ begun: null, beginUnknown: true })))).toBe(true);
    expect(productOn(facts('dry', pass({ clear: mark(33) })))).toBe(false);
    expect(productOn(facts('finished'))).toBe(false);
  });

  it('[S10] the present pass', () => {
    expect(currentPass(facts('apply'))).toEqual(pass());
    expect(currentPass(facts('apply', null))).toBeNull();
  });

  it('[R2] a stage began where the way says, else at the seating, and has its own limit', () => {
    expect(stageBegan(facts('apply', pass(), {}, 4))).toBe(min(4));
    expect(stageBegan(facts('apply', pass(), { way: [] }))).toBe(min(-10));
    const limits = [{ stage: 'apply', limitMs: 20 * MINUTE }] as const;
    expect(stageLimit(facts('apply', pass(), { limits }))).toBe(20 * MINUTE);
    expect(stageLimit(facts('dry', pass(), { limits }))).toBeNull();
  });
});
