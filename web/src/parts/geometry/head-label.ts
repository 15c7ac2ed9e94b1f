import type { PartArea } from './head-map.ts';

/** Width of a text in px, as it will be painted. */
export type Measure = (text: string, typePx: number, weight: number) => number;

export interface LabelLine {
  readonly text: string;
  readonly typePx: number;
  readonly weight: number;
  readonly x: number;
  /** Baseline. */
  readonly y: number;
}

interface Line {
  readonly text: string;
  readonly typePx: number;
  readonly weight: number;
}

const LEADING = 1.14;
/** Height of a capital above the baseline, in type sizes, where the middle of a line is found. */
const RISE = 0.36;
const AIR = 8;

/**
 * The words of a part, inside its area: its place in the order, its time, and a small line that shrinks, breaks in two or is
 * left out before the time does. The time is never left out; at the very least it stands alone and small.
 */
export function fitLabel(
  area: PartArea,
  { order, time, small }: { readonly order: string; readonly time: string; readonly small: string },
  measure: Measure,
): readonly LabelLine[] {
  for (const lines of attempts(order, time, small)) {
    const placed = place(area, lines, measure);
    if (placed !== null) return placed;
  }
  const alone: Line = { text: time, typePx: 15, weight: 700 };
  return place(area, [alone], measure, true) ?? [];
}

function* attempts(order: string, time: string, small: string): Generator<readonly Line[]> {
  const first = (typePx: number): Line => ({ text: order, typePx, weight: 600 });
  const second = (typePx: number): Line => ({ text: time, typePx, weight: 700 });
  const third = (text: string, typePx: number): Line => ({ text, typePx, weight: 500 });
  if (small !== '') {
    const halves = inTwo(small);
    for (const px of [46, 40, 34, 28]) {
      yield [first(px * 0.55), second(px), third(small, Math.max(15, px * 0.42))];
      if (halves !== null) {
        yield [first(px * 0.55), second(px), ...halves.map((half) => third(half, Math.max(15, px * 0.42)))];
      }
    }
  }
  for (const px of [40, 34, 28, 24, 20]) yield [first(Math.max(15, px * 0.6)), second(px)];
  for (const px of [24, 20, 17]) yield [{ text: `${order} ${time}`, typePx: px, weight: 650 }];
}

export interface Stretch {
  readonly x0: number;
  readonly x1: number;
}

/** A level line across a part, broken where it would run through the words. */
export function levelPieces(
  y: number,
  lines: readonly LabelLine[],
  widthPx: number,
  measure: Measure,
): readonly Stretch[] {
  // Digits end at their baseline, letters may reach below it.
  const below = (line: LabelLine): number => (/[a-z]/.test(line.text) ? 0.26 : 0.06) * line.typePx;
  const met = lines.filter((line) => y > line.y - line.typePx * 0.82 && y < line.y + below(line));
  if (met.length === 0) return [{ x0: 0, x1: widthPx }];
  const half = Math.max(...met.map((line) => measure(line.text, line.typePx, line.weight) / 2)) + AIR / 2;
  const x = met[0]?.x ?? widthPx / 2;
  return [
    { x0: 0, x1: x - half },
    { x0: x + half, x1: widthPx },
  ];
}

function inTwo(text: string): readonly [string, string] | null {
  const words = text.split(' ');
  if (words.length < 2) return null;
  const half = Math.ceil(words.length / 2);
  return [words.slice(0, half).join(' '), words.slice(half).join(' ')];
}

/** Lines one under another around the middle, each in the middle of the width that its height leaves; null: too little. */
function place(area: PartArea, lines: readonly Line[], measure: Measure, always = false): readonly LabelLine[] | null {
  const tall = lines.reduce((sum, { typePx }) => sum + typePx * LEADING, 0);
  if (!always && tall > area.bottom - area.top - AIR) return null;
  let y = Math.max(area.top + AIR / 2, Math.min(area.bottom - AIR / 2 - tall, area.middleY - tall / 2));
  const placed: LabelLine[] = [];
  // One middle for all lines: they are read as one.
  const { left, right } = area.spanOf(Math.max(area.top, y + 2), Math.min(area.bottom, y + tall - 2));
  const x = (left + right) / 2;
  for (const line of lines) {
    const high = line.typePx * LEADING;
    const wide = measure(line.text, line.typePx, line.weight);
    const own = area.spanOf(Math.max(area.top, y + 2), Math.min(area.bottom, y + high - 2));
    if (!always && (x - wide / 2 < own.left + AIR || x + wide / 2 > own.right - AIR)) return null;
    placed.push({ ...line, x, y: y + high / 2 + line.typePx * RISE });
    y += high;
  }
  return placed;
}
