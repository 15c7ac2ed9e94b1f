import { describe, expect, it } from 'vitest';
import { FloorLife } from '../../../support/floor-life.ts';
import { min, saw } from '../../../support/pass-kit.ts';

const report = (visit: string | null, place: 'skin' | 'eye' = 'skin', chair = 2) =>
  ({ type: 'ReportBurns', chair, visit, place }) as const;
const waterOn = (visit: string) => ({ type: 'BeginRinse', chair: 2, visit, basin: 91 }) as const;

function begun() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  return { life, v };
}

describe('burns', () => {
  it('[S6] take the visit to rinse; until water is on there is no count', () => {
    const { life, v } = begun();
    life.at(6).do(report(v), { by: 'person-ama' });
    expect(life.facts(v)).toMatchObject({
      stage: 'rinse',
      burns: { place: 'skin', at: min(6), by: 'person-ama', waterAt: null, closed: null },
    });
    life.at(7).do(waterOn(v));
    expect(life.facts(v).burns?.waterAt).toBe(min(7));
    life.at(9).do(waterOn(v), saw(life, v));
    expect(life.facts(v).burns?.waterAt).toBe(min(7));
  });

  it('[S6] under water already, the count runs from the report', () => {
    const { life, v } = begun();
    life.at(20).do(waterOn(v));
    life.at(22).do(report(v));
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', burns: { waterAt: min(22) } });
    expect(life.facts(v).way.filter((one) => one.stage === 'rinse')).toHaveLength(1);
  });

  it('[S6] from a later stage the head needs water anew, whatever was rinsed before', () => {
    const { life, v } = begun();
    life.at(20).do(waterOn(v));
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    life.at(30).do(report(v, 'eye'));
    expect(life.facts(v)).toMatchObject({
      stage: 'rinse',
      burns: { place: 'eye', waterAt: null },
      passes: [{ water: null, clear: null }],
    });
    expect(life.send(waterOn(v))).toMatchObject({ outcome: 'done' });
    expect(life.facts(v).burns?.waterAt).toBe(min(30));
  });

  it('[S6] water said to have been on before the report counts from the report', () => {
    const { life, v } = begun();
    life.at(6).do(report(v));
    life.at(8).do(waterOn(v), { happenedAt: min(5) });
    expect(life.facts(v).burns?.waterAt).toBe(min(6));
    const other = begun();
    other.life.at(6).do(report(other.v));
    other.life.at(8).do(waterOn(other.v), { happenedAt: min(7) });
    expect(other.life.facts(other.v).burns?.waterAt).toBe(min(7));
  });

  it('[S6] at a chair with no visit, one is seated whose product is unknown', () => {
    const life = FloorLife.salon();
    const v = life.do(report(null), { id: 'burns-command' });
    expect(v).toBe('burns-command');
    expect(life.facts(v)).toMatchObject({ chair: 2, stage: 'rinse', passes: [{ rules: null, beginUnknown: true }] });
    expect(life.send(report(null, 'skin', 77))).toMatchObject({ code: 'unknown-place', place: 77 });
    life.do(waterOn(v));
    expect(life.facts(v).owed.map((one) => one.item)).toEqual(['begin-unknown', 'product-unknown']);
  });

  it('[S6] at a client in prep, product counts as on', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    life.do(report(null));
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', passes: [{ beginUnknown: true }] });
    const { life: other, v: w } = begun();
    other.do(report(w));
    expect(other.facts(w).passes[0]?.beginUnknown).toBe(false);
  });

  it('[S7] reported twice: who and when; the eye after the skin is news', () => {
    const { life, v } = begun();
    life.at(6).do(report(v), { by: 'person-ama' });
    expect(life.at(7).send(report(v))).toMatchObject({
      code: 'already-done',
      since: [{ type: 'BurnsReported', at: min(6), by: 'person-ama' }],
    });
    life.do(report(v, 'eye'));
    expect(life.facts(v).burns?.place).toBe('eye');
  });

  it('[S6] are closed by a person with what was done, and may come again', () => {
    const { life, v } = begun();
    expect(life.send({ type: 'CloseBurns', visit: v, done: 'eased' })).toMatchObject({ code: 'wrong-stage' });
    life.at(6).do(report(v));
    life.at(22).do({ type: 'CloseBurns', visit: v, done: 'physician' }, { by: 'person-joss' });
    expect(life.facts(v).burns?.closed).toMatchObject({ at: min(22), by: 'person-joss', done: 'physician' });
    expect(life.at(23).send({ type: 'CloseBurns', visit: v, done: 'eased' })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'BurnsClosed', at: min(22), by: 'person-joss' }],
    });
    life.do(report(v));
    expect(life.facts(v).burns).toMatchObject({ at: min(23), closed: null });
    expect(life.bells(v)).toContain('burns DANGER #2');
  });

  it('[S6] of a client who has left can still be closed', () => {
    const { life, v } = begun();
    life.at(6).do(report(v));
    life.at(7).do({ type: 'Abandon', visit: v });
    expect(life.bells(v)).toContain('burns DANGER #1');
    life.at(8).do({ type: 'CloseBurns', visit: v, done: 'emergency' });
    expect(life.bells(v)).toEqual(['abandoned WARNING #1']);
    expect(life.send({ type: 'CloseBurns', visit: 'visit-x', done: 'eased' })).toMatchObject({ code: 'unknown-visit' });
  });

  it('[X3] closing said too late is a statement', () => {
    const { life, v } = begun();
    life.at(6).do(report(v));
    expect(life.at(8).send({ type: 'CloseBurns', visit: v, done: 'eased' }, { happenedAt: min(5) })).toMatchObject({
      code: 'moved-on',
    });
    expect(life.facts(v).burns?.closed).toBeNull();
  });
});
