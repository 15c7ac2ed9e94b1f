import { beforeEach, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { headline } from '../../../core/visit/headline.ts';
import { hairWindow } from '../../../web/src/chair/hair-window.ts';
import { bellDeed } from '../../../web/src/pocket/bell-deed.ts';
import { myHands } from '../../../web/src/pocket/hands.ts';
import { nextIfNotYet } from '../../../web/src/pocket/next-test.ts';
import { windowSaid } from '../../../web/src/pocket/window-said.ts';
import { words } from '../../../web/src/words/words.ts';
import { relaxer, tested } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';
const w = words();
let life: FloorLife;
let visit: string;

function begun(chair = 4, by = AMA): string {
  const one = life.do({ type: 'SeatVisit', chair, service: 'service-1', stylist: by, label: null });
  life.do({ type: 'BeginApplication', chair, visit: one, service: null }, { by });
  return one;
}

beforeEach(() => {
  life = FloorLife.salon(relaxer(tested));
  visit = begun();
});

const context = () => ({ now: life.now, figures: life.floor.salon.figures, uncertain: false });
const floor = () => Object.values(life.floor.visits).map(({ facts }) => facts);
const hands = (person: string | null) => myHands(person, life.facts(visit), floor());

describe('whose hands are where', () => {
  it('[P0] who began stays, another is free to help, and a helper may go', () => {
    expect(hands(AMA)).toEqual({ kind: 'began' });
    expect(hands(JOSS)).toEqual({ kind: 'free' });
    life.do({ type: 'JoinAsHelper', visit, person: JOSS });
    expect(hands(JOSS)).toEqual({ kind: 'helper' });
    life.do({ type: 'LeaveAsHelper', visit, person: JOSS });
    expect(hands(JOSS)).toEqual({ kind: 'free' });
  });
  it('[P0] hands at another head are said with its chair, and free again once that is applied', () => {
    const other = begun(2, JOSS);
    expect(hands(JOSS)).toEqual({ kind: 'elsewhere', chair: 2 });
    life.pass(5);
    life.do({ type: 'FinishApplication', visit: other });
    expect(hands(JOSS)).toEqual({ kind: 'free' });
  });
  it('nobody helps where nothing is applied, or on a phone that nobody holds', () => {
    expect(hands(null)).toBeNull();
    life.pass(5);
    life.do({ type: 'FinishApplication', visit });
    expect(hands(JOSS)).toBeNull();
  });
});

describe('strand tests on a phone', () => {
  it('[E6] the next one after "not yet" follows from now, as long as it is before the close', () => {
    life.at(12);
    life.do({ type: 'FinishApplication', visit });
    life.at(17.5);
    expect(nextIfNotYet(life.facts(visit), life.now)).toBe(NOON + 22.5 * MINUTE);
    // The close is at 27; a test now would want the next one just there.
    expect(nextIfNotYet(life.facts(visit), NOON + 22 * MINUTE)).toBeNull();
  });
});

describe('what a phone says', () => {
  const said = (): string[] => {
    const window = hairWindow(life.facts(visit), context());
    if (window === null) throw new Error('no window');
    const clock = (at: number): string => String((at - NOON) / MINUTE);
    return windowSaid(window, { uncertain: false, clock, words: w }).map(({ word, text }) => `${word} ${text}`.trim());
  };
  const deed = (): string => {
    const facts = life.facts(visit);
    return bellDeed(facts.bells[0] ?? null, headline(facts, context()), names, w);
  };
  const names = { labelOf: String, nameOf: () => null, serviceName: () => null };

  it('[E8] from, off by and room, with the latest and the expected finish while application runs', () => {
    life.at(5);
    expect(said()).toEqual(['from 25', 'off by 30', '5:00 room', 'finish by 18', 'expected 15']);
  });
  it('[E4] that there is no room, and the close that still holds', () => {
    for (const at of [6, 12, 18, 24]) {
      life.at(at);
      life.do({ type: 'MarkPartDone', visit, part: null });
    }
    expect(said()[0]).toBe('no room: off by 30');
  });
  it('[E6] ready, and until when', () => {
    life.at(12);
    life.do({ type: 'FinishApplication', visit });
    life.at(18);
    life.do({ type: 'TestStrand', visit, place: 'first', result: 'ready', part: null, note: null });
    expect(said()).toEqual(['ready 18', 'off by 20']);
  });
  it('[P4] [V1] a bell says what it asks for in place of the deed, else the deed stands', () => {
    life.at(5);
    expect(deed()).toBe('finish by');
    life.at(8);
    life.do({ type: 'MarkPartDone', visit, part: null });
    expect(life.bells(visit)).toEqual(['pace CAUTION #1']);
    expect(deed()).toBe('get help, finish by');
  });
});
