/*
 * Source: the definition pH = −log10 a(H+) (IUPAC, Recommendations 2002, Pure Appl. Chem. 74, 2169), and the ionic product of
 * water, pKw = 14.00 at 25 °C (textbook value, from memory). What people are shown is a reading on that scale and whether
 * it counts as neutral; the pH of a relaxer, about 13.5, and of a shampoo, about 4.5, are common practice, no source.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { shampoosWanted } from '../../core/exposure/finishing.ts';
import { STRIP_FIRST, stepStrip } from '../../web/src/chair/strip.ts';
import { mark, pass } from '../support/pass-kit.ts';

const activityOf = (ph: number): number => 10 ** -ph;
const phOf = (activity: number): number => -Math.log10(activity);

describe('pH, as it is shown', () => {
  it('[S5] the strip begins at neutral water and steps within the scale that water has', () => {
    const ionicProduct = activityOf(14);
    expect(STRIP_FIRST).toBe(phOf(Math.sqrt(ionicProduct)));
    expect([stepStrip(14, 1), stepStrip(0, -1)]).toEqual([14, 0]);
    // Half a step is a factor of √10 in activity.
    const [lower, higher] = [stepStrip(STRIP_FIRST, -1), stepStrip(STRIP_FIRST, 1)];
    expect(activityOf(lower) / activityOf(STRIP_FIRST)).toBeCloseTo(Math.sqrt(10), 9);
    expect(activityOf(STRIP_FIRST) / activityOf(higher)).toBeCloseTo(Math.sqrt(10), 9);
  });

  it('[S5] from a relaxer’s 13.5 to a shampoo’s 4.5 are nine units, a factor of 10⁹; a limit of 7 parts them', () => {
    expect(phOf(activityOf(13.5) * 1e9)).toBeCloseTo(4.5, 9);
    const step = { kind: 'shampoos', count: 1, dwellMs: 0, proof: 'strip', stripLimit: 7 } as const;
    const wanted = (strip: number) =>
      shampoosWanted(pass({ shampoos: [{ ...mark(30), indicator: null, strip }] }), step);
    expect([wanted(phOf(activityOf(13.5))), wanted(phOf(activityOf(13.5) * 1e9))]).toEqual([2, 1]);
  });

  it('[S5] no screen tells a factor, so that there is none to check', () => {
    const folder = new URL('../../web/src/words/en/', import.meta.url);
    const words = readdirSync(folder).map((name) => readFileSync(new URL(name, folder), 'utf8'));
    expect(words.join('\n')).toMatch(/pH \$\{ph\}/);
    expect(words.filter((text) => /\b(factor|billion|times (as|more)|10\^|10⁹)/i.test(text))).toEqual([]);
  });
});
