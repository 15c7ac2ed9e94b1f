import { CAP_HEIGHT, DIGIT_HEIGHT } from './typeface.ts';

/** Angles of W1, arc minutes: the countdown's digits, and every other text that must be read. */
export const DIGIT_ARCMIN = 20;
export const CAPITAL_ARCMIN = 16;

export interface WallScreen {
  readonly diagonalInches: number;
  /** CSS px of the page that fills the screen. */
  readonly widthPx: number;
  readonly heightPx: number;
  /** From the farthest place that must be able to read it. */
  readonly distanceM: number;
}

/** h = 2 d tan(α/2), in mm (ISO 9241-303 clause 5.5 measures capitals and digits, not the em). */
export function heightMm(distanceM: number, arcmin: number): number {
  const radians = (arcmin / 60) * (Math.PI / 180);
  return 2 * distanceM * 1000 * Math.tan(radians / 2);
}

/** The angle under which a height is seen, arc minutes. */
export function arcminOf(mm: number, distanceM: number): number {
  return 2 * Math.atan(mm / (2 * distanceM * 1000)) * (180 / Math.PI) * 60;
}

/** Width of one CSS px on the glass, mm; pixels are square. */
export function pxMm(screen: Pick<WallScreen, 'diagonalInches' | 'widthPx' | 'heightPx'>): number {
  return (screen.diagonalInches * 25.4) / Math.hypot(screen.widthPx, screen.heightPx);
}

export interface ReadingSizes {
  /** Painted height of a digit, px. */
  readonly digitPx: number;
  readonly capitalPx: number;
  /** The type sizes (em) that paint these heights. */
  readonly digitTypePx: number;
  readonly capitalTypePx: number;
}

/** Rounded up to whole px: rounding down would fall below the angle. */
export function readingSizes(screen: WallScreen): ReadingSizes {
  const pixel = pxMm(screen);
  const digitPx = Math.ceil(heightMm(screen.distanceM, DIGIT_ARCMIN) / pixel);
  const capitalPx = Math.ceil(heightMm(screen.distanceM, CAPITAL_ARCMIN) / pixel);
  return { digitPx, capitalPx, digitTypePx: digitPx / DIGIT_HEIGHT, capitalTypePx: capitalPx / CAP_HEIGHT };
}

export interface WallPlan extends ReadingSizes {
  readonly topPx: number;
  readonly lanePx: number;
  readonly bandLines: 1 | 2;
  readonly bandPx: number;
  /** How many chairs one wall can carry, and how many walls all of them need. */
  readonly lanesPerWall: number;
  readonly walls: number;
}

// Ratios that give 76 and 96 px lanes and 12 chairs on 43 inches, 1080 lines, 5 m.
const LEAST_LANE = 1.28;
const EASY_LANE = 1.62;
const TOP_LINE = 1.3;
const AXIS_LABELS = 0.62;

/** Divides a wall's height for its chairs. With 0 lanes per wall the screen is too small for its distance. */
export function wallPlan(screen: WallScreen, chairs: number): WallPlan {
  const sizes = readingSizes(screen);
  const least = Math.ceil(sizes.digitPx * LEAST_LANE);
  const top = Math.ceil(sizes.capitalPx * TOP_LINE) + Math.ceil(sizes.capitalPx * AXIS_LABELS);
  const forLanes = screen.heightPx - top - least;
  const lanesPerWall = Math.max(0, Math.floor(forLanes / least));
  const lanes = Math.max(1, Math.min(chairs, lanesPerWall));
  const bandLines = forLanes - least >= lanes * least ? 2 : 1;
  const bandPx = bandLines * least;
  const room = Math.floor((screen.heightPx - top - bandPx) / lanes);
  const lanePx = Math.max(least, Math.min(Math.ceil(sizes.digitPx * EASY_LANE), room));
  const topPx = Math.max(top, screen.heightPx - bandPx - lanes * lanePx);
  const walls = lanesPerWall === 0 ? 0 : Math.max(1, Math.ceil(chairs / lanesPerWall));
  return { ...sizes, topPx, lanePx, bandLines, bandPx, lanesPerWall, walls };
}
