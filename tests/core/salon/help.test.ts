import { beforeEach, describe, expect, it } from 'vitest';
import type { Command } from '../../../core/command.ts';
import { MINUTE } from '../../../core/time.ts';
import { beginShifts } from '../../support/bell-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';
import { min } from '../../support/pass-kit.ts';

const AMA = 'person-ama';
let life: FloorLife;
const ask = (chair = 4): Command => ({ type: 'AskHelp', chair });
const end = (how: 'here' | 'no-longer', chair = 4): Command => ({ type: 'EndHelp', chair, how });
const bells = () => life.floor.places[4]?.bells.map(({ level, circle, episode }) => [level, circle, episode]);

beforeEach(() => {
  life = FloorLife.salon();
  life.do({ type: 'AddPerson', name: 'Sena', roles: ['senior'] }, { id: 'person-sena' });
  beginShifts(life, AMA, 'person-joss', 'person-sena');
});

describe('help here', () => {
  it('[R2] rings CAUTION at the chair for seniors, and after 60 s for all', () => {
    life.do(ask(), { by: AMA });
    expect(life.floor.places[4]?.help).toEqual({ by: AMA, at: NOON });
    expect(bells()).toEqual([['CAUTION', 0, 1]]);
    life.now = min(1) - 1;
    life.pass(0);
    expect(bells()).toEqual([['CAUTION', 0, 1]]);
    life.at(1);
    expect(bells()).toEqual([['CAUTION', 1, 1]]);
  });

  it('[R6] without a senior it asks all at once', () => {
    life.do({ type: 'EndShift', person: 'person-sena' });
    life.do(ask(), { by: AMA });
    expect(bells()).toEqual([['CAUTION', 1, 1]]);
  });

  it.each(['here', 'no-longer'] as const)('[R2] ends with "%s"; asked again it is the next episode', (how) => {
    life.do(ask(), { by: AMA });
    life.do(end(how));
    expect(bells()).toEqual([]);
    expect(life.floor.places[4]?.help).toBeNull();
    expect(life.send(end(how))).toMatchObject({ code: 'bell-gone', place: 4 });
    life.do(ask(), { by: AMA });
    expect(bells()).toEqual([['CAUTION', 0, 2]]);
  });

  it('[S7] asked twice is said already, with who and when', () => {
    life.do(ask(), { by: AMA });
    life.at(1);
    expect(life.send(ask(), { by: 'person-joss' })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'HelpAsked', at: NOON, by: AMA }],
    });
  });

  it('[X3] asked longer ago than 2 min, on a screen without a link, it calls nobody any more', () => {
    life.at(10);
    expect(life.send(ask(), { happenedAt: life.now - 2 * MINUTE - 1_000 })).toMatchObject({ code: 'time-too-old' });
    life.do(ask(), { happenedAt: life.now - 2 * MINUTE });
  });

  it('[R2] wants a chair that is there', () => {
    expect(life.send(ask(91))).toMatchObject({ code: 'unknown-place', place: 91 });
    expect(life.send(ask(77))).toMatchObject({ code: 'unknown-place', place: 77 });
    expect(life.send(end('here', 77))).toMatchObject({ code: 'unknown-place', place: 77 });
    life.do({ type: 'RetirePlace', number: 4 });
    expect(life.send(ask())).toMatchObject({ code: 'unknown-place', place: 4 });
  });

  it('[R2] ends with the chair', () => {
    life.do(ask(), { by: AMA });
    life.do({ type: 'RetirePlace', number: 4 });
    expect(bells()).toEqual([]);
  });
});
