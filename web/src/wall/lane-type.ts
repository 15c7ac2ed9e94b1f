import type { BellLevel } from '../../../core/bells/level.ts';
import type { Sureness } from '../../../core/visit/headline.ts';
import type { WallWords } from '../words/wall-words.ts';
import type { Measure } from './fit.ts';
import type { DeedWording } from './lane-words.ts';

/** The louder the level, the heavier its deed: from afar the most urgent is the darkest. */
const WEIGHTS = { NOTICE: 600, CAUTION: 650, WARNING: 700, DANGER: 750 } as const satisfies Record<BellLevel, number>;

export function deedWeight(level: BellLevel | null, quiet: boolean): number {
  if (level !== null) return WEIGHTS[level];
  return quiet ? 450 : 550;
}

/** Numbers likewise; the typeface paints its digits equally tall from 500 to 800 (W1 rests on that). */
const FIGURE_WEIGHTS = { NOTICE: 550, CAUTION: 650, WARNING: 720, DANGER: 800 } as const satisfies Record<
  BellLevel,
  number
>;

export function figureWeight(level: BellLevel | null): number {
  return level === null ? 500 : FIGURE_WEIGHTS[level];
}

/** Advance of a drawn sign with its space, em (parts/Sign). */
const MARK_EM = 0.62;

/** Width of a deed at 1 px of type. */
export function deedEm(
  wording: DeedWording,
  level: BellLevel | null,
  { wall, lane }: WallWords,
  measure: Measure,
): number {
  const weight = deedWeight(level, false);
  const basin = wording.basin === null ? 0 : measure(` ${lane.at(wording.basin)}`, weight);
  const taken = wording.taken ? measure(` · ${wall.taken}`, 450) : 0;
  return measure(wording.deed, weight) + basin + taken;
}

export function figureEm(figure: string, sureness: Sureness, measure: Measure): number {
  return figure === '' ? 0 : measure(figure, 700) + (sureness === 'firm' ? 0 : MARK_EM);
}

interface WhoRoom {
  readonly smallTypePx: number;
  readonly whoPx: number;
  readonly gapPx: number;
  readonly lanePx: number;
}

const WHO_WEIGHT = 500;
const LINE = 1.12;
/** A name is never cut: it wraps, and a very long one is set smaller. */
const LEAST_SHARE = 0.5;

/** Type size of a name in its column: the largest at which its lines fit the lane. */
export function whoTypePx(name: string, { smallTypePx, whoPx, gapPx, lanePx }: WhoRoom, measure: Measure): number {
  const roomPx = Math.max(1, whoPx - gapPx);
  // A line may also end after a hyphen.
  const wordsOf = name.split(/ |(?<=-)/);
  for (let typePx = smallTypePx; typePx > smallTypePx * LEAST_SHARE; typePx -= 1) {
    const most = Math.floor((lanePx - 6) / (typePx * LINE));
    const widths = wordsOf.map((word) => measure(word, WHO_WEIGHT) * typePx);
    if (widths.every((width) => width <= roomPx) && lines(widths, typePx * 0.28, roomPx) <= most) return typePx;
  }
  return Math.round(smallTypePx * LEAST_SHARE);
}

/** Greedy wrapping, as a browser does it. */
function lines(widths: readonly number[], spacePx: number, roomPx: number): number {
  let count = 1;
  let at = 0;
  for (const width of widths) {
    if (at > 0 && at + spacePx + width > roomPx) {
      count += 1;
      at = width;
    } else at += (at > 0 ? spacePx : 0) + width;
  }
  return count;
}
