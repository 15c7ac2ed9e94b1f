import { describe, expect, it } from 'vitest';
import type { Bell } from '../../../core/bells/bell.ts';
import type { PersonReach } from '../../../shared/wire.ts';
import {
  missedBy,
  missedWordings,
  nobodyOnShift,
  otherWallSilent,
  quietPhones,
  withoutPhone,
} from '../../../web/src/wall/reach-words.ts';
import { withMissed } from '../../../web/src/wall/top-words.ts';
import { goesNow } from '../../../core/bells/taking.ts';
import { bellWho, whoWordings } from '../../../web/src/wall/who-words.ts';
import { words } from '../../../web/src/words/words.ts';
import { onShiftAs, peopleOf, sec, standing } from '../../support/bell-kit.ts';

const w = words();
const known: Readonly<Record<string, string>> = { a: 'Ada', j: 'Joss', k: 'Kim' };
const names = { nameOf: (id: string | null) => known[id ?? ''] ?? null };
const now = sec(10);
const said = (bell: Bell | null, changes: Partial<Parameters<typeof whoWordings>[0]> = {}) =>
  whoWordings({ bell, stylist: 'a', asked: true, helpToo: false, named: true, ...changes }, now, names, w);
const floor = (bell: Bell) => ({
  bell,
  visit: null,
  chair: null,
  rung: {
    ringing: { bells: [bell], episodes: [] },
    owner: { stylist: null, offeredTo: null },
    acts: [],
    underWay: [],
  },
});

describe('who stands behind a bell', () => {
  it('[R3] without a bell, and while nobody was missed, it is whose head it is', () => {
    expect(said(null)).toEqual(['Ada']);
    // Whose head it is must not read as who goes.
    expect(said(standing())).toEqual(['nobody goes yet · Ada', 'nobody goes yet']);
    expect(said(null, { stylist: null })).toEqual(['']);
  });
  it('[R3] whoever took it goes, until the taking runs out', () => {
    const taken = standing({ taken: { by: 'j', at: sec(0) } });
    expect(said(taken)).toEqual(['Joss goes']);
    expect(goesNow(taken, sec(90) - 1)).toBe('j');
    expect(goesNow(taken, sec(90))).toBeNull();
    const danger = standing({ level: 'DANGER', taken: { by: 'j', at: sec(0) } });
    expect(goesNow(danger, sec(30))).toBeNull();
    expect(goesNow({ ...danger, kind: 'burns' }, sec(3000))).toBe('j');
  });
  it('[R7] whoever was not shown it in time is named, more than two are counted', () => {
    expect(said(standing({ unreached: ['a'] }))[0]).toBe('not shown to Ada');
    expect(said(standing({ unreached: ['a', 'j'] }))[0]).toBe('not shown to Ada, Joss');
    expect(said(standing({ unreached: ['a', 'j', 'k'] }))[0]).toBe('not shown to 3 people');
    expect(said(standing({ level: 'NOTICE', unreached: ['a'] }))).toEqual(['Ada']);
  });
  it('[R6] how far it was carried on; DANGER and what asks nobody are not carried', () => {
    expect(said(standing({ circle: 1 }))[0]).toBe('all asked');
    expect(said(standing({ circle: 2, unreached: ['a'] }))).toEqual([
      'not shown to Ada · managers asked',
      'not shown · managers asked',
      'managers asked',
    ]);
    expect(bellWho(standing({ circle: 2, level: 'DANGER' }), true, now).circle).toBe(0);
    expect(said(standing({ circle: 2 }), { asked: false })).toEqual(['Ada']);
  });
  it('[W4] a room that may not read names reads none', () => {
    expect(said(standing({ taken: { by: 'j', at: sec(0) } }), { named: false })).toEqual(['taken']);
    const all = [standing(), standing({ unreached: ['a'], circle: 1 }), null].flatMap((bell) =>
      said(bell, { named: false, helpToo: true }),
    );
    expect(all.join(' ')).not.toMatch(/Ada|Joss/);
    expect(all).toContain('not shown · all asked · help here');
    expect(all[0]).toBe('nobody goes yet · help here');
  });
});

describe('who cannot be reached, in the top line', () => {
  const person = (id: string, changes: Partial<PersonReach> = {}): PersonReach => ({
    person: id,
    how: 'rings',
    sinceAt: 0,
    mutedUntil: null,
    ...changes,
  });
  const seen = (people: readonly PersonReach[], named = true) => ({
    reach: { people, walls: { sounding: 1, silent: 0 } },
    people: peopleOf(onShiftAs('a', ['stylist']), onShiftAs('j', ['assistant'], { shift: null })),
    now,
    named,
  });
  it('[R7] counts each person once, and only for bells that nobody has taken', () => {
    const taken = standing({ unreached: ['k'], taken: { by: 'a', at: sec(9) } });
    const bells = [standing({ unreached: ['a', 'j'] }), standing({ unreached: ['j'] }), taken].map(floor);
    expect(missedBy(bells, now)).toEqual(['a', 'j']);
    expect(missedWordings(['a', 'j'], true, names, w)).toEqual(['not reached: Ada, Joss', '2 not reached']);
    expect(missedWordings(['a'], false, names, w)).toEqual(['1 not reached']);
    expect(missedWordings([], true, names, w)).toEqual(['']);
  });
  it('names give way to their number before a level gives way', () => {
    const one = [{ text: 'DANGER', chairs: [] }];
    const two = [...one, { text: 'NOTICE 1', chairs: [] }];
    expect(withMissed([two, one], ['names', 'n']).map(({ tally, missed }) => [tally.length, missed])).toEqual([
      [2, 'names'],
      [2, 'n'],
      [1, 'names'],
      [1, 'n'],
    ]);
  });
  it('[R4] a quiet phone is said with what is left; several with the longest', () => {
    const muted = person('a', { mutedUntil: now + 79_400 });
    expect(quietPhones(seen([muted]), names, w)).toBe('Ada’s phone is quiet 1:20');
    expect(quietPhones(seen([muted], false), names, w)).toBe('a phone is quiet 1:20');
    const both = [muted, person('j', { mutedUntil: now + 5_000 })];
    expect(quietPhones(seen(both), names, w)).toBe('2 phones are quiet, up to 1:20');
    expect(quietPhones(seen([person('a', { mutedUntil: now })]), names, w)).toBeNull();
  });
  it('[R7] whoever works and has no phone is said; whoever is off shift is not', () => {
    const none = [person('a', { how: 'no' }), person('j', { how: 'no' })];
    expect(withoutPhone(seen(none), names, w)).toBe('no phone: Ada');
    expect(withoutPhone(seen(none, false), names, w)).toBe('1 person without a phone');
    expect(withoutPhone(seen([person('a', { how: 'push' })]), names, w)).toBeNull();
    expect(withoutPhone({ ...seen([]), reach: null }, names, w)).toBeNull();
  });
  it('[R6] where nobody is on shift the wall is the bell', () => {
    expect(nobodyOnShift(seen([]))).toBe(false);
    expect(nobodyOnShift({ people: peopleOf(onShiftAs('j', ['stylist'], { shift: null })), now })).toBe(true);
    expect(nobodyOnShift({ people: {}, now })).toBe(true);
  });
  it('another wall that cannot sound is told; this one says so itself', () => {
    const walls = (silent: number) => ({ people: [], walls: { sounding: 1, silent } });
    expect(otherWallSilent(walls(1), true)).toBe(true);
    expect(otherWallSilent(walls(1), false)).toBe(false);
    expect(otherWallSilent(walls(2), false)).toBe(true);
    expect(otherWallSilent(null, true)).toBe(false);
  });
});
