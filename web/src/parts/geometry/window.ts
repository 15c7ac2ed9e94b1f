import { onAxis, stretch, xOf } from './axis.ts';
import type { Axis, Stretch } from './axis.ts';

/** A rinse window, or one part's. `opensAt` may be later than `closesAt`: no room (E4). */
export interface WindowTimes {
  readonly opensAt: number;
  readonly closesAt: number;
}

export type WindowPlace =
  /** The whole window lies beyond the end of the axis: said there in words, as "off by 14:55". */
  | { readonly kind: 'beyond' }
  /** It closed before the axis begins: only lateness is left to draw. */
  | { readonly kind: 'past' }
  /** A bracket that is off the axis is null; the other one still stands. */
  | { readonly kind: 'shown'; readonly openX: number | null; readonly closeX: number | null };

export function placeWindow(axis: Axis, window: WindowTimes, now: number): WindowPlace {
  const openX = xOf(axis, window.opensAt, now);
  const closeX = xOf(axis, window.closesAt, now);
  if (Math.max(openX, closeX) < 0) return { kind: 'past' };
  if (Math.min(openX, closeX) > axis.widthPx) return { kind: 'beyond' };
  return {
    kind: 'shown',
    openX: onAxis(axis, openX) ? openX : null,
    closeX: onAxis(axis, closeX) ? closeX : null,
  };
}

/** The closing bracket lies beyond the axis: its time is said at the right end. */
export function closesBeyond(axis: Axis, window: WindowTimes, now: number): boolean {
  return xOf(axis, window.closesAt, now) > axis.widthPx;
}

/** Air between those words and a bracket. */
const GAP_PX = 12;

/** Lateness: from the close, or the left end of the axis, to the now-line. Null before the close. */
export function latenessBeam(axis: Axis, closesAt: number, now: number): Stretch | null {
  return now > closesAt ? stretch(axis, closesAt, now, now) : null;
}

export interface Step {
  readonly window: WindowTimes;
  readonly topPx: number;
  readonly heightPx: number;
  readonly place: WindowPlace;
}

/** Part windows as a staircase, the first part on top; rows get shorter, never fewer. */
export function staircase(
  axis: Axis,
  windows: readonly WindowTimes[],
  now: number,
  box: { readonly topPx: number; readonly heightPx: number },
): readonly Step[] {
  const rowPx = box.heightPx / Math.max(1, windows.length);
  // A little of each row stays empty, so that neighbouring steps do not touch.
  return windows.map((window, row) => ({
    window,
    topPx: box.topPx + row * rowPx,
    heightPx: rowPx * 0.85,
    place: placeWindow(axis, window, now),
  }));
}

/**
 * Right edge of the words that stand for a close beyond the axis: at its end, or left of the opening bracket where
 * they would cover it.
 */
export function beyondWordsRight(axis: Axis, place: WindowPlace, wordsPx: number): number {
  const openX = place.kind === 'shown' ? place.openX : null;
  if (openX === null || openX < axis.widthPx - wordsPx - GAP_PX) return axis.widthPx;
  return openX - GAP_PX;
}
