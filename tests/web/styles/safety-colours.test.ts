import { expect, it } from 'vitest';
import { readSource as read, sourcesEnding } from '../support/source.ts';

const files = sourcesEnding(/\.(svelte|css)$/);
/** Colours in a stylesheet or a component's style; `{#if` and addresses are no colours. */
const COLOUR = /:\s*[^;{}]*#[0-9a-f]{3,8}\b/i;
const styleOf = (name: string) =>
  name.endsWith('.css') ? read(name) : (/<style>[\s\S]*<\/style>/.exec(read(name))?.[0] ?? '');

it('[W2] safety colours are used on level blocks and on the border of "burns" only', () => {
  const users = files.filter((name) => /var\(--level-(danger|warning|caution|notice)\)/.test(read(name)));
  expect(users.sort()).toEqual(['parts/LevelBlock.svelte', 'parts/TouchButton.svelte']);
  const uses = [...read('parts/TouchButton.svelte').matchAll(/^.*var\(--level-(danger|warning|caution|notice)\).*$/gm)];
  expect(uses.map((use) => use[0].trim())).toEqual(['border: 6px solid var(--level-danger);']);
});

it('colours are written in the theme and nowhere else', () => {
  expect(files.length).toBeGreaterThan(10);
  expect(COLOUR.test(styleOf('styles/theme.css'))).toBe(true);
  expect(files.filter((name) => name !== 'styles/theme.css' && COLOUR.test(styleOf(name)))).toEqual([]);
});

it('no template has a static style attribute, which the content security policy would report', () => {
  expect(files.filter((name) => /\sstyle="[^{]*"/.test(read(name)))).toEqual([]);
  const planted = '<p style="color: red">';
  expect(/\sstyle="[^{]*"/.test(planted)).toBe(true);
});

it('[W2] DANGER blinks at 1.5 Hz, half on, and holds still under reduced motion', () => {
  const block = read('parts/LevelBlock.svelte');
  const period = Number(/animation: blink ([\d.]+)ms steps\(1, end\) infinite/.exec(block)?.[1]);
  expect(1000 / period).toBeCloseTo(1.5, 3);
  // Published 1.4–2.8 Hz for the highest priority, 20–60 % on; WCAG 2.3.1: at most three flashes a second.
  expect(1000 / period).toBeGreaterThanOrEqual(1.4);
  expect(1000 / period).toBeLessThan(3);
  expect(block).toMatch(/0%,\s*50%\s*\{\s*opacity: 1;/);
  expect(block).toMatch(/prefers-reduced-motion: reduce\)\s*\{\s*\.DANGER\s*\{\s*animation: none;/);
});
