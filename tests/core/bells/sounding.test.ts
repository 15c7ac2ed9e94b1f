import { describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import { soundingOf } from '../../../core/bells/sounding.ts';
import { NOON } from '../../support/floor-life.ts';

const s = (seconds: number): number => NOON + seconds * 1000;
const bell = (changes: Partial<Bell> = {}): Bell => ({
  cause: 'off',
  kind: 'rinse',
  level: 'WARNING',
  episode: 1,
  dueAt: s(0),
  rungAt: s(0),
  levelAt: s(0),
  taken: null,
  ...changes,
});
const takenAt = (seconds: number) => ({ taken: { by: 'person-ama', at: s(seconds) } });

describe('a bell as heard', () => {
  it.each([
    ['DANGER', 5_000],
    ['WARNING', 15_000],
    ['CAUTION', 30_000],
  ] as const)('[R5] %s repeats every %s ms from when it came to its level', (level, everyMs) => {
    expect(soundingOf(bell({ level, levelAt: s(3) }), s(4))).toEqual({ sinceAt: s(3), everyMs, once: false });
  });

  it('[R5] NOTICE is shown only, taken or not', () => {
    expect(soundingOf(bell({ level: 'NOTICE', kind: 'soon' }), s(500))).toBeNull();
    expect(soundingOf(bell({ level: 'NOTICE', kind: 'soon', ...takenAt(0) }), s(500))).toBeNull();
  });

  it.each([
    ['DANGER', 30],
    ['WARNING', 90],
    ['CAUTION', 90],
  ] as const)('[R3] %s taken is quiet, and sounds again when it still stands %s s later', (level, quiet) => {
    const taken = bell({ level, ...takenAt(10) });
    expect(soundingOf(taken, s(10))).toBeNull();
    expect(soundingOf(taken, s(10 + quiet) - 1)).toBeNull();
    expect(soundingOf(taken, s(10 + quiet))).toMatchObject({ sinceAt: s(10 + quiet), once: false });
  });

  it.each([
    ['WARNING', 15],
    ['DANGER', 5],
  ] as const)('[R3] over at %s sounds once through an earlier taking, for %s s', (level, every) => {
    const over = bell({ kind: 'over', level, levelAt: s(20), ...takenAt(10) });
    expect(soundingOf(over, s(20))).toEqual({ sinceAt: s(20), everyMs: every * 1000, once: true });
    expect(soundingOf(over, s(20 + every) - 1)).not.toBeNull();
    expect(soundingOf(over, s(20 + every))).toBeNull();
  });

  it('[R3] nothing sounds through a taking that came with or after it, nor a rinse, nor over at CAUTION', () => {
    expect(soundingOf(bell({ kind: 'over', levelAt: s(20), ...takenAt(20) }), s(20))).toBeNull();
    expect(soundingOf(bell({ kind: 'over', levelAt: s(20), ...takenAt(21) }), s(21))).toBeNull();
    expect(soundingOf(bell({ kind: 'rinse', levelAt: s(20), ...takenAt(10) }), s(20))).toBeNull();
    expect(soundingOf(bell({ kind: 'over', level: 'CAUTION', levelAt: s(20), ...takenAt(10) }), s(20))).toBeNull();
  });

  it('[R3] burns sound until somebody takes them, and then stay quiet until a person closes them', () => {
    const burns = bell({ cause: 'burns', kind: 'burns', level: 'DANGER' });
    expect(soundingOf(burns, s(40))).toMatchObject({ everyMs: 5_000 });
    expect(soundingOf({ ...burns, ...takenAt(10) }, s(11))).toBeNull();
    expect(soundingOf({ ...burns, ...takenAt(10) }, s(1000))).toBeNull();
  });
});
