import { describe, expect, it } from 'vitest';
import { bellsDue, nextBellAt } from '../../../../core/bells/due.ts';
import { floorRows } from '../../../../core/bells/rules/floor.ts';
import type { Outside } from '../../../../core/bells/outside.ts';
import { MINUTE, SECOND } from '../../../../core/time.ts';
import { beginShifts } from '../../../support/bell-kit.ts';
import { FloorLife, NOON } from '../../../support/floor-life.ts';
import { min } from '../../../support/pass-kit.ts';

const nobodyFrom = (nobodySince: number | null): Outside => ({
  unsavedSince: null,
  reach: { nobodySince, pushOnly: [] },
});
const rows = (life: FloorLife, outside: Outside | null) => floorRows(life.floor, 'nobody-reached', outside);
/** Product on at chair 2 since noon. */
const begun = (life = FloorLife.salon()) => ({
  life,
  v: life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }),
});

describe('nobody can be reached', () => {
  it('[R2] only with product on a head, and only where somebody watches over the devices', () => {
    expect(rows(FloorLife.salon(), nobodyFrom(NOON))).toEqual([]);
    const { life } = begun();
    expect(rows(life, null)).toEqual([]);
    expect(rows(life, { unsavedSince: null, reach: null })).toEqual([]);
    expect(rows(life, nobodyFrom(null))).toEqual([]);
  });

  it('[R2] CAUTION 30 s after the last could be reached: a phone that changes its network is not gone', () => {
    const { life } = begun();
    expect(rows(life, nobodyFrom(min(5)))).toEqual([{ level: 'CAUTION', dueAt: min(5) + 30 * SECOND }]);
  });

  it('[R2] counted from first touch where that came later, and from the first of several heads', () => {
    const { life } = begun();
    life.at(4).do({ type: 'BeginApplication', chair: 3, visit: null, service: null });
    expect(rows(life, nobodyFrom(NOON - MINUTE))).toEqual([{ level: 'CAUTION', dueAt: NOON + 30 * SECOND }]);
  });

  it('[R2] with an unknown first touch from when it came to its stage', () => {
    const life = FloorLife.salon();
    life.at(7).do({ type: 'BeginRinse', chair: 2, visit: null, basin: 91 });
    expect(rows(life, nobodyFrom(NOON))).toEqual([{ level: 'CAUTION', dueAt: min(7) + 30 * SECOND }]);
  });

  it('[R2] WARNING from 5 min before a window opens, the earliest of all heads', () => {
    const { life, v } = begun();
    life.at(15).do({ type: 'FinishApplication', visit: v });
    // Rinse from 25 (15 + 10).
    expect(rows(life, nobodyFrom(min(16)))[1]).toEqual({ level: 'WARNING', dueAt: min(20) });
    expect(rows(life, nobodyFrom(min(22)))[1]).toEqual({ level: 'WARNING', dueAt: min(22.5) });
    const other = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: null });
    life.do({ type: 'FinishApplication', visit: other });
    expect(rows(life, nobodyFrom(min(16)))[1]).toEqual({ level: 'WARNING', dueAt: min(20) });
  });

  it('[R2] while the window hangs on the end of application there is none to be near; at the water neither', () => {
    const { life, v } = begun();
    life.at(14);
    expect(rows(life, nobodyFrom(NOON)).map(({ level }) => level)).toEqual(['CAUTION']);
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(rows(life, nobodyFrom(NOON)).map(({ level }) => level)).toEqual(['CAUTION']);
    life.at(20).do({ type: 'ClearAndOff', visit: v });
    expect(rows(life, nobodyFrom(NOON))).toEqual([]);
  });

  it('[R2] one bell for the floor, from its instant to the millisecond, asking the managers; then cleared', () => {
    const life = FloorLife.salon();
    life.do({ type: 'AddPerson', name: 'Mio', roles: ['manager'] }, { id: 'person-mio' });
    beginShifts(life, 'person-ama', 'person-mio');
    begun(life);
    life.do({ type: 'BeginApplication', chair: 3, visit: null, service: null });
    const outside = nobodyFrom(min(1));
    const floorSteps = (now: number) => bellsDue(life.floor, now, outside).filter(({ subject }) => subject === 'floor');
    expect(floorSteps(min(1.5) - 1)).toEqual([]);
    expect(nextBellAt(life.floor, min(1), outside)).toBe(min(1.5));
    expect(floorSteps(min(1.5))).toMatchObject([
      { do: 'ring', cause: 'nobody-reached', kind: 'nobody-reached', level: 'CAUTION', episode: 1, circle: 0 },
    ]);
    life.reach = outside.reach;
    life.at(2);
    expect(life.floor.floorBells.bells).toHaveLength(1);
    life.reach = { nobodySince: null, pushOnly: [] };
    life.at(3);
    expect(life.floor.floorBells.bells).toEqual([]);
    expect(life.log.at(-1)?.event).toMatchObject({ type: 'FloorBellEnded', cause: 'nobody-reached', why: 'cleared' });
  });
});

describe('other bells of the floor', () => {
  it('[T3, R8] stand at WARNING since their instant, whoever can be reached', () => {
    const life = FloorLife.salon();
    const uncertain = { ...life.floor, salon: { ...life.floor.salon, uncertainSince: min(3) } };
    expect(floorRows(uncertain, 'time-uncertain', null)).toEqual([{ level: 'WARNING', dueAt: min(3) }]);
    expect(floorRows(life.floor, 'time-uncertain', null)).toEqual([]);
    const unsaved = { unsavedSince: min(4), reach: null };
    expect(floorRows(life.floor, 'not-saved', unsaved)).toEqual([{ level: 'WARNING', dueAt: min(4) }]);
    expect(floorRows(life.floor, 'not-saved', null)).toEqual([]);
  });
});
