import { describe, expect, it } from 'vitest';
import { bellLevels } from '../../../core/bells/level.ts';
import { levelBlockPath, notchPx } from '../../../web/src/parts/geometry/level-block.ts';

const size = { widthPx: 48, heightPx: 84 };

describe('the level block', () => {
  it('[W2] has 0, 1, 2, 3 notches from NOTICE to DANGER', () => {
    const cuts = bellLevels.map((level) => [...levelBlockPath(level, size, 2).matchAll(/H35V/g)].length);
    expect(cuts).toEqual([0, 1, 2, 3]);
  });
  it('[W2] notches are square and evenly spread', () => {
    expect(levelBlockPath('CAUTION', size, 2)).toBe('M1 1H47V36H35V48H47V83H1Z');
    expect(levelBlockPath('DANGER', size, 2)).toBe('M1 1H47V15H35V27H47V36H35V48H47V57H35V69H47V83H1Z');
  });
  it('a flat block has smaller notches rather than touching ones', () => {
    const flat = { widthPx: 60, heightPx: 70 };
    expect(notchPx(flat)).toBe(10);
    expect(3 * notchPx(flat)).toBeLessThan(flat.heightPx / 2);
  });
});
