import { describe, expect, it } from 'vitest';
import { wallAxis } from '../../../web/src/parts/geometry/axis.ts';
import { railPath, railPieces } from '../../../web/src/parts/geometry/rail.ts';

const MINUTE = 60_000;
const NOW = 1_800_000_000_000;
const axis = wallAxis(648);
const at = (minutes: number) => NOW + minutes * MINUTE;

describe('the stage rail', () => {
  it('ends at now, and what is cut on the left is torn', () => {
    const pieces = railPieces(
      axis,
      [
        { stage: 'prep', fromAt: at(-30), untilAt: at(-12) },
        { stage: 'apply', fromAt: at(-12), untilAt: at(-2) },
        { stage: 'process', fromAt: at(-2), untilAt: null },
      ],
      NOW,
    );
    expect(pieces).toEqual([
      { stage: 'apply', x: 0, widthPx: 72, torn: true },
      { stage: 'process', x: 72, widthPx: 48, torn: false },
    ]);
  });
  it('draws nothing right of now, even if a stage is recorded a little ahead', () => {
    expect(railPieces(axis, [{ stage: 'dry', fromAt: at(-1), untilAt: at(3) }], NOW)).toEqual([
      { stage: 'dry', x: 96, widthPx: 24, torn: false },
    ]);
    expect(railPieces(axis, [{ stage: 'dry', fromAt: at(1), untilAt: null }], NOW)).toEqual([]);
  });
  it('a whole piece is a bar, a torn one has teeth', () => {
    const piece = { stage: 'dry', x: 10, widthPx: 30, torn: false } as const;
    expect(railPath(piece, 50, 8, 2)).toBe('M10 50H38V58H10Z');
    expect(railPath({ ...piece, x: 0, torn: true }, 50, 8, 2)).toBe('M0 50H28V58H0L4 56L0 54L4 52Z');
  });
});
