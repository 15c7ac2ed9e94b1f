// The colours are read from the stylesheet that the screens use; ratios by the formula of WCAG 2.2.
import { describe, expect, it } from 'vitest';
import { readSource } from '../support/source.ts';
import { contrast } from '../support/wcag.ts';

const css = readSource('styles/theme.css');

function block(selector: string): Map<string, string> {
  const from = css.indexOf(`${selector} {`);
  if (from < 0) throw new Error(`no block ${selector}`);
  const body = css.slice(css.indexOf('{', from) + 1, css.indexOf('}', from));
  return new Map([...body.matchAll(/--([a-z-]+):\s*(#[0-9a-f]{6})/g)].map((m) => [m[1]!, m[2]!]));
}

const light = block(':root');
const dark = new Map([...light, ...block(":root[data-theme='dark']")]);
const colour = (theme: Map<string, string>, name: string) => {
  const value = theme.get(name);
  if (!value) throw new Error(`no colour ${name}`);
  return value;
};

describe('the formula', () => {
  it.each([
    // Check values computed from the published formula.
    ['#777777', '#ffffff', 4.478, 3],
    ['#767676', '#ffffff', 4.542, 3],
    ['#ff0000', '#ffffff', 3.998, 3],
    ['#0000ff', '#ffffff', 8.59, 2],
    ['#000000', '#ffffff', 21, 3],
    // ISO 3864 colours with their contrast colours.
    ['#9b2423', '#ffffff', 7.86, 2],
    ['#d05d29', '#000000', 5.28, 2],
    ['#f9a800', '#000000', 10.63, 2],
    ['#005387', '#ffffff', 8.12, 2],
  ])('[W2] gives the published ratio of %s on %s', (a, b, ratio, digits) => {
    expect(contrast(a, b)).toBeCloseTo(ratio, digits);
  });
});

describe.each([
  ['light', light],
  ['dark', dark],
])('%s theme', (_name, theme) => {
  const on = (a: string, b: string) => contrast(colour(theme, a), colour(theme, b));

  it.each(['paper', 'field', 'map-low', 'map-high'])('[W2] numbers and orders reach 7:1 on %s', (ground) => {
    expect(on('ink', ground)).toBeGreaterThanOrEqual(7);
  });
  it('[W2] the numeral on a plate and the words on the main button reach 7:1', () => {
    expect(on('plate-numeral', 'plate-tile')).toBeGreaterThanOrEqual(7);
    expect(on('paper', 'ink')).toBeGreaterThanOrEqual(7);
  });
  it.each(['ink-soft', 'ink-quiet'])('[W2] other text (%s) reaches 4.5:1 on both grounds', (text) => {
    expect(on(text, 'paper')).toBeGreaterThanOrEqual(4.5);
    expect(on(text, 'field')).toBeGreaterThanOrEqual(4.5);
  });
  it.each([...light.keys()].filter((name) => name.startsWith('rail-') || name === 'edge'))(
    '[W2] %s reaches 3:1 on paper',
    (part) => expect(on(part, 'paper')).toBeGreaterThanOrEqual(3),
  );
  it.each(['level-danger', 'level-warning', 'level-caution', 'level-notice'])(
    '[W2] %s is outlined against the paper, and its shape against paper or keyline',
    (level) => {
      expect(on('level-keyline', 'paper')).toBeGreaterThanOrEqual(3);
      expect(Math.max(on(level, 'paper'), on(level, 'level-keyline'))).toBeGreaterThanOrEqual(3);
    },
  );
  it('[W2] a plate is told from the paper by its tile or its keyline', () => {
    expect(Math.max(on('plate-tile', 'paper'), on('plate-keyline', 'paper'))).toBeGreaterThanOrEqual(3);
  });
  it('[W2] the border of "burns" is outlined against the paper', () => {
    expect(on('level-keyline', 'paper')).toBeGreaterThanOrEqual(3);
  });
});

it('[W2] the safety colours are those of the standard, alike in both themes', () => {
  const published = { danger: '#9b2423', warning: '#d05d29', caution: '#f9a800', notice: '#005387' };
  for (const [level, value] of Object.entries(published)) {
    expect(light.get(`level-${level}`)).toBe(value);
    expect(dark.get(`level-${level}`)).toBe(value);
  }
});

it('the dark theme is the same by choice and by the device', () => {
  const chosen = block(":root[data-theme='dark']");
  expect(chosen.size).toBeGreaterThan(10);
  expect([...block(':root:not([data-theme])')]).toEqual([...chosen]);
});
