import { describe, expect, it } from 'vitest';
import { checkRules } from '../../../core/directions/check.ts';
import { draftOf, type DirectionsDraft } from '../../../web/src/salon/form/directions-draft.ts';
import {
  moved,
  sumOfShares,
  withCount,
  withHairline,
  without,
  withSharesScaled,
  type PartDraft,
} from '../../../web/src/salon/form/part-plan.ts';
import { readDraft } from '../../../web/src/salon/form/read-draft.ts';
import { relaxer } from '../../support/directions-kit.ts';

const four = draftOf(relaxer(), 'Name', 'Source').parts;
const shares = (parts: readonly PartDraft[]) => parts.map(({ share }) => share);
const places = (parts: readonly PartDraft[]) => parts.map(({ place }) => place);
const typed = (list: readonly string[]): PartDraft[] => list.map((share) => ({ place: 'other', share, ceiling: '' }));

describe('the plan of parts in the form', () => {
  it.each([1, 2, 3, 5, 8, 12])('%i parts: new ones go by their number, shares that were equal stay equal', (count) => {
    const parts = withCount(four, count);
    expect(parts).toHaveLength(count);
    expect(places(parts).slice(0, 4)).toEqual(places(four).slice(0, count));
    expect(
      places(parts)
        .slice(4)
        .every((place) => place === 'other'),
    ).toBe(true);
    expect(sumOfShares(parts)).toBe(100);
    const draft: DirectionsDraft = { ...draftOf(relaxer(), 'Name', 'Source'), parts };
    const { rules } = readDraft(draft);
    expect(rules === null ? ['unread'] : checkRules(rules)).toEqual([]);
  });
  it('shares that somebody typed are left alone, and a new part waits for its own', () => {
    const parts = typed(['60', '40']);
    expect(shares(withCount(parts, 3))).toEqual(['60', '40', '']);
    expect(shares(without(parts, 0))).toEqual(['40']);
  });
  it('a hairline comes last, and stays last while parts come and go', () => {
    const parts = withHairline(four);
    expect(places(parts)).toEqual([...places(four), 'hairline']);
    expect(shares(parts)).toEqual(['20', '20', '20', '20', '20']);
    expect(places(withCount(parts, 7)).at(-1)).toBe('hairline');
    expect(places(withCount(parts, 2))).toEqual(['nape-left', 'hairline']);
    expect(places(withCount(parts, 1))).toEqual(['nape-left']);
  });
  it('a part moves with its share and its ceiling, and not over the ends', () => {
    const parts = [...typed(['60']), { place: 'hairline' as const, share: '40', ceiling: '20' }];
    expect(moved(parts, 1, -1)).toEqual([parts[1], parts[0]]);
    expect(moved(parts, 0, 1)).toEqual([parts[1], parts[0]]);
    expect(moved(parts, 0, -1)).toEqual(parts);
    expect(moved(parts, 1, 1)).toEqual(parts);
  });
  it.each([
    [
      ['1', '1', '2'],
      ['25', '25', '50'],
    ],
    [
      ['30', '30', '60'],
      ['25', '25', '50'],
    ],
    [
      ['1', '1', '1'],
      ['33.34', '33.33', '33.33'],
    ],
    [
      ['40', '0', ''],
      ['100', '0', '0'],
    ],
    [
      ['', ''],
      ['', ''],
    ],
  ])('asked to, %j become %j: the same proportions at exactly 100 %%', (before, after) => {
    expect(shares(withSharesScaled(typed(before)))).toEqual(after);
  });
  it('the sum is of what is typed, with comma or point', () => {
    expect(sumOfShares(typed(['33.33', '33,33', '33.34', 'ten']))).toBe(100);
  });
});
