import { describe, expect, it } from 'vitest';
import { earliest, latest, wholeSecond } from '../../core/time.ts';

describe('instants', () => {
  it('[T1] a move is recorded as the second in which it lies', () => {
    expect(wholeSecond(5_000)).toBe(5_000);
    expect(wholeSecond(5_999)).toBe(5_000);
    expect(wholeSecond(4_999)).toBe(4_000);
  });

  it('[E3] the earliest of what is known', () => {
    expect(earliest(3, null, 2, 5)).toBe(2);
    expect(earliest(2, 3)).toBe(2);
    expect(earliest(null, null)).toBeNull();
    expect(earliest()).toBeNull();
  });

  it('[E2] the latest of what is known', () => {
    expect(latest(3, null, 5, 2)).toBe(5);
    expect(latest(5, 3)).toBe(5);
    expect(latest(null)).toBeNull();
  });
});
