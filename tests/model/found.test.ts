import { describe, expect, it } from 'vitest';
import { colour, perm, relaxer } from '../support/directions-kit.ts';
import { FloorLife } from '../support/floor-life.ts';

// What the duel of core and model brought to light, each in as few touches as show it.
const latest = (life: FloorLife, visit: string) => ({ seen: life.facts(visit).version });
const owed = (life: FloorLife, visit: string) => life.facts(visit).owed.map((one) => one.item);
const begin = { type: 'BeginApplication', chair: 1, visit: null, service: null } as const;
const water = (visit: string | null) => ({ type: 'BeginRinse', chair: 1, visit, basin: null }) as const;
const burns = { type: 'ReportBurns', chair: 1, visit: null, place: 'skin' } as const;

describe('found by the duel', () => {
  it('[S6] burns are closed also once the client has left', () => {
    const life = FloorLife.salon();
    const visit = life.do(burns);
    life.do({ type: 'Abandon', visit });
    expect(life.bells(visit)).toContain('burns DANGER #1');
    life.do({ type: 'CloseBurns', visit, done: 'eased' });
    life.do({ type: 'SettleAbandoned', visit });
    expect(life.bells(visit)).toEqual([]);
  });

  it('[S2] after burns with nothing recorded, begin and product are asked for with the first water, once', () => {
    const life = FloorLife.salon();
    const visit = life.do(burns);
    expect(owed(life, visit)).toEqual([]);
    life.do(water(visit));
    expect(owed(life, visit)).toEqual(['begin-unknown', 'product-unknown']);
    life.do(water(visit), latest(life, visit));
    expect(owed(life, visit)).toEqual(['begin-unknown', 'product-unknown']);
  });

  it('[R2] product waits for water in rinse too, where burns took the head before any was on', () => {
    const life = FloorLife.salon();
    const visit = life.do(begin);
    life.at(5).do({ type: 'FinishApplication', visit });
    life.at(6).do(burns);
    life.at(7).do({ type: 'CloseBurns', visit, done: 'eased' });
    expect(life.at(16).bells(visit)).toEqual(['soon NOTICE #1']);
    expect(life.at(17).bells(visit)).toEqual(['rinse WARNING #1']);
    expect(life.at(20).bells(visit)).toEqual(['over DANGER #1']);
    life.do(water(visit));
    expect(life.bells(visit)).toEqual([]);
  });

  it('[R2] burns after the product was rinsed ring for themselves alone', () => {
    const life = FloorLife.salon();
    const visit = life.do(begin);
    life.at(20).do(water(visit));
    life.at(26).do({ type: 'ClearAndOff', visit });
    life.at(60).do(burns);
    expect(life.bells(visit)).toEqual(['burns DANGER #1']);
  });

  it('[S4] shampoos marked sooner than their dwell are named', () => {
    const life = FloorLife.salon();
    const visit = life.do(begin);
    life.at(20).do(water(visit));
    life.at(26).do({ type: 'ClearAndOff', visit });
    const shampoo = { type: 'MarkShampoo', visit, indicator: 'colourless', strip: null } as const;
    life.pass(2).do(shampoo);
    life.pass(1).do(shampoo, latest(life, visit));
    life.pass(5).do({ type: 'MoveOn', visit, to: 'condition' });
    expect(owed(life, visit)).toEqual(['not-marked', 'dwell-short']);
  });

  it('[S1] back from a second rinse, the dwell of a shampoo counts anew', () => {
    const life = FloorLife.salon();
    const visit = life.do(begin);
    life.at(20).do(water(visit));
    life.at(26).do({ type: 'ClearAndOff', visit });
    life.at(28).do({ type: 'MarkShampoo', visit, indicator: 'colourless', strip: null });
    life.at(29).do(water(visit), latest(life, visit));
    life.at(34).do({ type: 'ClearAndOff', visit });
    expect(life.bells(visit)).toEqual([]);
    expect(life.at(36).bells(visit)).toEqual(['dwell NOTICE #2']);
  });

  it('[S10] Begin at the chair begins the pass that is still to come, and then the next client', () => {
    const life = FloorLife.salon();
    const passes = ['directions-1', 'directions-2'];
    life.send(
      { type: 'WriteDirections', directions: null, name: 'T', source: 'leaflet', rules: colour() },
      { id: 'directions-2' },
    );
    life.send({ type: 'WriteService', service: null, name: 'Two', passes, limits: [] }, { id: 'service-2' });
    const visit = life.do({ ...begin, service: 'service-2' });
    life.do(water(visit));
    life.do({ type: 'ClearAndOff', visit });
    expect(life.do(begin)).toBe(visit);
    expect(life.facts(visit)).toMatchObject({ stage: 'apply', pass: 1 });
    life.do(water(visit));
    life.do({ type: 'ClearAndOff', visit });
    expect(life.do(begin)).not.toBe(visit);
    expect(life.facts(visit)).toMatchObject({ stage: 'finished', end: 'next-seated' });
  });

  it('[X2] only who has seen the last move takes it back', () => {
    const life = FloorLife.salon(perm());
    const visit = life.do(begin);
    expect(life.send({ type: 'TakeBack', visit })).toMatchObject({ outcome: 'refused', code: 'moved-on' });
    life.do({ type: 'TakeBack', visit }, latest(life, visit));
  });

  it('[X2] an end or a move is not taken back onto a chair that has its next client', () => {
    const life = FloorLife.salon(relaxer());
    const first = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null });
    const second = life.do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    life.do({ type: 'Discard', visit: first });
    life.do({ type: 'MoveTo', visit: second, chair: 1 });
    const refused = { outcome: 'refused', code: 'place-taken', place: 1 };
    expect(life.send({ type: 'TakeBack', visit: first }, latest(life, first))).toMatchObject(refused);
    life.do({ type: 'TakeBack', visit: second }, latest(life, second));
    life.do({ type: 'TakeBack', visit: first }, latest(life, first));
    expect([life.facts(first), life.facts(second)]).toMatchObject([
      { chair: 1, stage: 'prep' },
      { chair: 2, stage: 'prep' },
    ]);
  });
});
