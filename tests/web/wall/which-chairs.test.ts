import { describe, expect, it } from 'vitest';
import { chairsShown, fromNumber } from '../../../web/src/wall/which-chairs.ts';

const chairs = Array.from({ length: 20 }, (_, n) => ({ number: n + 1 }));
const numbers = (list: readonly { number: number }[]): number[] => list.map(({ number }) => number);

describe('the chairs of one wall', () => {
  it('begins at the number in the address and shows as many as fit', () => {
    const { chairs: here, others } = chairsShown(chairs, fromNumber('?from=13'), 12);
    expect(numbers(here)).toEqual([13, 14, 15, 16, 17, 18, 19, 20]);
    expect(numbers(others)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
  it('begins at the first chair without a number, or with one that is none', () => {
    for (const query of ['', '?from=', '?from=soon', '?theme=dark', '?from=Infinity', '?from=-3']) {
      expect(numbers(chairsShown(chairs, fromNumber(query), 12).chairs)).toEqual(numbers(chairs.slice(0, 12)));
    }
  });
  it('a number that no chair has means the next higher one; past the last, the last', () => {
    const gaps = [{ number: 1 }, { number: 4 }, { number: 9 }];
    expect(numbers(chairsShown(gaps, 2, 12).chairs)).toEqual([4, 9]);
    expect(numbers(chairsShown(gaps, 50, 12).chairs)).toEqual([9]);
    expect(chairsShown([], 50, 12)).toEqual({ chairs: [], others: [] });
  });
});
