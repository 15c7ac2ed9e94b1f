import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliDecompressSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { arcminOf, heightMm, pxMm, readingSizes, wallPlan } from '../../../web/src/parts/geometry/reading.ts';
import { plateTypePx } from '../../../web/src/parts/geometry/plate.ts';
import { CAP_HEIGHT, DIGIT_ADVANCE, DIGIT_HEIGHT } from '../../../web/src/parts/geometry/typeface.ts';
import { repository } from '../support/source.ts';

const tv = { diagonalInches: 43, widthPx: 1920, heightPx: 1080, distanceM: 5 };

describe('height from the angle of sight', () => {
  // mm for 16′, 18′, 20′, 22′, 24′, computed from H = 2 d tan(α/2), the form used with ISO 9241-303 clause 5.5.
  it.each([
    [1, [4.65, 5.24, 5.82, 6.4, 6.98]],
    [3, [13.96, 15.71, 17.45, 19.2, 20.94]],
    [5, [23.27, 26.18, 29.09, 32.0, 34.91]],
    [8, [37.23, 41.89, 46.54, 51.2, 55.85]],
  ])('[W1] agrees with the table at %d m', (distance, row) => {
    row.forEach((mm, n) => expect(heightMm(distance, 16 + 2 * n)).toBeCloseTo(mm, 2));
  });
  it('[W1] agrees with the form of NUREG-0700, H = 6.283 D MA / 21600', () => {
    expect(heightMm(5, 20)).toBeCloseTo((6.283 * 5000 * 20) / 21600, 1);
  });
  it('[W1] the rule of thumb distance / 200 is only 17.2 arc minutes', () => {
    expect(arcminOf(5000 / 200, 5)).toBeCloseTo(17.2, 1);
  });
});

describe('sizes on a screen', () => {
  it('[W1] 43 inches, 1080 lines, 5 m: digits 59 px, capitals 47 px', () => {
    expect(pxMm(tv)).toBeCloseTo(0.4958, 4);
    expect(readingSizes(tv)).toMatchObject({ digitPx: 59, capitalPx: 47 });
  });
  it('[W1] are never rounded below the angle', () => {
    for (const distanceM of [3, 4.2, 5, 6.7]) {
      const { digitPx, capitalPx } = readingSizes({ ...tv, distanceM });
      expect(arcminOf(digitPx * pxMm(tv), distanceM)).toBeGreaterThanOrEqual(20);
      expect(arcminOf(capitalPx * pxMm(tv), distanceM)).toBeGreaterThanOrEqual(16);
      expect(arcminOf((digitPx - 1) * pxMm(tv), distanceM)).toBeLessThan(20);
    }
  });
  it('[W1] more lines on the same glass want more pixels', () => {
    expect(readingSizes({ ...tv, widthPx: 3840, heightPx: 2160 }).digitPx).toBe(118);
  });
  it('[W1] type size follows from the painted height', () => {
    const { digitPx, digitTypePx } = readingSizes(tv);
    expect(digitTypePx * DIGIT_HEIGHT).toBeCloseTo(digitPx, 9);
  });
});

describe('how many chairs a wall carries', () => {
  it('[W1] 43 inches at 5 m: 8 chairs with lanes of 96 px and two lines for the basins', () => {
    expect(wallPlan(tv, 8)).toMatchObject({ lanePx: 96, bandLines: 2, bandPx: 152, walls: 1 });
  });
  it('[W1] 12 chairs with lanes of 76 px and one line are the limit of one column', () => {
    expect(wallPlan(tv, 12)).toMatchObject({ lanePx: 76, bandLines: 1, bandPx: 76, lanesPerWall: 12, walls: 1 });
  });
  it('[W1] 13 and 20 chairs need two walls, 25 three', () => {
    expect([13, 20, 24, 25].map((chairs) => wallPlan(tv, chairs).walls)).toEqual([2, 2, 2, 3]);
  });
  it('[W1] the same lines on larger glass, or nearer, carry more', () => {
    expect(wallPlan({ ...tv, diagonalInches: 75 }, 20).walls).toBe(1);
    expect(wallPlan({ ...tv, distanceM: 3 }, 20).walls).toBe(1);
  });
  it('[W1] a screen too small for its distance carries none and says 0 walls', () => {
    expect(wallPlan({ ...tv, diagonalInches: 7 }, 1)).toMatchObject({ lanesPerWall: 0, walls: 0 });
  });
  it('[W1] lanes, top and band fill the height and no more', () => {
    for (let chairs = 1; chairs <= 12; chairs += 1) {
      const { topPx, lanePx, bandPx } = wallPlan(tv, chairs);
      expect(topPx + chairs * lanePx + bandPx).toBe(1080);
      expect(topPx).toBeGreaterThanOrEqual(92);
    }
  });
});

/** Reads one untransformed table of a WOFF2 file (W3C Recommendation "WOFF File Format 2.0", section 5). */
function fontTables(file: Buffer): Map<number, Buffer> {
  const HEAD = 1;
  const OS2 = 6;
  let at = 48;
  const varint = () => {
    let value = 0;
    for (;;) {
      const byte = file[at++]!;
      value = value * 128 + (byte & 127);
      if (byte < 128) return value;
    }
  };
  const lengths: [number, number][] = [];
  for (let n = file.readUInt16BE(12); n > 0; n -= 1) {
    const flags = file[at++]!;
    const tag = flags & 63;
    if (tag === 63) at += 4;
    const original = varint();
    const isOutline = tag === 10 || tag === 11;
    const transformed = isOutline ? flags >> 6 !== 3 : flags >> 6 !== 0;
    lengths.push([tag, transformed ? varint() : original]);
  }
  const data = brotliDecompressSync(file.subarray(at, at + file.readUInt32BE(20)));
  const tables = new Map<number, Buffer>();
  let offset = 0;
  for (const [tag, length] of lengths) {
    if (tag === HEAD || tag === OS2) tables.set(tag, data.subarray(offset, offset + length));
    offset += length;
  }
  return tables;
}

it('[W1] the typeface’s capital height is the one written in the font file', () => {
  const path = 'node_modules/@fontsource-variable/public-sans/files/public-sans-latin-wght-normal.woff2';
  const tables = fontTables(readFileSync(join(repository, path)));
  const unitsPerEm = tables.get(1)!.readUInt16BE(18);
  const capHeight = tables.get(6)!.readInt16BE(88);
  expect(CAP_HEIGHT).toBe(capHeight / unitsPerEm);
  // Flat digits are as high as capitals in this face; the painted digit is measured in a browser.
  expect(DIGIT_HEIGHT).toBe(CAP_HEIGHT);
});

describe('a plate’s label', () => {
  it('fills the height when it is short and the width when it is long', () => {
    expect(plateTypePx('1', 120, 84)).toBeCloseTo((84 * 0.6) / DIGIT_HEIGHT, 9);
    expect(plateTypePx('1024', 120, 84)).toBeCloseTo((120 * 0.84) / (4 * DIGIT_ADVANCE), 9);
  });
  it('never runs over its tile, not even with four wide letters', () => {
    expect(plateTypePx('WWWW', 120, 84) * 4 * 0.969).toBeLessThanOrEqual(120 * 0.84);
  });
});
