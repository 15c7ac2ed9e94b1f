import { describe, expect, it } from 'vitest';
import { firstToComeOff, partClocks } from '../../../core/exposure/part-clock.ts';
import { defaultParts } from '../../../core/directions/rules.ts';
import { MINUTE } from '../../../core/time.ts';
import { currentPass } from '../../../core/visit/visit.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

const SURE = MINUTE;

function life(rules = relaxer()) {
  const floor = FloorLife.salon(rules);
  const visit = floor.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
  const clocks = () => partClocks(currentPass(floor.facts(visit))!, floor.now, SURE);
  const mark = (part: number) => floor.do({ type: 'MarkPartDone', visit, part });
  return { floor, visit, clocks, mark };
}

describe('the parts of a head', () => {
  it('[E5] with no mark the first of the plan is in work under the ceiling of the head, the others wait', () => {
    const { floor, clocks } = life();
    floor.pass(2);
    expect(clocks().map(({ state, onMs }) => [state, onMs])).toEqual([
      ['in-work', 2 * MINUTE],
      ['waiting', null],
      ['waiting', null],
      ['waiting', null],
    ]);
    expect(clocks()[0]).toMatchObject({ ceilingMs: 30 * MINUTE, closesAt: floor.now + 28 * MINUTE, marked: false });
  });

  it('[E1] each part counts from its own first touch', () => {
    const { floor, clocks, mark } = life();
    floor.pass(4);
    mark(0);
    floor.pass(3);
    mark(1);
    floor.pass(1);
    expect(clocks().map(({ state, onMs }) => [state, onMs])).toEqual([
      ['on', 8 * MINUTE],
      ['on', 4 * MINUTE],
      ['in-work', MINUTE],
      ['waiting', null],
    ]);
  });

  it('[E5] what nobody marked is on, and not marked, once the application has ended', () => {
    const { floor, visit, clocks, mark } = life();
    floor.pass(4);
    mark(0);
    floor.pass(8);
    floor.do({ type: 'FinishApplication', visit });
    floor.pass(1);
    expect(clocks().map(({ state, marked, onMs }) => [state, marked, onMs])).toEqual([
      ['on', true, 13 * MINUTE],
      ['on', false, 9 * MINUTE],
      ['on', false, 9 * MINUTE],
      ['on', false, 9 * MINUTE],
    ]);
  });

  it('[E5] a head with no mark at all has the time of the head in every part once it has ended', () => {
    const { floor, visit, clocks } = life();
    floor.pass(12);
    floor.do({ type: 'FinishApplication', visit });
    floor.pass(1);
    expect(clocks().map(({ state, onMs }) => [state, onMs])).toEqual(defaultParts.map(() => ['on', 13 * MINUTE]));
    expect(firstToComeOff(clocks())).toBe(null);
  });

  it('[E1] a part stops counting when water has been on for a minute at a known basin', () => {
    const { floor, visit, clocks, mark } = life();
    floor.pass(4);
    mark(0);
    floor.pass(8);
    floor.do({ type: 'BeginRinse', chair: 4, visit, basin: 91 });
    floor.pass(5);
    expect(clocks()[0]?.onMs).toBe(13 * MINUTE);
  });
});

describe('the first to come off', () => {
  it('[E3] is the one begun first, under one ceiling for all', () => {
    const { floor, clocks, mark } = life();
    floor.pass(4);
    mark(2);
    expect(firstToComeOff(clocks())).toBe(2);
  });

  it('[E3] is a later part whose own ceiling is lower by more than it began later', () => {
    const parts = defaultParts.map((one, part) => ({ ...one, ceilingMs: part === 1 ? 20 * MINUTE : null }));
    const { floor, clocks, mark } = life(relaxer({ parts }));
    floor.pass(4);
    mark(0);
    floor.pass(1);
    expect(firstToComeOff(clocks())).toBe(1);
  });

  it('[E3] is nobody where no part has a close, or two have the same', () => {
    const { floor, clocks } = life(relaxer({ class: 'colour', ceilingMs: null }));
    floor.pass(2);
    expect(firstToComeOff(clocks())).toBe(null);
    expect(firstToComeOff([])).toBe(null);
    const twin = { part: 0, state: 'on', marked: true, onMs: 1, ceilingMs: null, closesAt: 5 } as const;
    expect(firstToComeOff([twin, { ...twin, part: 1 }])).toBe(null);
  });
});
