import { describe, expect, it } from 'vitest';
import { actedFor, othersHearAfter, type BellKind } from '../../../core/bells/bell.ts';
import { soundingOf } from '../../../core/bells/sounding.ts';
import { sec as s, standing as bell } from '../../support/bell-kit.ts';

const takenAt = (seconds: number) => ({ taken: { by: 'person-ama', at: s(seconds) } });
const acted = (seconds: number, by: string | null = 'person-ama') => [{ by, at: s(seconds) }];
const inRoom = (one: ReturnType<typeof bell>, now: number) => soundingOf(one, 'room', [], now);

describe('a bell as heard in the room', () => {
  it.each([
    ['DANGER', 5_000],
    ['WARNING', 15_000],
    ['CAUTION', 30_000],
  ] as const)('[R5] %s repeats every %s ms from when it came to its level', (level, everyMs) => {
    expect(inRoom(bell({ level, levelAt: s(3) }), s(4))).toEqual({ sinceAt: s(3), everyMs, once: false });
  });

  it('[R5] NOTICE is shown only, taken or not', () => {
    expect(inRoom(bell({ level: 'NOTICE', kind: 'soon' }), s(500))).toBeNull();
    expect(inRoom(bell({ level: 'NOTICE', kind: 'soon', ...takenAt(0) }), s(500))).toBeNull();
  });

  it.each([
    ['DANGER', 30],
    ['WARNING', 90],
    ['CAUTION', 90],
  ] as const)('[R3] %s taken is quiet, and sounds again when it still stands %s s later', (level, quiet) => {
    const taken = bell({ level, ...takenAt(10) });
    expect(inRoom(taken, s(10))).toBeNull();
    expect(inRoom(taken, s(10 + quiet) - 1)).toBeNull();
    expect(inRoom(taken, s(10 + quiet))).toMatchObject({ sinceAt: s(10 + quiet), once: false });
  });

  it.each([
    ['WARNING', 15, 'over'],
    ['DANGER', 5, 'over'],
    ['DANGER', 5, 'tingles'],
  ] as const)('[R3] %s come to since a taking sounds once through it, for %s s: %s', (level, every, kind) => {
    const over = bell({ kind, level, levelAt: s(20), ...takenAt(10) });
    expect(inRoom(over, s(20))).toEqual({ sinceAt: s(20), everyMs: every * 1000, once: true });
    expect(inRoom(over, s(20 + every) - 1)).not.toBeNull();
    expect(inRoom(over, s(20 + every))).toBeNull();
  });

  it('[R3] nothing sounds through a taking that came with or after it, nor a rinse, nor over at CAUTION', () => {
    expect(inRoom(bell({ kind: 'over', levelAt: s(20), ...takenAt(20) }), s(20))).toBeNull();
    expect(inRoom(bell({ kind: 'over', levelAt: s(20), ...takenAt(21) }), s(21))).toBeNull();
    expect(inRoom(bell({ kind: 'rinse', levelAt: s(20), ...takenAt(10) }), s(20))).toBeNull();
    expect(inRoom(bell({ kind: 'over', level: 'CAUTION', levelAt: s(20), ...takenAt(10) }), s(20))).toBeNull();
  });

  it('[R3] burns sound until somebody takes them, and then stay quiet until a person closes them', () => {
    const burns = bell({ cause: 'burns', kind: 'burns', level: 'DANGER' });
    expect(inRoom(burns, s(40))).toMatchObject({ everyMs: 5_000 });
    expect(inRoom({ ...burns, ...takenAt(10) }, s(11))).toBeNull();
    expect(inRoom({ ...burns, ...takenAt(10) }, s(1000))).toBeNull();
  });
});

describe('with somebody at the head', () => {
  it('[R3] whoever did something there within 3 min is shown it and not rung, whatever its level', () => {
    for (const level of ['CAUTION', 'WARNING', 'DANGER'] as const) {
      const rung = bell({ level, levelAt: s(60), soundAt: s(60) });
      expect(soundingOf(rung, 'person-ama', acted(0), s(180) - 1)).toBeNull();
      expect(soundingOf(rung, 'person-ama', acted(0), s(180))).toMatchObject({ sinceAt: s(60) });
    }
    expect(actedFor).toBe(180_000);
  });

  it('[R3] the others hear it a minute after it began to sound, to the millisecond, and the room with them', () => {
    for (const ear of ['room', 'person-joss'] as const) {
      expect(soundingOf(bell(), ear, acted(-1), s(60) - 1)).toBeNull();
      expect(soundingOf(bell(), ear, acted(-1), s(60))).toEqual({ sinceAt: s(0), everyMs: 15_000, once: false });
    }
    expect(othersHearAfter).toBe(60_000);
  });

  it('[R3] the minute counts from the first level that sounds: a louder one does not begin it anew', () => {
    const risen = bell({ kind: 'over', levelAt: s(50), soundAt: s(0) });
    expect(soundingOf(risen, 'room', acted(40), s(60) - 1)).toBeNull();
    expect(soundingOf(risen, 'room', acted(40), s(60))).toMatchObject({ sinceAt: s(50) });
  });

  it('[R3] an act longer ago than 3 min keeps nothing quiet; one of hands that nobody knows does', () => {
    expect(soundingOf(bell(), 'room', acted(-180), s(0))).not.toBeNull();
    expect(soundingOf(bell(), 'room', acted(-179), s(0))).toBeNull();
    expect(soundingOf(bell(), 'person-joss', acted(-60, null), s(1))).toBeNull();
  });

  it('[R3] it sounds at once when the last who acted there leaves the three minutes', () => {
    expect(soundingOf(bell(), 'room', acted(-150), s(30) - 1)).toBeNull();
    expect(soundingOf(bell(), 'room', acted(-150), s(30))).not.toBeNull();
  });

  it('[R3] DANGER is heard by the others at once', () => {
    const danger = bell({ level: 'DANGER', kind: 'over' });
    expect(soundingOf(danger, 'room', acted(0), s(0))).not.toBeNull();
    expect(soundingOf(danger, 'person-joss', acted(0), s(0))).not.toBeNull();
  });

  it.each(['tingles', 'help', 'abandoned', 'burns'] as const)(
    '[S6] %s calls for somebody: heard by all but whoever called',
    (kind: BellKind) => {
      const call = bell({ kind, level: 'CAUTION' });
      expect(soundingOf(call, 'room', acted(0), s(0))).not.toBeNull();
      expect(soundingOf(call, 'person-joss', acted(0), s(0))).not.toBeNull();
      expect(soundingOf(call, 'person-ama', acted(0), s(1))).toBeNull();
    },
  );

  it('[R3] a taking that ran out is heard by all but whoever is at the head', () => {
    const expired = bell(takenAt(0));
    expect(soundingOf(expired, 'person-joss', acted(60), s(90))).toMatchObject({ sinceAt: s(90) });
    expect(soundingOf(expired, 'person-ama', acted(60), s(90))).toBeNull();
  });
});

describe('whoever touched something at a head before', () => {
  it.each([
    ['DANGER', 'over'],
    ['DANGER', 'tingles'],
    ['CAUTION', 'help'],
    ['CAUTION', 'pace'],
  ] as const)('[R3] is rung by %s %s that came after it, and not by what they raised themselves', (level, kind) => {
    const one = bell({ level, kind, dueAt: s(60), levelAt: s(60) });
    expect(soundingOf(one, 'person-ama', acted(59), s(61))).not.toBeNull();
    expect(soundingOf(one, 'person-ama', acted(60), s(61))).toBeNull();
    expect(soundingOf(one, 'person-joss', acted(60), s(61))).not.toBeNull();
  });

  it('[R3] is only shown what is no DANGER and calls for nobody else', () => {
    const one = bell({ level: 'WARNING', kind: 'rinse', dueAt: s(60), levelAt: s(60) });
    expect(soundingOf(one, 'person-ama', acted(59), s(61))).toBeNull();
  });
});
