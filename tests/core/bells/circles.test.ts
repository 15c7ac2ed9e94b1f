import { describe, expect, it } from 'vitest';
import { bellKinds, type Bell, type BellKind, type Circle } from '../../../core/bells/bell.ts';
import {
  audienceOf,
  circleOf,
  firstPeopled,
  isHere,
  longestShift,
  nobodys,
  onShift,
  type Owner,
} from '../../../core/bells/circles.ts';
import { whose } from '../../../core/bells/whose.ts';
import { HOUR } from '../../../core/time.ts';
import { onShiftAs, peopleOf, sec, standing } from '../../support/bell-kit.ts';

const now = sec(0);
const AMA = 'ama';
const own: Owner = { stylist: AMA, offeredTo: null };
const off = { shift: null };
const ama = onShiftAs(AMA, ['stylist']);
const bo = onShiftAs('bo', ['assistant']);
const cy = onShiftAs('cy', ['senior']);
const di = onShiftAs('di', ['reception']);
const em = onShiftAs('em', ['manager']);
const fi = onShiftAs('fi', ['stylist'], off);
const gu = onShiftAs('gu', ['owner'], off);
const salon = peopleOf(ama, bo, cy, di, em, fi, gu);
const louder = (kind: BellKind): Bell => standing({ kind, helper: whose[kind].helper ? 'bo' : null });

describe('whose bell it is', () => {
  /** The table of bells, column "for"; Bo is the one free pair of hands, Em the manager on shift. */
  const table: Readonly<Record<BellKind, string>> = {
    'begun?': 'ama',
    pace: 'ama bo',
    soon: 'ama',
    test: 'ama',
    rinse: 'ama bo',
    over: 'ama bo',
    'water-on?': 'ama bo',
    water: 'ama',
    dwell: 'ama',
    'back-to-rinse': 'ama',
    'long-stage': 'ama',
    unattended: 'em',
    tingles: 'ama',
    help: 'cy',
    burns: 'ama bo cy di em',
    abandoned: 'ama em',
    'nobody-reached': 'em',
    'time-uncertain': 'ama bo cy di em',
    'not-saved': 'ama bo cy di em',
  };

  it.each(bellKinds)('[R2] %s asks first those of its row', (kind) => {
    expect(circleOf(louder(kind), 0, own, salon, now).join(' ')).toBe(table[kind]);
  });

  it.each([
    [0, 'ama bo'],
    [1, 'ama bo cy'],
    [2, 'ama bo cy em di'],
  ] as const)('[R6] circle %s asks the smaller ones, then who is on the floor, then managers', (circle, asked) => {
    expect(circleOf(louder('rinse'), circle, own, salon, now)).toEqual(asked.split(' ').sort());
  });

  it('[R6] DANGER is everybody’s at once, whatever its row', () => {
    expect(circleOf(standing({ kind: 'over', level: 'DANGER' }), 0, own, salon, now)).toEqual(
      'ama bo cy di em'.split(' '),
    );
  });

  it('[R2] a head that is offered asks both until it is answered', () => {
    const owner = { stylist: AMA, offeredTo: 'cy' };
    expect(circleOf(standing({ kind: 'test' }), 0, owner, salon, now)).toEqual([AMA, 'cy']);
  });

  it('[R6] nobody is asked who is not on shift, who has left, or who is not known', () => {
    const asked = (owner: Owner, people = salon) => circleOf(standing({ kind: 'test' }), 0, owner, people, now);
    expect(asked({ stylist: 'fi', offeredTo: null })).toEqual([]);
    expect(asked({ stylist: 'nobody', offeredTo: null })).toEqual([]);
    expect(asked(nobodys)).toEqual([]);
    expect(asked(own, peopleOf({ ...ama, retired: true }, bo))).toEqual([]);
  });
});

describe('away, and covered', () => {
  const away = (cover: string | null, untilAt = sec(600)) => ({ away: { fromAt: sec(-60), untilAt, cover } });
  const with_ = (changes: Partial<typeof ama>) => peopleOf({ ...ama, ...changes }, bo, cy, em);
  const asked = (people: ReturnType<typeof peopleOf>, at = now) =>
    circleOf(standing({ kind: 'test' }), 0, own, people, at);

  it('[R6] whoever covers is asked instead, until the very end of it', () => {
    expect(asked(with_(away('cy')))).toEqual(['cy']);
    expect(asked(with_(away('cy')), sec(600) - 1)).toEqual(['cy']);
    expect(asked(with_(away('cy')), sec(600))).toEqual([AMA]);
  });

  it('[R6] without cover, or with one who is away or off too, nobody is', () => {
    expect(asked(with_(away(null)))).toEqual([]);
    expect(asked(peopleOf({ ...ama, ...away('fi') }, fi))).toEqual([]);
    expect(asked(peopleOf({ ...ama, ...away('bo') }, { ...bo, ...away(null) }))).toEqual([]);
    expect(asked(with_(away('nobody')))).toEqual([]);
  });

  it('[R6] a helper who went away is covered likewise; on the floor nobody away is asked', () => {
    const people = peopleOf(ama, { ...bo, ...away('cy') }, cy);
    expect(circleOf(louder('rinse'), 0, own, people, now)).toEqual([AMA, 'cy']);
    expect(circleOf(standing(), 1, nobodys, peopleOf(ama, { ...bo, ...away(null) }), now)).toEqual([AMA]);
  });
});

describe('a shift', () => {
  it('[R6] that nobody ended is over after 16 h, to the millisecond', () => {
    const begun = onShiftAs(AMA, ['stylist'], { shift: { sinceAt: 0 } });
    expect(longestShift).toBe(16 * HOUR);
    expect(onShift(begun, 16 * HOUR - 1)).toBe(true);
    expect(onShift(begun, 16 * HOUR)).toBe(false);
    expect(isHere(begun, 16 * HOUR - 1)).toBe(true);
    expect(circleOf(standing({ kind: 'test' }), 0, own, peopleOf(begun), 16 * HOUR)).toEqual([]);
  });
});

describe('managers', () => {
  const unattended = standing({ kind: 'unattended', level: 'CAUTION' });
  it('[R6] with none of them here, all who are not away: somebody must be the last to ask', () => {
    expect(circleOf(unattended, 0, own, peopleOf(ama, gu, { ...em, ...off }), now)).toEqual(['em', 'gu']);
    const away = { away: { fromAt: sec(-1), untilAt: sec(60), cover: null } };
    expect(circleOf(unattended, 0, own, peopleOf(ama, { ...gu, ...away }), now)).toEqual([]);
    expect(circleOf(unattended, 0, own, peopleOf(ama, { ...gu, retired: true }), now)).toEqual([]);
  });
  it('[R6] one who is here is enough', () => {
    expect(circleOf(unattended, 0, own, peopleOf(em, gu), now)).toEqual(['em']);
  });
  it('[R6] with nobody on shift nobody goes by a phone, and the wall is the bell', () => {
    const closed = peopleOf(fi, gu, { ...em, ...off });
    for (const kind of bellKinds) expect(circleOf(louder(kind), 2, own, closed, now)).toEqual([]);
  });
});

describe('the circle that a bell begins in', () => {
  const begins = (bell: Bell, people = salon, least: Circle = 0, owner = own) =>
    firstPeopled(bell, least, owner, people, now);
  it('[R6] is the first in which there is somebody', () => {
    expect(begins(standing({ kind: 'test' }))).toBe(0);
    expect(begins(standing({ kind: 'test' }), salon, 0, nobodys)).toBe(1);
    expect(begins(standing({ kind: 'test' }), peopleOf(em, fi))).toBe(2);
    expect(begins(standing({ kind: 'test' }), peopleOf(fi))).toBe(2);
  });
  it('[R6] is never smaller than where it already was', () => {
    expect(begins(standing({ kind: 'test' }), salon, 1)).toBe(1);
  });
  it('[R6] is the widest for DANGER and for what is everybody’s; NOTICE goes nowhere', () => {
    expect(begins(standing({ level: 'DANGER' }))).toBe(2);
    expect(begins(standing({ kind: 'not-saved' }))).toBe(2);
    expect(begins(standing({ kind: 'soon', level: 'NOTICE' }), peopleOf(fi))).toBe(0);
  });
});

describe('who is asked now', () => {
  it('[R3] not whoever said that they cannot go, unless it comes to DANGER', () => {
    const rung = standing({ helper: 'bo', passed: [AMA] });
    expect(audienceOf(rung, own, salon, now)).toEqual(['bo']);
    expect(audienceOf({ ...rung, level: 'DANGER' }, own, salon, now)).toContain(AMA);
  });
});
