import { describe, expect, it } from 'vitest';
import { withWords, wordKey } from '../../core/words.ts';

describe('words kept aside', () => {
  it('[S4] each has a key of its own', () => {
    const keys = [
      wordKey.salonName(),
      wordKey.place(7),
      wordKey.person('p'),
      wordKey.directions('d'),
      wordKey.source('d', 2),
      wordKey.service('s'),
      wordKey.visit('v'),
      wordKey.note('v', 3),
    ];
    expect(keys).toEqual([
      'salon/name',
      'place/7/label',
      'person/p/name',
      'directions/d/name',
      'directions/d/source/2',
      'service/s/name',
      'visit/v/label',
      'visit/v/note/3',
    ]);
  });

  it('[S4] are written over and erased, and left as they are by no change', () => {
    const before = { a: '1', b: '2' };
    expect(withWords(before, [])).toBe(before);
    expect(
      withWords(before, [
        { key: 'a', text: null },
        { key: 'b', text: '3' },
        { key: 'c', text: '' },
      ]),
    ).toEqual({
      b: '3',
      c: '',
    });
    expect(before).toEqual({ a: '1', b: '2' });
  });
});
