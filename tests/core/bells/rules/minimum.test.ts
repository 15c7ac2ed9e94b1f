import { describe, expect, it } from 'vitest';
import { dwell, water as waterBell } from '../../../../core/bells/rules/minimum.ts';
import { defaultFigures } from '../../../../core/salon/salon.ts';
import { facts, mark, min, pass, water } from '../../../support/pass-kit.ts';

const rinsing = pass({ applied: mark(15), water: water(28), firstWater: water(28) });

describe('minimum reached', () => {
  it('[R2] water: the rinse minimum, in rinse only', () => {
    expect(waterBell.from(facts('rinse', rinsing), defaultFigures)).toBe(min(33));
    expect(waterBell.from(facts('neutralize', rinsing), defaultFigures)).toBeNull();
    expect(waterBell.level(facts('rinse'))).toBe('NOTICE');
  });

  it('[R2] dwell: a shampoo in neutralize, the conditioner in condition, nothing elsewhere', () => {
    expect(dwell.from(facts('neutralize', rinsing, {}, 35), defaultFigures)).toBe(min(37));
    expect(dwell.from(facts('condition', rinsing, {}, 40), defaultFigures)).toBe(min(43));
    expect(dwell.from(facts('rinse', rinsing), defaultFigures)).toBeNull();
    expect(dwell.level(facts('condition'))).toBe('NOTICE');
  });
});
