/**
 * The shared time axis. All lanes of a screen use the same one, so that two brackets above each other are two
 * heads that want a basin at once. Now stands still; everything else moves left. Lengths in CSS px, spans in ms.
 */
export interface Axis {
  readonly widthPx: number;
  /** How much of the past is shown, left of the now-line. */
  readonly pastMs: number;
  readonly aheadMs: number;
}

const MINUTE = 60_000;

/** The wall's axis: −5 to +22 minutes. */
export function wallAxis(widthPx: number): Axis {
  return { widthPx, pastMs: 5 * MINUTE, aheadMs: 22 * MINUTE };
}

/** An axis with a given number of px to the minute, as long as the width allows. */
export function axisAtScale(widthPx: number, pxPerMinute: number, pastMinutes: number): Axis {
  const pastMs = pastMinutes * MINUTE;
  return { widthPx, pastMs, aheadMs: (widthPx / pxPerMinute) * MINUTE - pastMs };
}

export function pxPerMs(axis: Axis): number {
  return axis.widthPx / (axis.pastMs + axis.aheadMs);
}

/** Where an instant lies, unclipped: below 0 is left of the axis, above widthPx beyond its end. */
export function xOf(axis: Axis, at: number, now: number): number {
  return (at - now + axis.pastMs) * pxPerMs(axis);
}

/** The now-line; it never moves. */
export function nowX(axis: Axis): number {
  return axis.pastMs * pxPerMs(axis);
}

export function onAxis(axis: Axis, x: number): boolean {
  return x >= 0 && x <= axis.widthPx;
}

export interface Tick {
  readonly x: number;
  /** Whole minutes from now; 0 is the now-line. */
  readonly minutes: number;
}

/** Ticks relative to now: −5, 0, +5 … as far as the axis reaches. */
export function ticks(axis: Axis, everyMinutes = 5): readonly Tick[] {
  const step = everyMinutes * MINUTE;
  const list: Tick[] = [];
  for (let n = Math.ceil(-axis.pastMs / step); n * step <= axis.aheadMs; n += 1) {
    list.push({ x: xOf(axis, n * step, 0), minutes: n * everyMinutes + 0 });
  }
  return list;
}

export interface Stretch {
  readonly x: number;
  readonly widthPx: number;
  /** It goes on left of the axis (history is cut) or right of it. */
  readonly cutLeft: boolean;
  readonly cutRight: boolean;
}

/** The visible part of a span; null when none of it is on the axis. */
export function stretch(axis: Axis, fromAt: number, untilAt: number, now: number): Stretch | null {
  const from = xOf(axis, fromAt, now);
  const until = xOf(axis, untilAt, now);
  if (until <= 0 || from >= axis.widthPx || until <= from) return null;
  const x = Math.max(0, from);
  return { x, widthPx: Math.min(axis.widthPx, until) - x, cutLeft: from < 0, cutRight: until > axis.widthPx };
}

/** Strokes stay crisp when they lie on whole device pixels. */
export function snap(x: number, pixelRatio = 1): number {
  return Math.round(x * pixelRatio) / pixelRatio;
}
