import { nowX, onAxis, xOf } from './axis.ts';
import type { Axis } from './axis.ts';

/**
 * Single instants on a lane: until when application must end (P3), when it is expected to (P2), when a strand wants testing
 * (E6) and when one was tested.
 */
export interface LaneMark {
  readonly kind: 'finish-by' | 'finish' | 'test-due' | 'tested';
  readonly at: number;
}

export interface MarkOnAxis extends LaneMark {
  readonly x: number;
}

/** Nearer to the now-line than this an expected finish would only say "now", px. */
const TOO_NEAR_PX = 3;

/** The marks that lie on the axis, and where. */
export function placeMarks(axis: Axis, marks: readonly LaneMark[], now: number): readonly MarkOnAxis[] {
  return marks
    .map((mark) => ({ ...mark, x: xOf(axis, mark.at, now) }))
    .filter(({ kind, x }) => onAxis(axis, x) && (kind !== 'finish' || x > nowX(axis) + TOO_NEAR_PX));
}
