import { describe, expect, it } from 'vitest';
import { CAP_HEIGHT, DIGIT_HEIGHT } from '../../../web/src/parts/geometry/typeface.ts';
import { lanesThatFit, wallLayout } from '../../../web/src/wall/layout.ts';

const tv = { diagonalInches: 43, widthPx: 1920, heightPx: 1080, distanceM: 5 };
/** Measured in the typeface: the longest deed that has a number, and the longest number, em of their own type. */
const KEEP_RINSING = 5.763;
const TWELVE_OVER_UNSURE = 4.17;

describe('sizes of the wall', () => {
  it('[W1] 8 chairs: lanes of 96 px, a band of two lines', () => {
    expect(wallLayout(tv, 8)).toMatchObject({ lanePx: 96, bandLines: 2, bandPx: 152, topPx: 160, tooSmall: false });
  });
  it('[W1] 12 chairs: lanes of 76 px, a band of one line, and no thirteenth', () => {
    expect(wallLayout(tv, 12)).toMatchObject({ lanePx: 76, bandLines: 1, bandPx: 76, tooSmall: false });
    expect(lanesThatFit(tv)).toBe(12);
  });
  it.each([1, 2, 8, 11, 12])(
    '[W1] %d chairs: a row of pixels to spare over 59 px digits and 47 px capitals',
    (chairs) => {
      const { digitTypePx, capitalTypePx } = wallLayout(tv, chairs);
      expect(digitTypePx * DIGIT_HEIGHT).toBeCloseTo(60, 6);
      expect(capitalTypePx * CAP_HEIGHT).toBeCloseTo(48, 6);
    },
  );
  it('twice the pixels paint everything twice as large', () => {
    const dense = wallLayout({ ...tv, widthPx: 3840, heightPx: 2160 }, 12);
    expect(dense.lanePx).toBeGreaterThanOrEqual(150);
    expect(dense.axisPx).toBeGreaterThan(1.9 * wallLayout(tv, 12).axisPx);
  });
});

describe('columns and heights', () => {
  const screens = [
    { ...tv },
    { ...tv, widthPx: 3840, heightPx: 2160 },
    { ...tv, diagonalInches: 65, distanceM: 3 },
    { ...tv, widthPx: 1080, heightPx: 1920 },
    { ...tv, widthPx: 1280, heightPx: 720, diagonalInches: 24 },
  ];
  it.each(screens)('all fit side by side and above each other: $widthPx × $heightPx, $diagonalInches″', (screen) => {
    for (const chairs of [1, 2, 5, 8, 12]) {
      const shown = Math.min(chairs, lanesThatFit(screen));
      const one = wallLayout(screen, shown);
      const wide = 2 * one.padPx + one.platePx + one.blockPx + one.wordsPx + one.axisPx + one.whoPx + 4 * one.gapPx;
      expect(wide).toBeLessThanOrEqual(screen.widthPx + 4);
      expect(one.topPx + shown * one.lanePx + one.bandPx).toBeLessThanOrEqual(screen.heightPx);
      expect(one.axisPx).toBeGreaterThan(0);
      expect(one.whoPx).toBeGreaterThan(0);
    }
  });
  it('the longest deed stands beside a number', () => {
    const one = wallLayout(tv, 12);
    expect(KEEP_RINSING * one.capitalTypePx + 2 * one.digitTypePx).toBeLessThan(one.wordsPx);
    expect(4.5 * one.capitalTypePx + TWELVE_OVER_UNSURE * one.digitTypePx).toBeLessThan(one.wordsPx);
  });
  it('a screen too small for its distance says so and still shows a chair', () => {
    const far = { ...tv, distanceM: 60 };
    expect(lanesThatFit(far)).toBe(1);
    expect(wallLayout(far, 1).tooSmall).toBe(true);
  });
  it('[W1] a nearer wall paints larger than it must, as long as the same chairs fit', () => {
    const near = { ...tv, diagonalInches: 65, distanceM: 3 };
    expect(wallLayout(near, 8).digitTypePx).toBeGreaterThan(2 * 23.4);
    expect(wallLayout(near, 8).tooSmall).toBe(false);
  });
});
