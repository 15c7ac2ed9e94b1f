import { describe, expect, it } from 'vitest';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';
import { MINUTE } from '../../../../core/time.ts';
import { FloorLife, NOON } from '../../../support/floor-life.ts';
import { addService, min, saw } from '../../../support/pass-kit.ts';

const waterOn = (chair: number, visit: string | null = null, basin: number | null = 91) =>
  ({ type: 'BeginRinse', chair, visit, basin }) as const;
const owed = (life: FloorLife, visit: string) =>
  life.facts(visit).owed.map(({ item, stage, pass }) => `${item} ${stage}${pass}`);

function begun(life: FloorLife, chair = 2): string {
  return life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
}

describe('water on', () => {
  it('[S2] with no visit seats one whose begin and product are asked for afterwards', () => {
    const life = FloorLife.salon();
    const v = life.do(waterOn(3, null, 92), { id: 'water-command', by: 'person-joss' });
    expect(v).toBe('water-command');
    expect(life.facts(v)).toMatchObject({ chair: 3, stage: 'rinse', service: null, stylist: 'person-joss' });
    expect(life.facts(v).passes).toMatchObject([
      { rules: null, begun: null, beginUnknown: true, water: { basin: 92 } },
    ]);
    expect(owed(life, v)).toEqual(['begin-unknown apply0', 'product-unknown prep0']);
  });

  it('[S2] from prep: the begin is unknown and asked for afterwards', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    life.do(waterOn(2, v));
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', passes: [{ begun: null, beginUnknown: true }] });
    expect(owed(life, v)).toEqual(['begin-unknown apply0']);
  });

  it('[S2] from apply: process is not marked; from process: nothing is owed', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    life.at(8).do(waterOn(2, v));
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', passes: [{ applied: null, beginUnknown: false }] });
    expect(owed(life, v)).toEqual(['not-marked process0']);
    const w = begun(life, 3);
    life.at(20).do({ type: 'FinishApplication', visit: w });
    life.at(31).do(waterOn(3, w));
    expect(owed(life, w)).toEqual([]);
  });

  it('[S2] without naming the visit it is whoever sits at the chair', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    expect(life.do(waterOn(2))).toBe(v);
  });

  it('[S2] names another chair’s visit if it is open, and a finished one not at all', () => {
    const life = FloorLife.salon();
    const v = begun(life, 2);
    expect(life.do(waterOn(4, v))).toBe(v);
    const w = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null });
    life.do({ type: 'Discard', visit: w });
    expect(life.do(waterOn(1, w), { id: 'anew' })).toBe('anew');
  });

  it('[S2] is a repeat from rinse on, accepted from somebody who had seen the latest water', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    life.at(20).do(waterOn(2, v));
    const { version } = life.facts(v).passes[0]?.water ?? { version: 0 };
    life.at(22).do(waterOn(2, v, 92), { seen: version });
    expect(life.facts(v).passes[0]).toMatchObject({
      water: { at: min(22), basin: 92 },
      firstWater: { at: min(20), basin: 91 },
    });
    expect(life.facts(v).way.filter((one) => one.stage === 'rinse')).toHaveLength(1);
  });

  it('[S7] the second of two people is told who did it and when', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    life.at(20).do(waterOn(2, v), { by: 'person-ama' });
    const { version } = life.facts(v).passes[0]?.water ?? { version: 0 };
    const told = {
      outcome: 'refused',
      code: 'already-done',
      visit: v,
      since: [{ type: 'RinseBegun', at: min(20), by: 'person-ama' }],
    };
    expect(life.at(20.1).send(waterOn(2, v), { seen: version - 1 })).toMatchObject(told);
    expect(life.send(waterOn(2, v))).toMatchObject(told);
  });

  it('[S2] from a later stage a repeat goes back to rinse, and the water is not clear any more', () => {
    const life = FloorLife.salon();
    for (const stage of ['neutralize', 'condition', 'dry'] as const) {
      const v = begun(life);
      life.pass(16).do(waterOn(2, v));
      life.pass(6).do({ type: 'ClearAndOff', visit: v });
      if (stage !== 'neutralize') life.do({ type: 'MoveOn', visit: v, to: stage });
      expect(life.facts(v).stage).toBe(stage);
      life.pass(1).do(waterOn(2, v), saw(life, v));
      expect(life.facts(v)).toMatchObject({ stage: 'rinse', passes: [{ clear: null, water: { at: life.now } }] });
      life.pass(6).do({ type: 'ClearAndOff', visit: v });
      life.do({ type: 'MoveOn', visit: v, to: 'finished' });
    }
  });

  it('[S2] once a neutralizer is due, water on in neutralize is the neutralizer’s, and the stage stays', () => {
    const life = FloorLife.salon(perm());
    const v = begun(life);
    life.at(20).do(waterOn(2, v));
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    life.at(27).do({ type: 'PutNeutralizerOn', visit: v });
    life.at(33).do(waterOn(2, v, 92), { by: 'person-joss' });
    expect(life.facts(v)).toMatchObject({
      stage: 'neutralize',
      passes: [{ water: { at: min(20) }, neutralizerWater: { at: min(33), basin: 92 } }],
    });
    expect(owed(life, v)).toEqual(['not-marked process0']);
    expect(life.at(34).send(waterOn(2, v))).toMatchObject({ code: 'already-done', since: [{ by: 'person-joss' }] });
    life.do(waterOn(2, v), saw(life, v));
    expect(life.facts(v).passes[0]?.neutralizerWater?.at).toBe(min(34));
  });

  it('[S4] water on a neutralizer that nobody timed is noted as such', () => {
    const life = FloorLife.salon(perm());
    const v = begun(life);
    life.at(20).do(waterOn(2, v));
    life.at(26).do({ type: 'ClearAndOff', visit: v });
    life.at(33).do(waterOn(2, v));
    expect(owed(life, v)).toEqual(['not-marked process0', 'neutralizer-not-timed neutralize0']);
  });

  it('[S2] what nobody knows is asked for once, and of each pass by itself', () => {
    const life = FloorLife.salon();
    const v = life.do(waterOn(3));
    life.pass(1).do(waterOn(3, v), saw(life, v));
    life.do({ type: 'ClearAndOff', visit: v });
    life.do(waterOn(3, v), saw(life, v));
    expect(owed(life, v)).toEqual(['begin-unknown apply0', 'product-unknown prep0']);
    addService(life, 'service-2', [relaxer({ class: 'lightener', finishing: [] }), colour()]);
    const w = life.do({ type: 'SeatVisit', chair: 2, service: 'service-2', stylist: null, label: null });
    life.do(waterOn(2, w));
    life.pass(1).do(waterOn(2, w), saw(life, w));
    life.pass(6).do({ type: 'ClearAndOff', visit: w });
    life.do(waterOn(2, w));
    expect(owed(life, w)).toEqual(['begin-unknown apply0', 'begin-unknown apply1']);
  });

  it('[S2] another thing owed at the same pass does not stand in for the begin', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 3, service: null, stylist: null, label: null });
    life.do({ type: 'ReportBurns', chair: 3, visit: v, place: 'skin' });
    life.do(waterOn(3, v));
    expect(owed(life, v)).toEqual(['begin-unknown apply0', 'product-unknown prep0']);
  });

  it('[S10] from the prep of the second pass its begin is unknown', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener', finishing: [] }), colour()]);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-2' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(26).do(waterOn(2, v));
    life.at(32).do({ type: 'ClearAndOff', visit: v });
    expect(life.facts(v)).toMatchObject({ stage: 'prep', pass: 1 });
    life.at(33).do(waterOn(2, v));
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', pass: 1, passes: [{}, { beginUnknown: true }] });
    expect(owed(life, v)).toEqual(['begin-unknown apply1']);
  });

  it('[S2] an unknown, retired or wrong basin is left open and holds nothing up', () => {
    const life = FloorLife.salon();
    life.do({ type: 'RetirePlace', number: 92 });
    for (const basin of [92, 77, 4, null]) {
      const v = begun(life);
      life.do(waterOn(2, v, basin));
      expect(life.facts(v).passes[0]?.water).toMatchObject({ basin: null });
      life.do({ type: 'ClearAndOff', visit: v });
      life.do({ type: 'MoveOn', visit: v, to: 'finished' });
    }
  });

  it('[S2] is refused only where there is no such chair and no such visit', () => {
    const life = FloorLife.salon();
    expect(life.send(waterOn(77))).toMatchObject({ code: 'unknown-place', place: 77 });
    expect(life.send(waterOn(91))).toMatchObject({ code: 'unknown-place', place: 91 });
    const v = begun(life);
    expect(life.send(waterOn(77, v))).toMatchObject({ outcome: 'done', visit: v });
  });

  it('[S2] by somebody unknown it is done all the same, and names nobody', () => {
    const life = FloorLife.salon();
    const v = life.do(waterOn(1), { by: 'person-nobody' });
    expect(life.facts(v)).toMatchObject({ stage: 'rinse', stylist: null });
    // By somebody whose rights ended it is still theirs.
    life.do({ type: 'RetirePerson', person: 'person-joss' });
    expect(life.facts(life.do(waterOn(2), { by: 'person-joss' })).stylist).toBe('person-joss');
  });

  it('[X3] is folded in at its own time, however old, and cut to the last 24 h', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    life.at(60).do({ type: 'FinishApplication', visit: v });
    life.at(120).do(waterOn(2, v), { happenedAt: min(30) });
    expect(life.facts(v).passes[0]?.water?.at).toBe(min(30));
    life.do(waterOn(2, v), { ...saw(life, v), happenedAt: 5 });
    expect(life.facts(v).passes[0]?.firstWater?.at).toBe(life.now - 24 * 3_600_000);
    expect(life.facts(v).passes[0]?.water?.at).toBe(min(30));
    life.do(waterOn(2, v), { ...saw(life, v), happenedAt: min(9999) });
    expect(life.facts(v).passes[0]?.water?.at).toBe(life.now);
  });

  it('[X1] a close bought by a correction is no longer marked once water is on', () => {
    const life = FloorLife.salon();
    const v = begun(life);
    life.at(10).do({ type: 'FinishApplication', visit: v });
    const finished = life.facts(v).version;
    life.at(14).do({ type: 'CorrectTime', visit: v, of: finished, to: min(13), reason: 'marked too early' });
    expect(life.facts(v).passes[0]?.closeBought).toBe(true);
    life.at(20).do(waterOn(2, v));
    expect(life.facts(v).passes[0]?.closeBought).toBe(false);
  });
});

describe('water on, told late', () => {
  const rinsing = () => {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'FinishApplication', visit });
    life.at(28).do({ type: 'BeginRinse', chair: 2, visit, basin: 92 });
    return { life, visit };
  };
  const late = (minutes: number) => ({ by: 'person-ama', happenedAt: NOON + minutes * MINUTE });

  it('[X3] that was on before the one that is known counts as the first; the known one goes on running', () => {
    const { life, visit } = rinsing();
    const water = { type: 'BeginRinse', chair: 2, visit, basin: 91 } as const;
    life.at(30).do(water, late(27));
    const [pass] = life.facts(visit).passes;
    expect(pass?.firstWater).toMatchObject({ at: NOON + 27 * MINUTE, basin: 91, by: 'person-ama' });
    expect(pass?.water).toMatchObject({ at: NOON + 28 * MINUTE, basin: 92 });
    expect(life.facts(visit).stage).toBe('rinse');
    expect(life.send(water, late(29))).toMatchObject({ code: 'already-done' });
    life.at(35).do({ type: 'ClearAndOff', visit });
    life.do(water, late(26));
    expect(life.facts(visit)).toMatchObject({
      stage: 'neutralize',
      passes: [{ firstWater: { at: NOON + 26 * MINUTE } }],
    });
  });

  it('[X3] of a client who has left is theirs, not the next one’s at that chair', () => {
    const { life, visit } = rinsing();
    life.at(35).do({ type: 'ClearAndOff', visit });
    life.do({ type: 'MoveOn', visit, to: 'finished' });
    const next = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(40).do({ type: 'BeginRinse', chair: 2, visit, basin: 91 }, late(27));
    expect(life.facts(next)).toMatchObject({ stage: 'apply', passes: [{ water: null }] });
    expect(life.facts(visit)).toMatchObject({
      stage: 'finished',
      passes: [{ firstWater: { at: NOON + 27 * MINUTE } }],
    });
  });
});
