import { describe, expect, it } from 'vitest';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { addService, min } from '../../../support/pass-kit.ts';

const seat = (
  chair: number,
  service: string | null = 'service-1',
  stylist: string | null = null,
  label: string | null = null,
) => ({ type: 'SeatVisit', chair, service, stylist, label }) as const;

describe('seating', () => {
  it('[S1] begins in prep, and carries the command’s id', () => {
    const life = FloorLife.salon();
    const v = life.do(seat(2, 'service-1', 'person-ama', 'B.'), { id: 'seat-command' });
    expect(v).toBe('seat-command');
    expect(life.facts(v)).toMatchObject({ chair: 2, stage: 'prep', pass: 0, stylist: 'person-ama', seatedAt: min(0) });
    expect(life.floor.words['visit/seat-command/label']).toBe('B.');
  });

  it('[S10] copies the directions of each pass, so that later versions do not touch a visit', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener' }), colour()]);
    const v = life.do(seat(2, 'service-2'));
    life.do({
      type: 'WriteDirections',
      directions: 'service-2-directions-1',
      name: 'Toner',
      source: 'second edition',
      rules: colour({ minAfterMs: 25 * 60_000 }),
    });
    expect(life.facts(v).passes.map((one) => [one.rules?.class, one.directionsVersion, one.rules?.minAfterMs])).toEqual(
      [
        ['lightener', 1, 10 * 60_000],
        ['colour', 1, 20 * 60_000],
      ],
    );
    expect(life.facts(life.do(seat(3, 'service-2'))).passes[1]).toMatchObject({ directionsVersion: 2 });
  });

  it('[S9] finishes the visit before, its open steps not marked', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(20).do({ type: 'FinishApplication', visit: v });
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do({ type: 'ClearAndOff', visit: v });
    const w = life.at(40).do(seat(2));
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'next-seated' });
    expect(life.facts(v).owed.map(({ item, stage }) => `${item} ${stage}`)).toEqual([
      'shampoos-short neutralize',
      'proof-missing neutralize',
      'not-marked condition',
      'not-marked dry',
    ]);
    expect(life.facts(w)).toMatchObject({ chair: 2, stage: 'prep' });
  });

  it('[S9] a visit before that never began owes nothing', () => {
    const life = FloorLife.salon();
    const v = life.do(seat(2));
    life.do(seat(2));
    expect(life.facts(v)).toMatchObject({ end: 'next-seated', owed: [] });
  });

  it('[S10] one that waits for its second pass owes the rest', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener', finishing: [] }), colour({ finishing: [] })]);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-2' });
    life.at(20).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(30).do({ type: 'ClearAndOff', visit: v });
    life.do(seat(2));
    expect(life.facts(v).owed.map(({ item, stage, pass }) => `${item} ${stage}${pass}`)).toEqual([
      'not-marked process0',
      'not-marked apply1',
      'not-marked process1',
      'not-marked rinse1',
      'not-marked dry1',
    ]);
  });

  it('[S9] with product on it is refused', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    for (const step of ['FinishApplication', null] as const) {
      expect(life.send(seat(2))).toMatchObject({ code: 'product-on', visit: v, place: 2 });
      if (step !== null) life.do({ type: step, visit: v });
    }
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.send(seat(2))).toMatchObject({ code: 'product-on' });
  });

  it('[S9] wants a chair in use, a service that is sold, a person who works here', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 4 });
    life.do({ type: 'RetirePerson', person: 'person-joss' });
    expect(life.send(seat(4))).toMatchObject({ code: 'unknown-place', place: 4 });
    expect(life.send(seat(91))).toMatchObject({ code: 'unknown-place' });
    expect(life.send(seat(1, 'service-x'))).toMatchObject({ code: 'unknown-service' });
    expect(life.send(seat(1, 'service-1', 'person-x'))).toMatchObject({ code: 'unknown-person' });
    expect(life.send(seat(1, 'service-1', 'person-joss'))).toMatchObject({ code: 'unknown-person' });
    life.do({ type: 'RetireService', service: 'service-1' });
    expect(life.send(seat(1))).toMatchObject({ code: 'unknown-service' });
    expect(life.facts(life.do(seat(1, null)))).toMatchObject({ service: null, passes: [{ rules: null }] });
  });
});
