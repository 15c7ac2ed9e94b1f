/*
 * Source: IEC 60601-1-8, tables 2 and 3 (from secondary sources): gap between bursts of a high priority signal 2.5–15 s, of a
 * medium one 2.5–30 s, of a low one over 15 s or none. ANSI Z535.4-2007, 4.14: DANGER, WARNING, CAUTION, NOTICE in this
 * order. Both are borrowed as an order of urgency; this is no medical alarm system.
 */
import { describe, expect, it } from 'vitest';
import { repeatEvery } from '../../core/bells/bell.ts';
import { bellLevels, rankOf } from '../../core/bells/level.ts';

/** Which published priority each level follows, and the gap that is published for it, in seconds. */
const published = {
  DANGER: { least: 2.5, most: 15 },
  WARNING: { least: 2.5, most: 30 },
  CAUTION: { least: 2.5, most: 30 },
} as const;

describe('published alarm signals', () => {
  it.each(['DANGER', 'WARNING', 'CAUTION'] as const)('[R5] %s repeats within the published gap', (level) => {
    const gap = repeatEvery[level] / 1000;
    expect(gap).toBeGreaterThanOrEqual(published[level].least);
    expect(gap).toBeLessThanOrEqual(published[level].most);
  });

  it('[R5] NOTICE, as low priority, has no repetition at all', () => {
    expect(repeatEvery.NOTICE).toBeNull();
  });

  it('[R2] the words stand in the order of ANSI Z535.4', () => {
    const published4 = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE'] as const;
    expect([...bellLevels].reverse()).toEqual(published4);
    expect(published4.map(rankOf)).toEqual([3, 2, 1, 0]);
  });

  it('[R5] the more urgent never repeats more slowly', () => {
    expect(repeatEvery.DANGER).toBeLessThan(repeatEvery.WARNING);
    expect(repeatEvery.WARNING).toBeLessThan(repeatEvery.CAUTION);
  });
});
