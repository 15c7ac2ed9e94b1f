import { describe, expect, it } from 'vitest';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { addService, min } from '../../../support/pass-kit.ts';

function begun() {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
  return { life, v };
}

describe('to another chair', () => {
  it('[X4] keeps everything that runs', () => {
    const { life, v } = begun();
    life.at(28);
    const before = life.facts(v);
    life.do({ type: 'MoveTo', visit: v, chair: 3 });
    const { version, lastMove, ...after } = life.facts(v);
    // Whoever moved them stands at the head (R3).
    const acts = [{ by: null, at: life.now }];
    expect(after).toEqual({ ...before, chair: 3, acts, version: undefined, lastMove: undefined });
    expect(lastMove?.type).toBe('MovedTo');
    expect(version).toBe(before.version + 1);
  });

  it('[X4] wants a free chair in use', () => {
    const { life, v } = begun();
    const w = life.do({ type: 'SeatVisit', chair: 3, service: null, stylist: null, label: null });
    expect(life.send({ type: 'MoveTo', visit: v, chair: 3 })).toMatchObject({
      code: 'place-taken',
      visit: w,
      place: 3,
    });
    expect(life.send({ type: 'MoveTo', visit: v, chair: 91 })).toMatchObject({ code: 'unknown-place', place: 91 });
    life.do({ type: 'Discard', visit: w });
    expect(life.send({ type: 'MoveTo', visit: v, chair: 3 })).toMatchObject({ outcome: 'done', visit: v });
  });
});

describe('leaving before the end', () => {
  it('[X4] with product on is recorded as such and stands until it is settled', () => {
    const { life, v } = begun();
    life.at(5).do({ type: 'Abandon', visit: v });
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'abandoned-with-product', settled: null });
    life.at(9).do({ type: 'SettleAbandoned', visit: v }, { by: 'person-ama' });
    expect(life.facts(v).settled).toMatchObject({ at: min(9), by: 'person-ama' });
    expect(life.at(10).send({ type: 'SettleAbandoned', visit: v })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'AbandonedSettled', at: min(9), by: 'person-ama' }],
    });
  });

  it('[X4] without product is no alarm, and what the stage wanted is owed', () => {
    const { life, v } = begun();
    life.at(15).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(21).do({ type: 'ClearAndOff', visit: v });
    life.at(22).do({ type: 'Abandon', visit: v });
    expect(life.facts(v)).toMatchObject({ end: 'abandoned', bells: [] });
    expect(life.facts(v).owed.map((one) => one.item)).toEqual([
      'not-marked',
      'shampoos-short',
      'dwell-short',
      'proof-missing',
    ]);
    expect(life.send({ type: 'SettleAbandoned', visit: v })).toMatchObject({ code: 'wrong-stage' });
    expect(life.send({ type: 'SettleAbandoned', visit: 'visit-x' })).toMatchObject({ code: 'unknown-visit' });
  });
});

describe('seated by mistake', () => {
  it('[X4] is discarded before any product, and owes nothing', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    life.do({ type: 'Discard', visit: v });
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'discarded', owed: [] });
  });

  it('[X4] with product on, or after it, there is nothing to discard', () => {
    const { life, v } = begun();
    expect(life.send({ type: 'Discard', visit: v })).toMatchObject({ code: 'product-on', visit: v, place: 2 });
    life.at(15).do({ type: 'ClearAndOff', visit: v });
    expect(life.send({ type: 'Discard', visit: v })).toMatchObject({ code: 'wrong-stage' });
    addService(life, 'service-2', [relaxer({ finishing: [] }), colour()]);
    const w = life.do({ type: 'BeginApplication', chair: 3, visit: null, service: 'service-2' });
    life.do({ type: 'ClearAndOff', visit: w });
    expect(life.facts(w)).toMatchObject({ stage: 'prep', pass: 1 });
    expect(life.send({ type: 'Discard', visit: w })).toMatchObject({ code: 'wrong-stage' });
  });
});
