import { describe, expect, it } from 'vitest';
import { waterOnAsk, waterOnAskLouder } from '../../../../core/bells/rules/water-on.ts';
import { defaultFigures as figures } from '../../../../core/salon/salon.ts';
import { SECOND } from '../../../../core/time.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { facts, mark, min, pass, water } from '../../../support/pass-kit.ts';

const second = 1 / 60;
const rinsing = (minutes: number, basin: number | null, by: string | null = null, changes = {}) => {
  const on = { ...water(minutes, basin), by, ...changes };
  return facts('rinse', pass({ applied: mark(15), water: on, firstWater: on }));
};
const asked = (visit: ReturnType<typeof rinsing>) => [
  waterOnAsk.from(visit, figures),
  waterOnAskLouder.from(visit, figures),
];

describe('water-on?', () => {
  it('[R2] asked 90 s after water before the window opens, at its opening no more', () => {
    expect(asked(rinsing(25 - second, 91, 'person-ama'))).toEqual([min(25) + 89 * SECOND, min(30)]);
    expect(asked(rinsing(25, 91, 'person-ama'))).toEqual([null, null]);
    expect([waterOnAsk.level(facts('rinse')), waterOnAskLouder.level(facts('rinse'))]).toEqual(['CAUTION', 'WARNING']);
  });

  it('[R2] asked inside the window with neither basin nor person, not with one of them', () => {
    expect(asked(rinsing(27, null))).toEqual([min(28.5), min(30)]);
    expect(asked(rinsing(27, 91))).toEqual([null, null]);
    expect(asked(rinsing(27, null, 'person-ama'))).toEqual([null, null]);
  });

  it('[E4] without room there is no "from": asked only before `rinse` stood', () => {
    const slow = (minutes: number) => {
      const on = { ...water(minutes, 91), by: 'person-ama' };
      return facts('rinse', pass({ applied: mark(24), water: on, firstWater: on }));
    };
    // Off by 30 with walk and lead of 3: `rinse` from 27.
    expect(asked(slow(27 - second))).toEqual([min(27) + 89 * SECOND, min(30)]);
    expect(asked(slow(27))).toEqual([null, null]);
  });

  it('[E4] with a room of one moment there is a "from": asked up to that moment', () => {
    const only = (minutes: number) => {
      const on = { ...water(minutes, 91), by: 'person-ama' };
      return facts('rinse', pass({ applied: mark(20), water: on, firstWater: on }));
    };
    expect(asked(only(28))).toEqual([min(29.5), min(30)]);
    expect(asked(only(30))).toEqual([null, null]);
  });

  it('[R2] past the close it is asked louder, no earlier than 90 s after the water', () => {
    expect(asked(rinsing(31, null))).toEqual([min(32.5), min(32.5)]);
  });

  it('[R2] not once the basin was named, not in another stage; a repeat does not answer it; an unknown product asks too', () => {
    expect(asked(rinsing(20, 91, null, { confirmed: true }))).toEqual([null, null]);
    const first = water(20, null);
    const repeated = pass({ applied: mark(15), water: water(22, null, 2), firstWater: first });
    expect(asked(facts('rinse', repeated))).toEqual([min(21.5), min(30)]);
    expect(asked(facts('condition', pass({ water: first, firstWater: first })))).toEqual([null, null]);
    const unknown = pass({ begun: null, beginUnknown: true, water: first, firstWater: first }, null);
    expect(waterOnAsk.from(facts('rinse', unknown), figures)).toBe(min(21.5));
  });

  it('[S2] a begin nobody knows counts as past the close and is asked louder at once; an unknown product has no close', () => {
    const on = water(20, null);
    const unknown = { begun: null, beginUnknown: true, water: on, firstWater: on };
    expect(asked(facts('rinse', pass(unknown)))).toEqual([min(21.5), min(21.5)]);
    expect(asked(facts('rinse', pass(unknown, null)))).toEqual([min(21.5), null]);
  });

  it('[R2] rings, rises past the close, and ends when the basin is named', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    expect(life.at(21.5 - second).bells(v)).toEqual([]);
    expect(life.at(21.5).bells(v)).toEqual(['water-on? CAUTION #1']);
    expect(life.at(30).bells(v)).toContain('water-on? WARNING #1');
    life.do({ type: 'NameBasin', visit: v, basin: 91 });
    expect(life.bells(v)).toEqual(['water NOTICE #1']);
  });

  it('[R2] ends with clear water', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(12).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.at(14).bells(v)).toEqual(['water-on? CAUTION #1']);
    life.do({ type: 'ClearAndOff', visit: v });
    expect(life.bells(v)).toEqual([]);
  });

  it('[R2] is not asked of a head that burns in this pass; an earlier pass says nothing of it', () => {
    const burns = (at: number) => ({ place: 'skin' as const, at: min(at), by: null, waterAt: min(at), closed: null });
    const visit = rinsing(12, null);
    expect(asked({ ...visit, burns: burns(12) })).toEqual([null, null]);
    // The visit came to this pass at 0: from that very second on.
    expect(asked({ ...visit, burns: burns(0) })).toEqual([null, null]);
    expect(asked({ ...visit, burns: burns(-second) })).toEqual(asked(visit));
    expect(asked(visit)).toEqual([min(13.5), min(30)]);
  });
});
