import type { PartPlace } from '../../../../core/directions/rules.ts';

/** Seen from above by somebody behind the client: face up, the client's left at the left. All lengths in px. */
export interface HeadMap {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly head: Oval;
  readonly outline: string;
  /** In the order of the plan, whatever the order on the map. */
  readonly areas: readonly PartArea[];
}

/** A squarish oval, |x/a|ⁿ + |y/b|ⁿ = 1: its ends leave more room for parts than an ellipse's. */
export interface Oval {
  readonly cx: number;
  readonly cy: number;
  readonly a: number;
  readonly b: number;
}

export interface Span {
  readonly left: number;
  readonly right: number;
}

export interface PartArea {
  readonly part: number;
  readonly path: string;
  readonly top: number;
  readonly bottom: number;
  /** Where the words stand best. */
  readonly middleY: number;
  /** Width that is inside all the way between two heights; right < left where nothing is. */
  readonly spanOf: (y0: number, y1: number) => Span;
}

const POWER = 2.5;
const GAP = 8;
/** Smallest side of a touchable part (W3), and what a row of parts is planned with. */
export const ROW_PX = 72;
/** Rows that the map at the chair has height for, without a hairline and with one. */
const MOST_ROWS = { plain: 6, rim: 5 } as const;
/** Space around the head: nose and ears, collar, the words "face" and "nape". */
const MARGIN = { side: 44, top: 58, bottom: 62 } as const;
const RIM = 80;
const SAMPLES = 12;

interface Zone {
  readonly left: readonly number[];
  readonly right: readonly number[];
  /** Parts across the whole width. */
  readonly across: readonly number[];
}

interface Plan {
  readonly rim: readonly number[];
  readonly zones: readonly { readonly zone: Zone; readonly rows: number }[];
  readonly rows: number;
}

/** Parts of a place lie where it says; others lie between nape and front, in the order of the plan from the nape up. */
function planOf(places: readonly PartPlace[]): Plan {
  const at = (place: PartPlace): number[] => places.flatMap((one, i) => (one === place ? [i] : []));
  const hairline = at('hairline');
  const zones: Zone[] = [
    { left: at('nape-left'), right: at('nape-right'), across: [] },
    // The rim has room for two parts; a third one at the hairline lies among the others.
    { left: [], right: [], across: [...at('other'), ...hairline.slice(2)].sort((a, b) => a - b) },
    { left: at('front-left'), right: at('front-right'), across: [] },
  ];
  const rows = zones.map(({ left, right, across }) => Math.max(left.length, right.length, across.length));
  const most = hairline.length > 0 ? MOST_ROWS.rim : MOST_ROWS.plain;
  while (rows.reduce((sum, one) => sum + one, 0) > most) {
    const widths = zones.map((zone, i) => widthWithout(zone, rows[i] ?? 0));
    const roomy = widths.indexOf(Math.max(...widths));
    rows[roomy] = (rows[roomy] ?? 2) - 1;
  }
  const used = zones.map((zone, i) => ({ zone, rows: compact(zone, rows[i] ?? 0) })).filter((one) => one.rows > 0);
  return { rim: hairline.slice(0, 2), zones: used, rows: used.reduce((sum, one) => sum + one.rows, 0) };
}

/** How wide a zone's parts would be with one row less, in half heads; 0 where it has none to spare. */
function widthWithout({ left, right, across }: Zone, rows: number): number {
  if (rows < 2) return 0;
  const beside = (count: number): number => Math.ceil(count / (rows - 1));
  return Math.min(2 / Math.max(1, beside(across.length)), 1 / Math.max(1, beside(left.length), beside(right.length)));
}

/** Rows that are needed once parts stand side by side: two where they must, more only where the rows do not reach. */
function compact({ left, right, across }: Zone, rows: number): number {
  const needed = (count: number): number => (count <= rows ? count : Math.min(rows, Math.ceil(count / 2)));
  return Math.max(needed(left.length), needed(right.length), needed(across.length));
}

/** Least height of a map whose parts can all be touched with a glove. */
export function leastHeight(places: readonly PartPlace[]): number {
  const { rim, rows } = planOf(places);
  return MARGIN.top + MARGIN.bottom + Math.max(2, rows) * ROW_PX + (rim.length > 0 ? RIM : 0);
}

export function headMap(places: readonly PartPlace[], widthPx: number, heightPx: number): HeadMap {
  const plan = planOf(places);
  const b = (heightPx - MARGIN.top - MARGIN.bottom) / 2;
  const a = Math.min(widthPx / 2 - MARGIN.side, b * 0.96);
  const head: Oval = { cx: widthPx / 2, cy: MARGIN.top + b, a, b };
  const inner = plan.rim.length === 0 ? head : within(head);
  const areas = [...rimAreas(plan.rim, head, inner), ...zoneAreas(plan, inner)];
  return {
    widthPx,
    heightPx,
    head,
    outline: pathOf(around(head)),
    areas: areas.sort((one, other) => one.part - other.part),
  };
}

/** What the rim leaves of the head: the same form, drawn in towards the nape. */
function within({ cx, cy, a, b }: Oval): Oval {
  const less = (2 * b - RIM) / (2 * b);
  return { cx, cy: cy + b - b * less, a: a * less, b: b * less };
}

export function halfWidth({ cy, a, b }: Oval, y: number): number {
  const far = Math.min(1, Math.abs(y - cy) / b);
  return a * (1 - far ** POWER) ** (1 / POWER);
}

function zoneAreas(plan: Plan, oval: Oval): PartArea[] {
  const rowPx = (2 * oval.b) / Math.max(1, plan.rows);
  let foot = oval.cy + oval.b;
  return plan.zones.flatMap(({ zone, rows }) => {
    const from = foot;
    foot -= rows * rowPx;
    const strip = { oval, from, to: foot };
    return [
      ...column(zone.left, strip, rows, -1, 0),
      ...column(zone.right, strip, rows, 0, 1),
      ...column(zone.across, strip, rows, -1, 1),
    ];
  });
}

interface Strip {
  readonly oval: Oval;
  /** Nape side and face side, y. */
  readonly from: number;
  readonly to: number;
}

/** Parts of one column from the nape up; what does not go into one part a row stands side by side in the middle rows. */
function column(parts: readonly number[], { oval, from, to }: Strip, rows: number, u0: number, u1: number): PartArea[] {
  const counts = perRow(parts.length, rows);
  const px = (from - to) / Math.max(1, counts.length);
  const areas: PartArea[] = [];
  counts.forEach((count, row) => {
    const wide = (u1 - u0) / count;
    for (let i = 0; i < count; i += 1) {
      const part = parts[areas.length];
      if (part === undefined) return;
      const left = u0 + i * wide;
      areas.push(cell(part, oval, { bottom: from - row * px, top: from - (row + 1) * px }, left, left + wide));
    }
  });
  return areas;
}

/** How many parts in each row: the widest rows lie in the middle, where the head is widest. */
function perRow(count: number, rows: number): readonly number[] {
  const used = Math.min(count, rows);
  if (used === 0) return [];
  const least = Math.floor(count / used);
  const middle = (used - 1) / 2;
  const widest = Array.from({ length: used }, (_, row) => row).sort(
    (a, b) => Math.abs(a - middle) - Math.abs(b - middle) || b - a,
  );
  const more = new Set(widest.slice(0, count - least * used));
  return Array.from({ length: used }, (_, row) => least + (more.has(row) ? 1 : 0));
}

/** One part between two heights; u runs from −1 at the client's left to 1 at their right. */
function cell(
  part: number,
  oval: Oval,
  { top, bottom }: { top: number; bottom: number },
  u0: number,
  u1: number,
): PartArea {
  // Gaps lie between parts only; at the outline a part ends with the head.
  const y0 = top <= oval.cy - oval.b + 1 ? top : top + GAP / 2;
  const y1 = bottom >= oval.cy + oval.b - 1 ? bottom : bottom - GAP / 2;
  const middle = halfWidth(oval, (y0 + y1) / 2);
  const sideAt = (u: number, y: number, inward: number): number => {
    const most = halfWidth(oval, y);
    const x = Math.abs(u) > 0.999 ? u * most : u * middle + (inward * GAP) / 2;
    return oval.cx + Math.max(-most, Math.min(most, x));
  };
  const leftAt = (y: number): number => sideAt(u0, y, 1);
  const rightAt = (y: number): number => Math.max(leftAt(y), sideAt(u1, y, -1));
  return area(part, y0, y1, leftAt, rightAt, (y0 + y1) / 2 + lean(oval, y0, y1));
}

/** Towards the wider side of a part at an end of the head. */
function lean({ cy }: Oval, y0: number, y1: number): number {
  if (y0 < cy && y1 > cy) return 0;
  return ((y0 + y1) / 2 < cy ? 1 : -1) * (y1 - y0) * 0.07;
}

function area(
  part: number,
  top: number,
  bottom: number,
  leftAt: (y: number) => number,
  rightAt: (y: number) => number,
  middleY: number,
): PartArea {
  // Closer towards both ends, where the outline bends most.
  const ys = Array.from({ length: 2 * SAMPLES + 1 }, (_, i) => {
    const share = (1 - Math.cos((Math.PI * i) / (2 * SAMPLES))) / 2;
    return top + (bottom - top) * share;
  });
  const points = [...ys.map((y) => [rightAt(y), y] as const), ...ys.reverse().map((y) => [leftAt(y), y] as const)];
  const spanOf = (y0: number, y1: number): Span =>
    y0 < top || y1 > bottom
      ? { left: 0, right: -1 }
      : { left: Math.max(leftAt(y0), leftAt(y1)), right: Math.min(rightAt(y0), rightAt(y1)) };
  return { part, path: pathOf(points), top, bottom, middleY, spanOf };
}

/** The hairline: between the outline and what is drawn in from it, one part or two halves. */
function rimAreas(parts: readonly number[], head: Oval, inner: Oval): PartArea[] {
  return parts.map((part, i) => {
    const [from, to] = parts.length === 1 ? [-1, 1] : i === 0 ? [-1, 0] : [0, 1];
    const shift = GAP / 2 / inner.a;
    const [u0, u1] = [from === 0 ? shift : from, to === 0 ? -shift : to];
    const us = Array.from({ length: 2 * SAMPLES + 1 }, (_, n) => u0 + ((u1 - u0) * n) / (2 * SAMPLES));
    const outer = us.map((u) => faceOf(head, u, 0));
    const edge = us.reverse().map((u) => faceOf(inner, u, GAP));
    const top = head.cy - head.b;
    const bottom = top + RIM - GAP;
    const leftAt = (y: number): number => (from === 0 ? head.cx + GAP : head.cx - halfWidth(head, y));
    const rightAt = (y: number): number => (to === 0 ? head.cx - GAP : head.cx + halfWidth(head, y));
    const words = area(part, top, bottom, leftAt, rightAt, top + RIM * 0.55);
    return { ...words, path: pathOf([...outer, ...edge]) };
  });
}

/** A point of the outline on the face's side, from its left end to its right end. */
function faceOf({ cx, cy, a, b }: Oval, u: number, outwards: number): readonly [number, number] {
  const turn = (u * Math.PI) / 2;
  const bend = (value: number): number => Math.sign(value) * Math.abs(value) ** (2 / POWER);
  return [cx + (a + outwards * 0.4) * bend(Math.sin(turn)), cy - (b + outwards) * bend(Math.cos(turn))];
}

function around({ cx, cy, a, b }: Oval): readonly (readonly [number, number])[] {
  const bend = (value: number): number => Math.sign(value) * Math.abs(value) ** (2 / POWER);
  return Array.from({ length: 72 }, (_, i) => {
    const turn = (i * Math.PI) / 36;
    return [cx + a * bend(Math.cos(turn)), cy + b * bend(Math.sin(turn))] as const;
  });
}

function pathOf(points: readonly (readonly [number, number])[]): string {
  return `M${points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join('L')}Z`;
}
