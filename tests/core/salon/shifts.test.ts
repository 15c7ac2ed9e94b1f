import { beforeEach, describe, expect, it } from 'vitest';
import type { Command } from '../../../core/command.ts';
import { HOUR, MINUTE } from '../../../core/time.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';
let life: FloorLife;
const person = (id = AMA) => life.floor.people[id];
const begin = (id = AMA): Command => ({ type: 'BeginShift', person: id });
const end: Command = { type: 'EndShift', person: AMA };
const away = (forMs = 20 * MINUTE, cover: string | null = null): Command => {
  return { type: 'GoAway', person: AMA, forMs, cover };
};
const back: Command = { type: 'ComeBack', person: AMA };

beforeEach(() => {
  life = FloorLife.salon();
});

describe('a shift', () => {
  it('[R6] begins and ends; nobody is on shift by being entered', () => {
    expect(person()).toMatchObject({ shift: null, away: null });
    life.do(begin());
    expect(person()).toMatchObject({ shift: { sinceAt: NOON } });
    life.at(1).do(end);
    expect(person()).toMatchObject({ shift: null });
  });

  it('[S7] begun twice is said already, with since when; ended twice likewise', () => {
    life.do(begin());
    life.at(5);
    expect(life.send(begin(), { by: JOSS })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'ShiftBegun', at: NOON, by: AMA }],
    });
    life.do(end);
    expect(life.send(end)).toMatchObject({ code: 'already-done', since: [{ type: 'ShiftEnded' }] });
  });

  it('[R6] of yesterday that nobody ended is no shift: from 16 h on it begins anew', () => {
    life.do(begin());
    life.now = NOON + 16 * HOUR - 1;
    expect(life.send(begin())).toMatchObject({ code: 'already-done' });
    life.now = NOON + 16 * HOUR;
    life.do(begin());
    expect(person()?.shift).toEqual({ sinceAt: NOON + 16 * HOUR });
  });

  it('[R6] ends with whoever leaves the salon, and wants somebody who is there', () => {
    life.do(begin());
    life.do({ type: 'RetirePerson', person: AMA });
    expect(person()).toMatchObject({ shift: null, away: null });
    for (const command of [begin(), end, away(), back])
      expect(life.send(command)).toMatchObject({ code: 'unknown-person', field: 'person' });
    expect(life.send(begin('person-nobody'))).toMatchObject({ code: 'unknown-person' });
  });
});

describe('away for some minutes', () => {
  it('[R6] counts from when it was said, with whoever covers', () => {
    life.do(begin());
    life.do(begin(JOSS));
    life.at(10).do(away(20 * MINUTE, JOSS), { happenedAt: min(8) });
    expect(person()?.away).toEqual({ fromAt: min(10), untilAt: min(28), cover: JOSS });
  });

  it('[R6] wants a shift, and a cover who is here and somebody else', () => {
    expect(life.send(away())).toMatchObject({ code: 'wrong-stage', field: 'person' });
    life.do(begin());
    for (const cover of [JOSS, AMA, 'person-nobody'])
      expect(life.send(away(MINUTE, cover))).toMatchObject({ code: 'cover-not-here', field: 'cover' });
    life.do(begin(JOSS));
    life.do({ type: 'GoAway', person: JOSS, forMs: 5 * MINUTE, cover: null });
    expect(life.send(away(MINUTE, JOSS))).toMatchObject({ code: 'cover-not-here' });
    life.at(5).do(away(MINUTE, JOSS));
  });

  it.each([
    [MINUTE - 1, 'out-of-range'],
    [4 * HOUR + 1, 'out-of-range'],
  ])('[R6] for %s ms it is no away', (forMs, code) => {
    life.do(begin());
    expect(life.send(away(forMs))).toMatchObject({ code, field: 'forMs' });
    life.do(away(MINUTE));
    life.do(away(4 * HOUR));
  });

  it('[R6] ends by itself, by coming back, by a new shift and by going home', () => {
    life.do(begin());
    expect(life.send(back)).toMatchObject({ code: 'already-done', since: [{ type: 'CameBack' }] });
    life.do(away(2 * MINUTE));
    life.do(back);
    expect(person()).toMatchObject({ shift: { sinceAt: NOON }, away: null });
    life.do(away(2 * MINUTE));
    life.do(begin());
    expect(person()?.away).toBeNull();
    life.do(away(2 * MINUTE));
    life.at(2);
    expect(life.send(back)).toMatchObject({ code: 'already-done' });
    life.do(away(2 * MINUTE));
    life.do(end);
    expect(person()).toMatchObject({ shift: null, away: null });
  });
});
