import { expect, it } from 'vitest';
import { figureSince, figureUntil } from '../../../core/visit/figure.ts';
import { figureText } from '../../../web/src/words/figure-text.ts';
import { words } from '../../../web/src/words/words.ts';

const said = (figure: Parameters<typeof figureText>[0]) => figureText(figure, words());

it('[T6] numbers read as minutes, as m:ss from 5:00 down, and with a plus when over', () => {
  expect(said(figureUntil(540_000))).toBe('9 min');
  expect(said(figureUntil(300_001))).toBe('6 min');
  expect(said(figureUntil(300_000))).toBe('5:00');
  expect(said(figureUntil(61_000))).toBe('1:01');
  expect(said(figureUntil(0))).toBe('0:00');
  expect(said(figureUntil(-48_900))).toBe('+0:48');
  expect(said(figureUntil(-720_000))).toBe('+12 min');
});

it('[T6] time on hair reads m:ss however long it is', () => {
  expect(said(figureSince(605_000))).toBe('10:05');
  expect(said(figureSince(4_205_999))).toBe('70:05');
});
