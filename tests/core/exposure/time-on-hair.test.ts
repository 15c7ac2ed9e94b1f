import { describe, expect, it } from 'vitest';
import { offHairAt, timeOnHair } from '../../../core/exposure/time-on-hair.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { mark, min, pass, water } from '../../support/pass-kit.ts';

const SURE = 60 * SECOND;
const wet = (basin: number | null, changes = {}) =>
  pass({ applied: mark(15), water: water(28, basin), firstWater: water(28, basin), ...changes });

describe('time on hair', () => {
  it('[E1] of the first strand counts from first touch, of the last from the end of application', () => {
    expect(timeOnHair(pass(), min(7), SURE)).toEqual({ firstMs: 7 * MINUTE, lastMs: null, running: true });
    expect(timeOnHair(pass({ applied: mark(15) }), min(20), SURE)).toEqual({
      firstMs: 20 * MINUTE,
      lastMs: 5 * MINUTE,
      running: true,
    });
  });

  it('[E1] runs until water has been on for 60 s at a known basin', () => {
    expect(offHairAt(wet(91), SURE)).toBe(min(29));
    expect(timeOnHair(wet(91), min(29) - 1, SURE)).toMatchObject({ running: true, firstMs: 29 * MINUTE - 1 });
    expect(timeOnHair(wet(91), min(29), SURE)).toEqual({ firstMs: 29 * MINUTE, lastMs: 14 * MINUTE, running: false });
    expect(timeOnHair(wet(91), min(50), SURE)).toMatchObject({ running: false, firstMs: 29 * MINUTE });
  });

  it('[E1] without a known basin it runs until the water is clear', () => {
    expect(offHairAt(wet(null), SURE)).toBeNull();
    expect(timeOnHair(wet(null), min(40), SURE)).toMatchObject({ running: true, firstMs: 40 * MINUTE });
    expect(offHairAt(wet(null, { clear: mark(33) }), SURE)).toBe(min(33));
  });

  it('[E1] whichever is first: clear water ends it before the 60 s are over', () => {
    expect(offHairAt(wet(91, { clear: mark(28.5) }), SURE)).toBe(min(28.5));
    expect(offHairAt(wet(91, { clear: mark(35) }), SURE)).toBe(min(29));
  });

  it('[E1] a rinse repeated much later does not put product back on the hair', () => {
    expect(offHairAt(wet(91, { water: water(60, 92, 2) }), SURE)).toBe(min(29));
    expect(offHairAt(wet(null, { water: water(60, 92, 2) }), SURE)).toBe(min(61));
  });

  it('[E1] is never negative and is not said without a first touch', () => {
    expect(timeOnHair(pass({ applied: mark(15) }), min(-1), SURE)).toEqual({ firstMs: 0, lastMs: 0, running: true });
    expect(timeOnHair(pass({ begun: null, beginUnknown: true }), min(5), SURE)).toBeNull();
  });
});
