import { describe, expect, it } from 'vitest';
import { canvasMeasure, firstThatFits, typeThatFits } from '../../../web/src/wall/fit.ts';
import { whoTypePx } from '../../../web/src/wall/lane-type.ts';

/** A canvas on which every character but a digit is half its type wide. */
function canvas() {
  const asked: string[] = [];
  const context = {
    font: '',
    measureText: (text: string) => {
      asked.push(text);
      return { width: text.length * Number.parseFloat(context.font.split(' ')[1] ?? '0') * 0.5 } as TextMetrics;
    },
  };
  return { context, asked };
}

describe('what fits', () => {
  it('digits count at their tabular width, which a canvas does not know', () => {
    const measure = canvasMeasure(canvas().context);
    expect(measure('1:48', 700)).toBeCloseTo(0.5 + 3 * 0.7, 6);
  });
  it('asks for the same text once', () => {
    const { context, asked } = canvas();
    const measure = canvasMeasure(context);
    measure('rinse', 600);
    measure('rinse', 600);
    measure('rinse', 700);
    expect(asked).toEqual(['rinse', 'rinse']);
  });
  it('the first wording that fits, else the shortest', () => {
    const width = (text: string): number => text.length;
    expect(firstThatFits(['shampoo 1 of 2', 'shampoo 1/2', 'shampoo'], width, 20)).toBe('shampoo 1 of 2');
    expect(firstThatFits(['shampoo 1 of 2', 'shampoo 1/2', 'shampoo'], width, 11)).toBe('shampoo 1/2');
    expect(firstThatFits(['shampoo 1 of 2', 'shampoo 1/2', 'shampoo'], width, 3)).toBe('shampoo');
  });
  it('type is as wished where there is room, else as large as fits', () => {
    expect(typeThatFits(65, 10, 650)).toBe(65);
    expect(typeThatFits(65, 20, 650)).toBe(32.5);
    expect(typeThatFits(65, 0, 0)).toBe(65);
  });
});

describe('a name in its column', () => {
  const measure = (text: string): number => text.length * 0.5;
  const room = { smallTypePx: 30, whoPx: 230, gapPx: 18, lanePx: 76 };
  it('stands at full size while its words wrap within the lane', () => {
    expect(whoTypePx('Ama', room, measure)).toBe(30);
    expect(whoTypePx('taken: Ama-Serwaa', room, measure)).toBe(30);
  });
  it('a longer one is set smaller, never cut', () => {
    const size = whoTypePx('Maria Ines de Almeida e Vasconcelos', room, measure);
    expect(size).toBeLessThan(30);
    expect(size).toBeGreaterThanOrEqual(15);
  });
  it('may break after a hyphen', () => {
    expect(whoTypePx('Wojciechow-Brzeczyszcz', room, measure)).toBeGreaterThan(
      whoTypePx('WojciechowxBrzeczyszcz', room, measure),
    );
  });
});
