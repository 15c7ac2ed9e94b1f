import { describe, expect, it } from 'vitest';
import { partPlaces, type PartPlace } from '../../../core/directions/rules.ts';
import { fitLabel } from '../../../web/src/parts/geometry/head-label.ts';
import { halfWidth, headMap, leastHeight, type PartArea } from '../../../web/src/parts/geometry/head-map.ts';

const quarters: readonly PartPlace[] = ['nape-left', 'nape-right', 'front-left', 'front-right'];
/** The map at the chair, and on a phone 390 wide. */
const tablet = { widthPx: 470, heightPx: 660 };
const others = (n: number): PartPlace[] => Array.from({ length: n }, () => 'other');

/** Points of a path made of M and L only. */
function points({ path }: PartArea): [number, number][] {
  return [...path.matchAll(/(-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [Number(x), Number(y)]);
}

/** Even-odd rule. */
function holds(area: PartArea, x: number, y: number): boolean {
  return holdsShape(points(area), x, y);
}

function holdsShape(shape: readonly [number, number][], x: number, y: number): boolean {
  let inside = false;
  shape.forEach(([x1, y1], i) => {
    const [x2, y2] = shape[(i + 1) % shape.length]!;
    if (y1 > y !== y2 > y && x < ((x2 - x1) * (y - y1)) / (y2 - y1) + x1) inside = !inside;
  });
  return inside;
}

function middle(area: PartArea): [number, number] {
  const shape = points(area);
  return [
    shape.reduce((sum, [x]) => sum + x, 0) / shape.length,
    shape.reduce((sum, [, y]) => sum + y, 0) / shape.length,
  ];
}

function box(area: PartArea): { width: number; height: number } {
  const xs = points(area).map(([x]) => x);
  const ys = points(area).map(([, y]) => y);
  return { width: Math.max(...xs) - Math.min(...xs), height: Math.max(...ys) - Math.min(...ys) };
}

const plans: [string, readonly PartPlace[]][] = [
  ...Array.from({ length: 12 }, (_, n): [string, readonly PartPlace[]] => [`${n + 1} others`, others(n + 1)]),
  ['quarters', quarters],
  ['quarters and hairline', [...quarters, 'hairline']],
  ['quarters and 4 others', [...quarters, ...others(4)]],
  ['quarters and 8 others', [...quarters, ...others(8)]],
  ['quarters twice', [...quarters, ...quarters]],
  ['quarters three times', [...quarters, ...quarters, ...quarters]],
  ['others and hairline', [...others(11), 'hairline']],
  ['every place twice', [...partPlaces, ...partPlaces]],
  ['three hairlines', ['hairline', 'hairline', 'hairline']],
  ['one side only', ['nape-left', 'nape-left', 'front-left']],
];

describe.each(plans)('a head of %s', (_name, places) => {
  const map = headMap(places, tablet.widthPx, tablet.heightPx);

  it('has an area for each part, in the order of the plan', () => {
    expect(map.areas.map(({ part }) => part)).toEqual(places.map((_, part) => part));
  });

  it('[W3] has areas of at least 64 px both ways on the tablet', () => {
    for (const area of map.areas) {
      const { width, height } = box(area);
      expect(Math.min(width, height), `part ${area.part}`).toBeGreaterThanOrEqual(64);
    }
  });

  it('has areas that do not overlap, all of them inside the head', () => {
    const { cx, cy, a, b } = map.head;
    const shapes = map.areas.map(points);
    const wrong: string[] = [];
    for (let x = cx - a - 20; x <= cx + a + 20; x += 7) {
      for (let y = cy - b - 20; y <= cy + b + 20; y += 7) {
        const under = shapes.filter((shape) => holdsShape(shape, x, y)).length;
        const outside = Math.abs(x - cx) > halfWidth(map.head, y) + 4;
        if (under > (outside ? 0 : 1)) wrong.push(`${under} at ${x}, ${y}`);
      }
    }
    expect(wrong).toEqual([]);
  });
});

describe('places', () => {
  const at = (place: PartPlace, places: readonly PartPlace[]) => {
    const map = headMap(places, tablet.widthPx, tablet.heightPx);
    const [x, y] = middle(map.areas[places.indexOf(place)]!);
    return { side: x < map.head.cx ? 'left' : 'right', end: y < map.head.cy ? 'face' : 'nape' };
  };

  it.each([
    ['nape-left', 'left', 'nape'],
    ['nape-right', 'right', 'nape'],
    ['front-left', 'left', 'face'],
    ['front-right', 'right', 'face'],
  ] as const)('%s lies at the client’s %s, towards the %s', (place, side, end) => {
    expect(at(place, quarters)).toEqual({ side, end });
    expect(at(place, [...quarters].reverse())).toEqual({ side, end });
  });

  it('the hairline lies at the face, outside all other parts', () => {
    const map = headMap([...quarters, 'hairline'], tablet.widthPx, tablet.heightPx);
    const top = map.head.cy - map.head.b;
    expect(holds(map.areas[4]!, map.head.cx, top + 20)).toBe(true);
    for (const area of map.areas.slice(0, 4)) {
      expect(Math.min(...points(area).map(([, y]) => y))).toBeGreaterThan(top + 64);
    }
  });

  it('others follow one another from the nape to the face', () => {
    const map = headMap(others(5), tablet.widthPx, tablet.heightPx);
    const ys = map.areas.map((area) => middle(area)[1]);
    expect(ys).toEqual([...ys].sort((a, b) => b - a));
  });
});

it('[W3] the least height leaves every row its size, wherever the map stands', () => {
  for (const [name, places] of plans) {
    const map = headMap(places, 366, leastHeight(places));
    for (const area of map.areas) expect(box(area).height, name).toBeGreaterThanOrEqual(62);
  }
});

describe('words in a part', () => {
  /** Wider than the typeface is, so that what fits here fits there. */
  const measure = (text: string, typePx: number) => text.length * typePx * 0.62;
  const label = { order: '10th', time: '29:59', small: 'touch when done' };

  it.each(plans)('stand inside their part: %s', (_name, places) => {
    for (const [widthPx, heightPx] of [
      [tablet.widthPx, tablet.heightPx],
      [366, leastHeight(places)],
    ] as const) {
      for (const area of headMap(places, widthPx, heightPx).areas) {
        const lines = fitLabel(area, label, measure);
        expect(lines.map(({ text }) => text).join(' ')).toContain('29:59');
        for (const line of lines) {
          const half = measure(line.text, line.typePx) / 2;
          for (const y of [line.y, line.y - line.typePx * 0.7]) {
            expect(holds(area, line.x - half, y), `${widthPx} part ${area.part} ${line.text}`).toBe(true);
            expect(holds(area, line.x + half, y), `${widthPx} part ${area.part} ${line.text}`).toBe(true);
          }
        }
      }
    }
  });

  it('say when to touch in a quarter of the head, and leave the small line out where it is narrow', () => {
    const quarter = headMap(quarters, tablet.widthPx, tablet.heightPx).areas[2]!;
    expect(fitLabel(quarter, label, measure).length).toBeGreaterThanOrEqual(3);
    const narrow = headMap(others(12), 260, leastHeight(others(12))).areas[5]!;
    expect(fitLabel(narrow, label, measure).length).toBeLessThanOrEqual(2);
  });
});
