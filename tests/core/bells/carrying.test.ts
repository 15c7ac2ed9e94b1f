import { describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import { carriedOn, nextCarryAt, type Around, type Carry } from '../../../core/bells/carrying.ts';
import { longestShift } from '../../../core/bells/circles.ts';
import { miss, widen, type Ringing } from '../../../core/visit/evolve-bells.ts';
import { onShiftAs, peopleOf, sec, standing } from '../../support/bell-kit.ts';

const AMA = 'ama';
const ama = onShiftAs(AMA, ['stylist']);
const bo = onShiftAs('bo', ['assistant']);
const cy = onShiftAs('cy', ['senior']);
const em = onShiftAs('em', ['manager']);
const around = (changes: Partial<Around> = {}): Around => ({
  owner: { stylist: AMA, offeredTo: null },
  acts: [],
  underWay: [],
  people: peopleOf(ama, bo, cy, em),
  reach: null,
  ...changes,
});
const watched = (changes: Partial<Around> = {}) => around({ reach: { nobodySince: null, pushOnly: [] }, ...changes });
/** When the shifts of all of them run out: then it changes who is asked. */
const shiftsOver = sec(-3600) + longestShift;
const shown = (...people: string[]) => people.map((person) => ({ person, at: sec(1) }));

/** Everything that is to be done by `now`, done one after another as the floor does it. */
function allOf(bell: Bell, scene: Around, now: number): { done: Carry[]; bell: Bell } {
  const done: Carry[] = [];
  let ringing: Ringing = { bells: [bell], episodes: [] };
  for (;;) {
    const [one] = ringing.bells;
    if (one === undefined) throw new Error('the bell is gone');
    const next = carriedOn(one, scene, now);
    if (next === null) return { done, bell: one };
    done.push(next);
    const { cause, episode, level } = one;
    ringing =
      next.do === 'widen'
        ? widen(ringing, cause, next.circle, now)
        : miss(ringing, { cause, episode, level, person: next.person });
  }
}
const doneBy = (bell: Bell, seconds: number, scene = around()) => allOf(bell, scene, sec(seconds)).done;

describe('a bell that nobody takes', () => {
  it.each([
    ['WARNING', 'rinse', 45, 1],
    ['WARNING', 'rinse', 90, 2],
    ['CAUTION', 'pace', 120, 1],
    ['CAUTION', 'test', 60, 1],
    ['CAUTION', 'help', 60, 1],
  ] as const)('[R6] %s %s goes on after %s s to circle %s, to the millisecond', (level, kind, after, circle) => {
    const bell = standing({ level, kind, circle: circle === 2 ? 1 : 0 });
    expect(carriedOn(bell, around(), sec(after) - 1)).toBeNull();
    expect(carriedOn(bell, around(), sec(after))).toEqual({ do: 'widen', circle, why: 'untaken' });
    expect(nextCarryAt(bell, around(), sec(after) - 1)).toBe(sec(after));
  });

  it('[R6] CAUTION goes on once, and no further', () => {
    const bell = standing({ level: 'CAUTION', kind: 'pace', circle: 1, circleAt: sec(120) });
    expect(carriedOn(bell, around(), sec(9_999))).toBeNull();
    expect(nextCarryAt(bell, around(), sec(120))).toBe(shiftsOver);
  });

  it('[R6] NOTICE never goes on', () => {
    const bell = standing({ level: 'NOTICE', kind: 'soon' });
    expect(carriedOn(bell, watched(), sec(9_999))).toBeNull();
    expect(nextCarryAt(bell, watched(), sec(0))).toBeNull();
  });

  it('[R6] DANGER is with everybody and has nowhere to go', () => {
    const bell = standing({ level: 'DANGER', kind: 'over', circle: 2 });
    expect(carriedOn(bell, around(), sec(9_999))).toBeNull();
    expect(nextCarryAt(bell, around(), sec(0))).toBe(shiftsOver);
  });

  it('[R6] counts from when it came to its level', () => {
    const bell = standing({ levelAt: sec(100) });
    expect(carriedOn(bell, around(), sec(145) - 1)).toBeNull();
    expect(carriedOn(bell, around(), sec(145))).toMatchObject({ circle: 1 });
  });

  it('[R6] that was passed on before goes no further until its second instant', () => {
    const bell = standing({ circle: 1, circleAt: sec(10) });
    expect(carriedOn(bell, around(), sec(90) - 1)).toBeNull();
    expect(carriedOn(bell, around(), sec(90))).toEqual({ do: 'widen', circle: 2, why: 'untaken' });
  });
});

describe('a bell that somebody took', () => {
  const taken = (changes: Partial<Bell> = {}) => standing({ taken: { by: AMA, at: sec(10) }, ...changes });
  it.each([
    ['WARNING', 'rinse', 90],
    ['CAUTION', 'pace', 90],
  ] as const)('[R3] %s goes on to the next when the taking runs out', (level, kind, lasts) => {
    const bell = taken({ level, kind });
    expect(carriedOn(bell, around(), sec(10 + lasts) - 1)).toBeNull();
    expect(carriedOn(bell, around(), sec(10 + lasts))).toEqual({ do: 'widen', circle: 1, why: 'taking-expired' });
    expect(nextCarryAt(bell, around(), sec(10))).toBe(sec(10 + lasts));
  });

  it('[R3] and from there as a bell that nobody takes, from where it was', () => {
    const bell = taken({ circle: 1, circleAt: sec(100) });
    expect(carriedOn(bell, around(), sec(145) - 1)).toBeNull();
    expect(carriedOn(bell, around(), sec(145))).toEqual({ do: 'widen', circle: 2, why: 'untaken' });
  });

  it('[R3] burns taken are never carried on, and nobody is marked', () => {
    const burns = taken({ kind: 'burns', cause: 'burns', level: 'DANGER', circle: 2 });
    expect(carriedOn(burns, watched(), sec(99_999))).toBeNull();
    const narrow = taken({ kind: 'burns', cause: 'burns', level: 'DANGER', circle: 0 });
    expect(carriedOn(narrow, watched(), sec(99_999))).toBeNull();
  });

  it('[R7] while somebody goes nobody is marked; after it whoever has not seen it is', () => {
    expect(doneBy(taken(), 99, watched())).toEqual([]);
    const danger = taken({ level: 'DANGER', kind: 'over', circle: 2 });
    expect(doneBy(danger, 39.999, watched())).toEqual([]);
    expect(nextCarryAt(danger, watched(), sec(10))).toBe(sec(40));
    const late = doneBy(danger, 40, watched());
    expect(late.map((one) => one.do === 'unreached' && one.person)).toEqual(['bo', 'cy', 'em']);
  });
});

describe('where nobody is there', () => {
  it('[R6] it goes on at once', () => {
    const nobody = { owner: { stylist: null, offeredTo: null } };
    expect(doneBy(standing(), 0, around(nobody))).toEqual([{ do: 'widen', circle: 1, why: 'nobody-there' }]);
    expect(doneBy(standing(), 0, around({ ...nobody, people: peopleOf(em) }))).toEqual([
      { do: 'widen', circle: 1, why: 'nobody-there' },
      { do: 'widen', circle: 2, why: 'nobody-there' },
    ]);
  });

  it('[R3] also when all who were asked cannot', () => {
    expect(doneBy(standing({ passed: [AMA] }), 1)).toEqual([{ do: 'widen', circle: 1, why: 'nobody-there' }]);
  });
});

describe('not shown in time', () => {
  it.each([
    ['WARNING', 'rinse', 8, 0],
    ['CAUTION', 'pace', 30, 0],
    ['DANGER', 'over', 3, 2],
  ] as const)('[R7] %s %s within %s s, to the millisecond', (level, kind, within, circle) => {
    const bell = standing({ level, kind, circle });
    expect(carriedOn(bell, watched(), sec(within) - 1)).toBeNull();
    expect(carriedOn(bell, watched(), sec(within))).toEqual({ do: 'unreached', person: AMA });
    expect(nextCarryAt(bell, watched(), sec(0))).toBe(sec(within));
  });

  it.each([
    ['WARNING', 'rinse', 0],
    ['CAUTION', 'pace', 0],
    ['DANGER', 'over', 2],
  ] as const)('[R7] %s %s: whom only a push reaches has 30 s', (level, kind, circle) => {
    const scene = watched({ reach: { nobodySince: null, pushOnly: [AMA, 'bo', 'cy', 'em'] } });
    const bell = standing({ level, kind, circle });
    expect(carriedOn(bell, scene, sec(30) - 1)).toBeNull();
    expect(carriedOn(bell, scene, sec(30))).toEqual({ do: 'unreached', person: AMA });
  });

  it('[R7] where nobody knows of devices nobody is marked', () => {
    expect(doneBy(standing(), 44)).toEqual([]);
  });

  it('[R7] a bell that says that nobody is reached asks for no receipt', () => {
    expect(doneBy(standing({ kind: 'nobody-reached', circle: 2 }), 99, watched())).toEqual([]);
  });

  it('[R7] widens at once when nobody whose deed it is has it shown, by one circle', () => {
    const { done, bell } = allOf(standing(), watched(), sec(8));
    expect(done).toEqual([
      { do: 'unreached', person: AMA },
      { do: 'widen', circle: 1, why: 'not-shown' },
    ]);
    expect(bell).toMatchObject({ circle: 1, unreached: [AMA] });
    // Those of the next circle have the same time.
    expect(doneBy(bell, 15.999, watched())).toEqual([]);
    expect(nextCarryAt(bell, watched(), sec(8))).toBe(sec(16));
    expect(doneBy(bell, 16, watched())).toEqual([
      { do: 'unreached', person: 'bo' },
      { do: 'unreached', person: 'cy' },
      { do: 'widen', circle: 2, why: 'not-shown' },
    ]);
  });

  it('[R7] and does not as long as one of them has', () => {
    const bell = standing({ helper: 'bo', shown: shown('bo') });
    expect(doneBy(bell, 8, watched())).toEqual([{ do: 'unreached', person: AMA }]);
    expect(doneBy({ ...bell, unreached: [AMA] }, 44, watched())).toEqual([]);
  });

  it('[R7] a slower helper does not hold it up', () => {
    const scene = watched({ reach: { nobodySince: null, pushOnly: ['bo'] } });
    expect(doneBy(standing({ helper: 'bo' }), 8, scene)).toEqual([
      { do: 'unreached', person: AMA },
      { do: 'widen', circle: 1, why: 'not-shown' },
    ]);
  });

  it('[R7] each is marked once', () => {
    const bell = standing({ circle: 2, unreached: [AMA, 'bo', 'cy', 'em'] });
    expect(doneBy(bell, 44, watched())).toEqual([]);
  });

  it('[R3] whoever did something at the head needs no receipt for three minutes, and is asked for one after', () => {
    const scene = watched({ acts: [{ by: AMA, at: sec(-60) }] });
    expect(doneBy(standing(), 44, scene)).toEqual([]);
    expect(nextCarryAt(standing({ circle: 2 }), { ...scene, people: peopleOf(ama) }, sec(50))).toBe(sec(120));
    expect(carriedOn(standing({ level: 'CAUTION', kind: 'long-stage' }), scene, sec(120) - 1)).toBeNull();
    const widest = { ...scene, people: peopleOf(ama) };
    expect(carriedOn(standing({ circle: 2 }), widest, sec(120))).toEqual({ do: 'unreached', person: AMA });
  });

  it('[R7] whoever came to work or back later has the same time from then on', () => {
    const late = peopleOf({ ...ama, shift: { sinceAt: sec(20) } });
    expect(carriedOn(standing(), watched({ people: late }), sec(28) - 1)).toBeNull();
    expect(carriedOn(standing(), watched({ people: late }), sec(28))).toMatchObject({ person: AMA });
    const back = peopleOf({ ...ama, away: { fromAt: sec(-9), untilAt: sec(20), cover: null } }, em);
    const wide = standing({ circle: 2 });
    const seen = { ...wide, shown: shown('em') };
    expect(carriedOn(seen, watched({ people: back }), sec(28) - 1)).toBeNull();
    expect(carriedOn(seen, watched({ people: back }), sec(28))).toMatchObject({ person: AMA });
  });
});

describe('a deed that is being done', () => {
  it('[R6] holds its bell where it is', () => {
    const helped = watched({ underWay: ['pace'] });
    const pace = standing({ cause: 'pace', kind: 'pace', level: 'CAUTION' });
    expect(carriedOn(pace, helped, sec(999))).toBeNull();
    expect(nextCarryAt(pace, helped, sec(0))).toBeNull();
    expect(carriedOn(standing(), helped, sec(45))).not.toBeNull();
  });
});

describe('after a gap', () => {
  it('[R8] what passed in it happens at once, and once', () => {
    const { done, bell } = allOf(standing(), around(), sec(3_600));
    expect(done).toEqual([{ do: 'widen', circle: 2, why: 'untaken' }]);
    expect(bell.circleAt).toBe(sec(3_600));
    expect(allOf(bell, around(), sec(3_600)).done).toEqual([]);
    expect(nextCarryAt(bell, around(), sec(3_600))).toBe(shiftsOver);
  });

  it('[R8] a taking that ran out in it likewise', () => {
    const taken = standing({ taken: { by: AMA, at: sec(10) } });
    expect(doneBy(taken, 3_600)).toEqual([{ do: 'widen', circle: 2, why: 'taking-expired' }]);
    expect(doneBy(taken, 120)).toEqual([{ do: 'widen', circle: 1, why: 'taking-expired' }]);
  });
});

describe('when it changes by itself', () => {
  it('[T7] also when somebody comes back, or a shift is over', () => {
    const away = peopleOf({ ...ama, away: { fromAt: sec(-9), untilAt: sec(20), cover: null } }, bo);
    expect(nextCarryAt(standing({ circle: 1, shown: shown('bo') }), watched({ people: away }), sec(10))).toBe(sec(20));
    const tired = peopleOf({ ...ama, shift: { sinceAt: sec(5) - longestShift } }, bo);
    expect(nextCarryAt(standing({ shown: shown(AMA) }), watched({ people: tired }), sec(0))).toBe(sec(5));
    expect(doneBy(standing({ shown: shown(AMA) }), 5, around({ people: tired }))).toEqual([
      { do: 'widen', circle: 1, why: 'nobody-there' },
    ]);
  });
});
