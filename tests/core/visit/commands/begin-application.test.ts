import { describe, expect, it } from 'vitest';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { addService, min, saw } from '../../../support/pass-kit.ts';

const begin = (chair: number, visit: string | null = null, service: string | null = null) =>
  ({ type: 'BeginApplication', chair, visit, service }) as const;
const seat = (life: FloorLife, chair: number, service: string | null = 'service-1') =>
  life.do({ type: 'SeatVisit', chair, service, stylist: null, label: null });

/** Lightener, then toner, the lightener rinsed clear after so many minutes. */
function lightened(finishing = relaxer().finishing): { life: FloorLife; v: string } {
  const life = FloorLife.salon();
  addService(life, 'service-2', [relaxer({ class: 'lightener', finishing }), colour()]);
  const v = life.do(begin(2, null, 'service-2'));
  life.at(15).do({ type: 'FinishApplication', visit: v });
  life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
  life.at(32).do({ type: 'ClearAndOff', visit: v });
  return { life, v };
}

describe('begin', () => {
  it('[S9] at an empty chair seats a visit in the same touch, with the salon’s usual service', () => {
    const life = FloorLife.salon();
    const v = life.do(begin(2), { id: 'begin-command', by: 'person-ama' });
    expect(v).toBe('begin-command');
    expect(life.facts(v)).toMatchObject({
      stage: 'apply',
      service: 'service-1',
      stylist: 'person-ama',
      seatedAt: min(0),
      passes: [{ begun: { at: min(0), by: 'person-ama' } }],
    });
  });

  it('[S9] names a service where the usual one is not meant; without any it asks', () => {
    const life = FloorLife.salon();
    addService(life, 'service-colour', [colour()]);
    expect(life.facts(life.do(begin(1, null, 'service-colour'))).service).toBe('service-colour');
    life.do({ type: 'RetireService', service: 'service-1' });
    expect(life.send(begin(2))).toMatchObject({ code: 'service-needed', place: 2 });
    expect(life.send(begin(2, null, 'service-1'))).toMatchObject({ code: 'unknown-service' });
  });

  it('[S9] begins whoever waits at the chair, named or not', () => {
    const life = FloorLife.salon();
    const v = seat(life, 1);
    const w = seat(life, 2);
    expect(life.do(begin(1))).toBe(v);
    expect(life.do(begin(2, w))).toBe(w);
  });

  it('[S9] a visit seated without a service takes the named or the usual one', () => {
    const life = FloorLife.salon();
    addService(life, 'service-colour', [colour()]);
    const v = seat(life, 1, null);
    life.do(begin(1, v));
    expect(life.facts(v)).toMatchObject({ service: 'service-1', passes: [{ rules: { class: 'hydroxide' } }] });
    const w = seat(life, 2, null);
    life.do(begin(2, w, 'service-colour'));
    expect(life.facts(w)).toMatchObject({ service: 'service-colour', passes: [{ rules: { class: 'colour' } }] });
  });

  it('[S9] begin may change the service chosen at seating, and an unknown one is refused', () => {
    const life = FloorLife.salon();
    addService(life, 'service-colour', [colour()]);
    const v = seat(life, 1);
    expect(life.send(begin(1, v, 'service-x'))).toMatchObject({ code: 'unknown-service' });
    life.do(begin(1, v, 'service-colour'));
    expect(life.facts(v).service).toBe('service-colour');
    const w = seat(life, 2);
    life.do(begin(2, w, 'service-1'));
    expect(life.log.filter((one) => one.stream === `visit/${w}`).map((one) => one.event.type)).toEqual([
      'VisitSeated',
      'ApplicationBegun',
    ]);
  });

  it('[S9] without any service it asks, also of whoever waits', () => {
    const life = FloorLife.salon();
    const v = seat(life, 1, null);
    life.do({ type: 'RetireService', service: 'service-1' });
    expect(life.send(begin(1, v))).toMatchObject({ code: 'service-needed', visit: v });
  });

  it('[S9] once the last product is off, begin without a visit is for the next client', () => {
    const life = FloorLife.salon();
    const v = life.do(begin(2));
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    const w = life.at(30).do(begin(2));
    expect(w).not.toBe(v);
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'next-seated' });
    expect(life.facts(w)).toMatchObject({ stage: 'apply', chair: 2 });
  });

  it('[S7] begun already: who and when; in another stage it does not fit', () => {
    const life = FloorLife.salon();
    const v = life.do(begin(2), { by: 'person-ama' });
    expect(life.at(3).send(begin(2))).toMatchObject({
      code: 'already-done',
      visit: v,
      since: [{ type: 'ApplicationBegun', at: min(0), by: 'person-ama' }],
    });
    life.do({ type: 'FinishApplication', visit: v });
    expect(life.send(begin(2, v))).toMatchObject({ code: 'wrong-stage', visit: v });
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    expect(life.send(begin(2, v), { seen: 1 })).toMatchObject({ code: 'moved-on' });
    life.do({ type: 'ClearAndOff', visit: v });
    expect(life.send(begin(2, v), saw(life, v))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S9] wants a chair in use and a visit that is known', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 4 });
    expect(life.send(begin(4))).toMatchObject({ code: 'unknown-place', place: 4 });
    expect(life.send(begin(91))).toMatchObject({ code: 'unknown-place', place: 91 });
    expect(life.send(begin(1, 'visit-x'))).toMatchObject({ code: 'unknown-visit', visit: 'visit-x' });
  });

  it('[X3] said too late it is a statement, at an empty chair it seats at its own time', () => {
    const life = FloorLife.salon();
    const v = seat(life, 1);
    expect(life.at(31).send(begin(1, v), { happenedAt: min(1) - 1000 })).toMatchObject({ code: 'moved-on' });
    expect(life.facts(v).stage).toBe('prep');
    const w = life.do(begin(2), { happenedAt: min(20) });
    expect(life.facts(w)).toMatchObject({ seatedAt: min(20), passes: [{ begun: { at: min(20) } }] });
  });
});

describe('the next pass', () => {
  it('[S10] begins from its prep, with its own directions and window', () => {
    const { life, v } = lightened([]);
    expect(life.facts(v)).toMatchObject({ stage: 'prep', pass: 1 });
    life.at(40).do(begin(2, v));
    expect(life.facts(v)).toMatchObject({
      stage: 'apply',
      pass: 1,
      owed: [],
      passes: [{ clear: { at: min(32) } }, { begun: { at: min(40) }, rules: { class: 'colour' } }],
    });
    life.at(50).do({ type: 'FinishApplication', visit: v });
    life.at(67);
    expect(life.bells(v)).toEqual(['soon NOTICE #2']);
  });

  it('[S10] begin after a pass is off starts the next, what was skipped not marked', () => {
    const { life, v } = lightened();
    expect(life.facts(v)).toMatchObject({ stage: 'neutralize', pass: 0 });
    life.at(40).do(begin(2, v));
    expect(life.facts(v)).toMatchObject({ stage: 'apply', pass: 1 });
    expect(life.facts(v).owed.map(({ item, stage, pass }) => `${item} ${stage}${pass}`)).toEqual([
      'shampoos-short neutralize0',
      'proof-missing neutralize0',
      'not-marked condition0',
    ]);
  });

  it('[S10] also when it names no visit: the client is not sent away before the toner', () => {
    const { life, v } = lightened();
    expect(life.at(40).do(begin(2))).toBe(v);
    expect(life.facts(v)).toMatchObject({ stage: 'apply', pass: 1 });
  });

  it('[S10] does not begin while the first is on or being rinsed', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener' }), colour()]);
    const v = life.do(begin(2, null, 'service-2'));
    life.at(15).do({ type: 'FinishApplication', visit: v });
    expect(life.send(begin(2, v))).toMatchObject({ code: 'wrong-stage' });
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.send(begin(2))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S10] the service of a visit cannot be changed by beginning its second pass', () => {
    const { life, v } = lightened([]);
    life.do(begin(2, v, 'service-1'));
    expect(life.facts(v)).toMatchObject({ service: 'service-2', pass: 1, stage: 'apply' });
  });
});
