import type { Stage } from '../../../../core/visit/stages/stage.ts';
import { stretch } from './axis.ts';
import type { Axis } from './axis.ts';

/** One stage a head has been in; `untilAt` null: it is in it now. */
export interface StageSpan {
  readonly stage: Stage;
  readonly fromAt: number;
  readonly untilAt: number | null;
}

export interface RailPiece {
  readonly stage: Stage;
  readonly x: number;
  readonly widthPx: number;
  /** History goes on left of the axis: the edge is drawn torn. */
  readonly torn: boolean;
}

/** Past and present stages as far as the axis shows them; nothing is drawn right of now. */
export function railPieces(axis: Axis, spans: readonly StageSpan[], now: number): readonly RailPiece[] {
  const pieces: RailPiece[] = [];
  for (const { stage, fromAt, untilAt } of spans) {
    const piece = stretch(axis, fromAt, Math.min(untilAt ?? now, now), now);
    if (piece) pieces.push({ stage, x: piece.x, widthPx: piece.widthPx, torn: piece.cutLeft });
  }
  return pieces;
}

/** Outline of a piece; a torn one has a zigzag left edge. `gapPx` parts it from its right neighbour. */
export function railPath(piece: RailPiece, topPx: number, heightPx: number, gapPx: number): string {
  const left = piece.x;
  const right = Math.max(left, piece.x + piece.widthPx - gapPx);
  const bottom = topPx + heightPx;
  if (!piece.torn) return `M${left} ${topPx}H${right}V${bottom}H${left}Z`;
  const tooth = Math.min(heightPx / 2, right - left);
  const middle = topPx + heightPx / 2;
  const quarter = heightPx / 4;
  return (
    `M${left} ${topPx}H${right}V${bottom}H${left}` +
    `L${left + tooth} ${bottom - quarter}L${left} ${middle}L${left + tooth} ${topPx + quarter}Z`
  );
}
