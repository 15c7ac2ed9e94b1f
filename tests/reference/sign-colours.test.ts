/*
 * Sources. ANSI Z535.4-2007, 4.14 (signal words and their order): read in documents that quote it by clause. ISO 3864-4 as quoted for
 * ISO 3864-2:2016 (colours): read in documents that quote it. Ratios: computed by the formula of WCAG 2.2, which was read at the W3C
 * with 1.4.3, 1.4.6 and 1.4.11 (4.5:1, 7:1, 3:1). Borrowed for the order of urgency: a screen is no safety sign.
 */
import { describe, expect, it } from 'vitest';
import { bellLevels, rankOf, type BellLevel } from '../../core/bells/level.ts';
import { levelBlockPath } from '../../web/src/parts/geometry/level-block.ts';
import { score } from '../../web/src/sound/score.ts';
import { en } from '../../web/src/words/en.ts';
import { readSource } from '../web/support/source.ts';
import { contrast } from '../web/support/wcag.ts';

const css = readSource('styles/theme.css');
function colours(selector: string): Record<string, string> {
  const from = css.indexOf(`${selector} {`);
  expect(from).toBeGreaterThanOrEqual(0);
  const body = css.slice(css.indexOf('{', from), css.indexOf('}', from));
  return Object.fromEntries([...body.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1], m[2]]));
}
const light = colours(':root');
const dark = { ...light, ...colours(":root[data-theme='dark']") };

const published: Record<BellLevel, { colour: string; on: string; ratio: number }> = {
  DANGER: { colour: '#9b2423', on: '#ffffff', ratio: 7.86 },
  WARNING: { colour: '#d05d29', on: '#000000', ratio: 5.28 },
  CAUTION: { colour: '#f9a800', on: '#000000', ratio: 10.63 },
  NOTICE: { colour: '#005387', on: '#ffffff', ratio: 8.12 },
};
const colourOf = (theme: Record<string, string>, level: BellLevel) => theme[`level-${level.toLowerCase()}`]!;

describe('the formula of WCAG 2.2', () => {
  it.each([
    ['#777777', 4.478, 3],
    ['#767676', 4.542, 3],
    ['#ff0000', 3.998, 3],
    ['#0000ff', 8.59, 2],
    ['#000000', 21, 6],
  ])('[W2] gives %s on white its computed check value', (colour, ratio, digits) => {
    expect(contrast(colour, '#ffffff')).toBeCloseTo(ratio, digits);
    expect(contrast('#ffffff', colour)).toBe(contrast(colour, '#ffffff'));
  });
});

describe('signal words and colours', () => {
  it('[R2] the words are those of ANSI Z535.4 in its order, and are written as such', () => {
    const words = ['DANGER', 'WARNING', 'CAUTION', 'NOTICE'] as const;
    expect([...bellLevels].sort((a, b) => rankOf(b) - rankOf(a))).toEqual(words);
    expect(words.map((word) => en.levels[word])).toEqual(words);
  });
  it.each(bellLevels)('[W2] %s has its colour in both themes', (level) => {
    expect(colourOf(light, level)).toBe(published[level].colour);
    expect(colourOf(dark, level)).toBe(published[level].colour);
  });
  it.each(bellLevels)('[W2] the colour of %s has the computed ratio to its contrast colour', (level) => {
    const { colour, on, ratio } = published[level];
    expect(contrast(colour, on)).toBeCloseTo(ratio, 2);
  });
  it('[W2] no text colour reaches 7:1 on the orange, so nothing is written on a safety colour', () => {
    expect(contrast('#d05d29', '#ffffff')).toBeCloseTo(3.98, 2);
    expect(Math.max(contrast('#d05d29', '#000000'), contrast('#d05d29', '#ffffff'))).toBeLessThan(7);
    const template = readSource('parts/LevelBlock.svelte').split('<style>')[0]!;
    expect(template).not.toContain('<text');
  });
});

describe.each([
  ['light', light],
  ['dark', dark],
])('paper and ink, %s', (_name, theme) => {
  const on = (a: string, b: string) => contrast(theme[a]!, theme[b]!);
  it('[W2] numbers and orders reach 7:1 (1.4.6)', () => {
    expect(on('ink', 'paper')).toBeGreaterThanOrEqual(7);
    expect(on('ink', 'field')).toBeGreaterThanOrEqual(7);
    expect(on('plate-numeral', 'plate-tile')).toBeGreaterThanOrEqual(7);
  });
  it('[W2] other text reaches 4.5:1 (1.4.3)', () => {
    for (const text of ['ink-soft', 'ink-quiet']) expect(on(text, 'paper')).toBeGreaterThanOrEqual(4.5);
  });
  it.each(bellLevels)('[W2] the block of %s is drawn by a keyline of 3:1 on paper (1.4.11)', (level) => {
    expect(on('level-keyline', 'paper')).toBeGreaterThanOrEqual(3);
    const fill = colourOf(theme, level);
    expect(Math.max(contrast(fill, theme['paper']!), contrast(fill, theme['level-keyline']!))).toBeGreaterThanOrEqual(
      3,
    );
  });
});

/** Corners of the outline: each square notch adds four. */
const corners = (level: BellLevel): number =>
  (levelBlockPath(level, { widthPx: 60, heightPx: 90 }, 3).match(/[LHV]/g) ?? []).length;
const sound = (level: BellLevel): string =>
  JSON.stringify(score(level).pulses.map(({ atMs, hz, lengthMs }) => [atMs, hz, lengthMs]));

it('[W2] word, notches, colour and sound all differ between any two levels', () => {
  for (const told of [
    (level: BellLevel) => en.levels[level],
    (level: BellLevel) => String(corners(level)),
    (level: BellLevel) => colourOf(light, level),
    (level: BellLevel) => colourOf(dark, level),
    sound,
  ]) {
    expect(new Set(bellLevels.map(told)).size).toBe(bellLevels.length);
  }
  const [none = 0, one = 0, two = 0, three = 0] = bellLevels.map(corners);
  expect([one - none, two - one, three - two]).toEqual([one - none, one - none, one - none]);
  expect(one).toBeGreaterThan(none);
});
