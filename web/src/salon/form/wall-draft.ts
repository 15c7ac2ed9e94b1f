import type { WallSize } from '../../../../core/salon/salon.ts';
import { arcminOf, heightMm, DIGIT_ARCMIN, pxMm, wallPlan, type WallPlan } from '../../parts/geometry/reading.ts';
import { faultAt, type FieldFault } from './fault.ts';
import { numberText, numberTyped } from './minutes.ts';

/** Least and most that the server takes (shared/schemas/salon.ts; a test holds the two together). */
export const wallLimits = { diagonalIn: [5, 200], distanceM: [0.3, 30] } as const satisfies Record<
  keyof WallSize,
  readonly [number, number]
>;

export interface WallDraft {
  diagonalIn: string;
  distanceM: string;
}

export function wallDraftOf(wall: WallSize): WallDraft {
  return { diagonalIn: numberText(wall.diagonalIn), distanceM: numberText(wall.distanceM) };
}

export function readWall(draft: WallDraft): { readonly wall: WallSize | null; readonly faults: readonly FieldFault[] } {
  const faults: FieldFault[] = [];
  const read = (field: keyof WallSize): number => {
    const [least, most] = wallLimits[field];
    const typed = numberTyped(draft[field]);
    if (typed.kind === 'empty') faults.push(faultAt(field, 'missing'));
    else if (typed.kind === 'not') faults.push(faultAt(field, 'not-number'));
    else if (typed.value < least || typed.value > most) {
      faults.push(faultAt(field, 'out-of-range', String(least), String(most)));
    }
    return typed.kind === 'value' ? typed.value : least;
  };
  const wall = { diagonalIn: read('diagonalIn'), distanceM: read('distanceM') };
  return { wall: faults.length === 0 ? wall : null, faults };
}

export interface PageSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

export interface WallReading extends WallPlan {
  readonly pixelMm: number;
  /** What the angle demands, and what the whole px above it give. */
  readonly digitMm: number;
  readonly paintedMm: number;
  readonly paintedArcmin: number;
}

/** What the wall will do for so many chairs (W1). */
export function readingOf(wall: WallSize, page: PageSize, chairs: number): WallReading {
  const screen = { diagonalInches: wall.diagonalIn, distanceM: wall.distanceM, ...page };
  const plan = wallPlan(screen, chairs);
  const pixelMm = pxMm(screen);
  const paintedMm = plan.digitPx * pixelMm;
  return {
    ...plan,
    pixelMm,
    digitMm: heightMm(wall.distanceM, DIGIT_ARCMIN),
    paintedMm,
    paintedArcmin: arcminOf(paintedMm, wall.distanceM),
  };
}

/** The longest round length that fits: the longer, the finer a tape tells. Null when even the shortest does not. */
export function tapeBar(pixelMm: number, roomPx: number): { readonly mm: number; readonly px: number } | null {
  const mm = [500, 300, 200, 100, 50, 20].find((length) => length / pixelMm <= roomPx);
  return mm === undefined ? null : { mm, px: mm / pixelMm };
}
