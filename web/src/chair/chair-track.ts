import type { VisitFacts } from '../../../core/visit/visit.ts';
import { axisAtScale, onAxis, xOf, type Axis } from '../parts/geometry/axis.ts';
import type { StageSpan } from '../parts/geometry/rail.ts';

/** Below these widths the axis is a phone's, or stands beside the head map: less past, more minutes to the pixel. */
const PHONE_PX = 520;
const BESIDE_PX = 1000;
/** The wall's scale, 24 px to the minute; on a phone the same window must still be seen. */
const CHAIR_SCALE = 24;
const BESIDE_SCALE = 18;
const PHONE_SCALE = 9;

/** The axis of one head. Its scale is fixed, so that a bracket travels at one speed all the time. */
export function chairAxis(widthPx: number): Axis {
  if (widthPx < PHONE_PX) return axisAtScale(widthPx, PHONE_SCALE, 5);
  return widthPx < BESIDE_PX ? axisAtScale(widthPx, BESIDE_SCALE, 5) : axisAtScale(widthPx, CHAIR_SCALE, 8);
}

/** The stages a head has been through, each until the next. */
export function stageSpans(visit: VisitFacts): readonly StageSpan[] {
  return visit.way.map(({ stage, at }, index) => ({ stage, fromAt: at, untilAt: visit.way[index + 1]?.at ?? null }));
}

/** Where a mark is drawn; null when it lies off the axis. */
export function markX(axis: Axis, at: number | null, now: number): number | null {
  if (at === null) return null;
  const x = xOf(axis, at, now);
  return onAxis(axis, x) ? x : null;
}
