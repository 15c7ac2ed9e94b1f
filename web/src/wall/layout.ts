import { wallPlan } from '../parts/geometry/reading.ts';
import { CAP_HEIGHT, DIGIT_HEIGHT } from '../parts/geometry/typeface.ts';
import type { WallPlan, WallScreen } from '../parts/geometry/reading.ts';

/** Columns of a lane and heights of the wall, CSS px. */
export interface WallLayout {
  readonly digitTypePx: number;
  readonly capitalTypePx: number;
  /** Read from 2 m: whose, axis labels, the small line. */
  readonly smallTypePx: number;
  readonly topPx: number;
  readonly lanePx: number;
  readonly bandPx: number;
  readonly bandLines: 1 | 2;
  readonly padPx: number;
  readonly platePx: number;
  readonly blockPx: number;
  readonly wordsPx: number;
  readonly axisPx: number;
  readonly whoPx: number;
  readonly gapPx: number;
  readonly strokePx: number;
  /** Type is smaller than W1 asks: this screen is too small or too narrow for its distance. */
  readonly tooSmall: boolean;
}

/** How many lanes of a readable size one screen carries; at least one is shown, however small. */
export function lanesThatFit(screen: WallScreen): number {
  return Math.max(1, wallPlan(screen, 1).lanesPerWall);
}

// In heights of a digit. The words' column takes the longest deed and "+12 min?", measured in the typeface.
const PLATE = 2.04;
const BLOCK = 0.86;
const WORDS = 11.6;
const AXIS = 11;
const AXIS_LEAST = 6;
const WHO = 3.9;
const WHO_LEAST = 2.6;
const GAP = 0.3;
const PAD = 0.27;
/** A glyph that lies between two rows of pixels loses one to smoothing; W1 counts what is painted. */
const EDGE_ROW_PX = 1;
/** Beyond this lanes look lost in their height. */
const TALLEST_LANE = 2.4;
const TALLEST_TOP = 2.8;
/** Bigger type is worth it from here on; below, the sizes that follow from the angle stay as they are. */
const WORTH_GROWING = 1.15;
const GROW_STEP = 1.03;
const GROW_MOST = 6;

/** Fixed width of a lane besides words and axis: pads, plate, block, whose, the gaps between. */
function fixedPx(digitPx: number, who: number): number {
  return digitPx * (2 * PAD + PLATE + BLOCK + who + 4 * GAP);
}

function fitsWide(digitPx: number, widthPx: number): boolean {
  return fixedPx(digitPx, WHO) + digitPx * (WORDS + AXIS) <= widthPx;
}

/**
 * A screen nearer or larger than it must be paints everything larger, as long as the same chairs and all columns fit:
 * W1 is a least size, not a wish. Reckoned as if it were read from farther away.
 */
function grownDistance(screen: WallScreen, chairs: number, plan: WallPlan): number {
  let best = 1;
  for (let by = GROW_STEP; by <= GROW_MOST; by *= GROW_STEP) {
    const larger = wallPlan({ ...screen, distanceM: screen.distanceM * by }, chairs);
    const asMany = Math.min(chairs, larger.lanesPerWall) === Math.min(chairs, plan.lanesPerWall);
    if (!asMany || larger.bandLines < plan.bandLines || !fitsWide(larger.digitPx, screen.widthPx)) break;
    best = by;
  }
  return best >= WORTH_GROWING ? screen.distanceM * best : screen.distanceM;
}

/** Type that a too narrow screen still has room for; the angle of W1 is then missed, which the wall says. */
function narrowed(plan: WallPlan, widthPx: number): number {
  const least = fixedPx(plan.digitPx, WHO_LEAST) + plan.digitPx * (WORDS + AXIS_LEAST);
  return Math.min(1, widthPx / least);
}

interface Columns {
  readonly whoPx: number;
  readonly axisPx: number;
  readonly wordsPx: number;
}

/** What is short is taken from the axis, then from *whose*; what is left over goes to words and axis. */
function columns(digitPx: number, widthPx: number): Columns {
  const full = widthPx - fixedPx(digitPx, WHO);
  if (full >= digitPx * (WORDS + AXIS_LEAST)) {
    const wordsPx = Math.round(Math.max(digitPx * WORDS, Math.min(full - digitPx * AXIS, digitPx * (WORDS + 1.7))));
    return { whoPx: digitPx * WHO, wordsPx, axisPx: Math.floor(full - wordsPx) };
  }
  const wordsPx = Math.round(digitPx * WORDS);
  const axisPx = Math.floor(digitPx * AXIS_LEAST);
  return { wordsPx, axisPx, whoPx: Math.max(0, widthPx - fixedPx(digitPx, 0) - wordsPx - axisPx) };
}

/**
 * Sizes of a wall that shows so many chairs. Fewer than fit get more height, up to where they would look lost.
 */
export function wallLayout(screen: WallScreen, chairs: number): WallLayout {
  const bare = wallPlan(screen, chairs);
  const plan = wallPlan({ ...screen, distanceM: grownDistance(screen, chairs, bare) }, chairs);
  const type = narrowed(plan, screen.widthPx);
  const digitPx = plan.digitPx * type;
  const rowPx = type < 1 ? 0 : EDGE_ROW_PX;
  const lanes = Math.max(1, Math.min(chairs, plan.lanesPerWall));
  const spare = screen.heightPx - plan.bandPx - lanes * plan.lanePx;
  const topPx = Math.min(Math.max(plan.topPx, 0), Math.round(plan.digitPx * TALLEST_TOP));
  const taller = Math.floor((spare - topPx) / lanes);
  const lanePx = Math.max(plan.lanePx, Math.min(Math.round(plan.digitPx * TALLEST_LANE), plan.lanePx + taller));
  return {
    digitTypePx: plan.digitTypePx * type + rowPx / DIGIT_HEIGHT,
    capitalTypePx: plan.capitalTypePx * type + rowPx / CAP_HEIGHT,
    smallTypePx: Math.round(digitPx * 0.5),
    topPx,
    lanePx,
    bandPx: plan.bandPx,
    bandLines: plan.bandLines,
    padPx: Math.round(digitPx * PAD),
    platePx: Math.round(digitPx * PLATE),
    blockPx: Math.round(digitPx * BLOCK),
    gapPx: Math.round(digitPx * GAP),
    strokePx: Math.max(3, Math.round(digitPx * 0.085)),
    tooSmall: plan.lanesPerWall === 0 || type < 1,
    ...columns(digitPx, screen.widthPx),
  };
}
