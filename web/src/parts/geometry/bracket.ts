import type { Sureness } from '../../../../core/visit/headline.ts';

export interface BracketShape {
  readonly topPx: number;
  readonly heightPx: number;
  /** Length of the corner's horizontal arm. */
  readonly armPx: number;
  /** Length of a corner's vertical arm where only corners are drawn. */
  readonly cornerPx: number;
}

/** Proportions that read alike on the wall and on a phone; the short ones of a staircase keep their arms. */
export function bracketShape(topPx: number, heightPx: number): BracketShape {
  return { topPx, heightPx, armPx: Math.max(8, heightPx * 0.24), cornerPx: Math.max(2, heightPx * 0.24) };
}

/**
 * One half of a window as an SVG path. `side` 1 opens to the right ("["), −1 to the left ("]"). Firm and
 * uncertain are whole (uncertain is dashed by the stroke); expected has its corners only.
 */
export function bracketPath(x: number, side: 1 | -1, shape: BracketShape, sureness: Sureness): string {
  const { topPx: top, heightPx, armPx, cornerPx } = shape;
  const bottom = top + heightPx;
  const arm = x + side * armPx;
  if (sureness !== 'expected') return `M${arm} ${top}H${x}V${bottom}H${arm}`;
  const corner = Math.min(cornerPx, heightPx / 2);
  return `M${arm} ${top}H${x}V${top + corner}M${x} ${bottom - corner}V${bottom}H${arm}`;
}
