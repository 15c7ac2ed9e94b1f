import { describe, expect, it } from 'vitest';
import { basinInUse, chairInUse, visitFor } from '../../../../core/visit/commands/visit-lookup.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { min, saw } from '../../../support/pass-kit.ts';

function begun() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  return { life, v };
}

describe('places', () => {
  it('[S9] a chair in use is known, is a chair and has not been retired', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 4 });
    expect([1, 4, 91, 77].map((number) => chairInUse(life.floor, number) === null)).toEqual([
      true,
      false,
      false,
      false,
    ]);
  });

  it('[S2] a basin likewise', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 92 });
    expect([91, 92, 1, 77].map((number) => basinInUse(life.floor, number))).toEqual([true, false, false, false]);
  });
});

describe('whom a command means', () => {
  it('[S2] the visit named if it is open, else whoever sits at the chair', () => {
    const { life, v } = begun();
    const w = life.do({ type: 'SeatVisit', chair: 3, service: null, stylist: null, label: null });
    expect(visitFor(life.floor, 3, v)?.facts.id).toBe(v);
    expect(visitFor(life.floor, 3, null)?.facts.id).toBe(w);
    expect(visitFor(life.floor, 3, 'visit-x')?.facts.id).toBe(w);
    expect(visitFor(life.floor, 4, null)).toBeNull();
    life.do({ type: 'Discard', visit: w });
    expect(visitFor(life.floor, 3, w)).toBeNull();
    expect(visitFor(life.floor, 2, w)?.facts.id).toBe(v);
  });
});

describe('said later than it can still change the visit', () => {
  const finish = (visit: string) => ({ type: 'FinishApplication', visit }) as const;

  it('[X3] within 30 min it is judged as of then, a millisecond more and it is a statement', () => {
    const { life, v } = begun();
    life.at(40);
    const kept = life.send(finish(v), { happenedAt: min(10) - 1000 });
    expect(kept).toMatchObject({ code: 'moved-on', visit: v });
    expect(life.log.at(-1)).toMatchObject({
      stream: `visit/${v}`,
      at: min(10) - 1000,
      event: { type: 'StatementKept', command: 'FinishApplication' },
    });
    expect(life.facts(v).stage).toBe('apply');
    const other = begun();
    other.life.at(40).do(finish(other.v), { happenedAt: min(10) });
    expect(other.life.facts(other.v).passes[0]?.applied?.at).toBe(min(10));
  });

  it('[X3] before the visit’s latest event it is a statement, at its very instant it is not', () => {
    const { life, v } = begun();
    life.at(10).do({ type: 'NameStylist', visit: v, stylist: 'person-ama' }, { by: 'person-ama' });
    expect(life.at(12).send(finish(v), { happenedAt: min(10) - 1 })).toMatchObject({
      code: 'moved-on',
      since: [{ type: 'StylistNamed', at: min(10), by: 'person-ama' }],
    });
    const other = begun();
    other.life.at(10).do({ type: 'NameStylist', visit: other.v, stylist: 'person-ama' });
    other.life.at(12).do(finish(other.v), { happenedAt: min(10) });
    expect(other.life.facts(other.v).passes[0]?.applied?.at).toBe(min(10));
  });

  it('[X3] a forgotten part is none from first touch to the end of application, both very instants included', () => {
    const { life, v } = begun();
    const part = (index: number, at: number) =>
      life.send({ type: 'MarkPartDone', visit: v, part: index }, { happenedAt: min(at) });
    life.at(8).do({ type: 'MarkPartDone', visit: v, part: 0 });
    expect(part(1, -1 / 60)).toMatchObject({ code: 'moved-on' });
    expect(part(1, 0)).toMatchObject({ outcome: 'done' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(17).do({ type: 'TestStrand', visit: v, place: 'first', result: 'not-yet', part: null, note: null });
    life.at(18);
    expect(part(2, 15 + 1 / 60)).toMatchObject({ code: 'moved-on' });
    expect(part(2, 15)).toMatchObject({ outcome: 'done' });
  });

  it('[X3] what is said as now is never too late', () => {
    const { life, v } = begun();
    life.at(5000).do(finish(v));
    expect(life.facts(v).stage).toBe('process');
  });

  it('[S7] a visit that is over: what happened last there', () => {
    const { life, v } = begun();
    expect(life.send(finish('visit-x'))).toMatchObject({ code: 'unknown-visit', visit: 'visit-x' });
    life.at(5).do({ type: 'Abandon', visit: v }, { by: 'person-joss' });
    const told = { code: 'moved-on', visit: v, since: [{ type: 'VisitEnded', at: min(5), by: 'person-joss' }] };
    expect(life.send(finish(v))).toMatchObject(told);
    expect(life.send(finish(v), { seen: 1 })).toMatchObject(told);
    expect(life.send(finish(v), saw(life, v))).toMatchObject(told);
  });
});
