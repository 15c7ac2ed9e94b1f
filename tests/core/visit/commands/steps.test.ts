import { describe, expect, it } from 'vitest';
import type { Rules } from '../../../../core/directions/rules.ts';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { addService, min, saw } from '../../../support/pass-kit.ts';

const owed = (life: FloorLife, visit: string) =>
  life.facts(visit).owed.map(({ item, stage, pass }) => `${item} ${stage}${pass}`);

/** A visit at chair 2 in a stage: applied after 15 min, water on at 26, clear at 32. */
function until(stage: 'prep' | 'apply' | 'process' | 'rinse' | 'after', rules: Rules = relaxer()) {
  const life = FloorLife.salon(rules);
  const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
  if (stage === 'prep') return { life, v };
  life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
  if (stage === 'apply') return { life, v };
  life.at(15).do({ type: 'FinishApplication', visit: v }, { by: 'person-ama' });
  if (stage === 'process') return { life, v };
  life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
  if (stage === 'rinse') return { life, v };
  life.at(32).do({ type: 'ClearAndOff', visit: v }, { by: 'person-joss' });
  return { life, v };
}

describe('parts done', () => {
  const mark = (visit: string, part: number | null = null) => ({ type: 'MarkPartDone', visit, part }) as const;

  it('[S3] the next of the plan, or the one named; the last ends the application', () => {
    const { life, v } = until('apply');
    life.at(4).do(mark(v));
    life.at(7).do(mark(v, 2));
    life.at(11).do(mark(v));
    expect(life.facts(v)).toMatchObject({ stage: 'apply', passes: [{ applied: null }] });
    life.at(14).do(mark(v, 3), { by: 'person-joss' });
    expect(life.facts(v)).toMatchObject({
      stage: 'process',
      passes: [{ applied: { at: min(14), by: 'person-joss' } }],
    });
    expect(life.facts(v).passes[0]?.parts.map(({ part, begunAt, doneAt }) => [part, begunAt, doneAt])).toEqual([
      [0, min(0), min(4)],
      [2, min(4), min(7)],
      [1, min(7), min(11)],
      [3, min(11), min(14)],
    ]);
  });

  it('[S7] a part done before: who and when', () => {
    const { life, v } = until('apply');
    life.at(4).do(mark(v, 0), { by: 'person-ama' });
    expect(life.at(5).send(mark(v, 0))).toMatchObject({
      code: 'already-done',
      since: [{ type: 'PartMarkedDone', at: min(4), by: 'person-ama' }],
    });
  });

  it('[S3] there is no part beyond the plan', () => {
    const { life, v } = until('apply');
    expect(life.send(mark(v, 4))).toMatchObject({ code: 'unknown-part', visit: v });
    expect(life.send(mark(v, -1))).toMatchObject({ code: 'unknown-part' });
  });

  it('[S3] not outside apply', () => {
    for (const stage of ['prep', 'process', 'rinse'] as const) {
      const { life, v } = until(stage);
      expect(life.send(mark(v))).toMatchObject({ code: 'wrong-stage', visit: v });
    }
  });
});

describe('application finished', () => {
  it('[S3] process begins at that instant', () => {
    const { life, v } = until('process');
    expect(life.facts(v).way.at(-1)).toMatchObject({ stage: 'process', at: min(15) });
    expect(life.facts(v).passes[0]?.applied?.at).toBe(min(15));
  });

  it('[S7] said twice: who and when; elsewhere it does not fit', () => {
    const { life, v } = until('process');
    expect(life.at(16).send({ type: 'FinishApplication', visit: v })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'ApplicationFinished', at: min(15), by: 'person-ama' }],
    });
    for (const stage of ['prep', 'rinse', 'after'] as const) {
      const other = until(stage);
      expect(other.life.send({ type: 'FinishApplication', visit: other.v })).toMatchObject({ code: 'wrong-stage' });
    }
  });
});

describe('naming the basin', () => {
  const name = (visit: string, basin: number) => ({ type: 'NameBasin', visit, basin }) as const;

  it('[E1] of the water that runs, the first ever included', () => {
    const { life, v } = until('process');
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    life.at(27).do(name(v, 92));
    expect(life.facts(v).passes[0]).toMatchObject({
      water: { at: min(26), basin: 92 },
      firstWater: { at: min(26), basin: 92 },
    });
    life.at(28).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null }, saw(life, v));
    life.do(name(v, 91));
    expect(life.facts(v).passes[0]).toMatchObject({ water: { basin: 91 }, firstWater: { basin: 92 } });
  });

  it('[S1] of a neutralizer’s water', () => {
    const { life, v } = until('after', perm());
    expect(life.send(name(v, 91))).toMatchObject({ code: 'wrong-stage' });
    life.at(40).do({ type: 'BeginRinse', chair: 2, visit: v, basin: null });
    life.do(name(v, 92));
    expect(life.facts(v).passes[0]).toMatchObject({ water: { basin: 91 }, neutralizerWater: { basin: 92 } });
  });

  it('[S2] wants a basin in use and water that runs', () => {
    const { life, v } = until('rinse');
    expect(life.send(name(v, 4))).toMatchObject({ code: 'unknown-place', place: 4 });
    expect(life.send(name(v, 77))).toMatchObject({ code: 'unknown-place' });
    for (const stage of ['prep', 'process', 'after'] as const) {
      const other = until(stage);
      expect(other.life.send(name(other.v, 91))).toMatchObject({ code: 'wrong-stage' });
    }
  });
});

describe('clear and off', () => {
  const clear = (visit: string) => ({ type: 'ClearAndOff', visit }) as const;

  it('[S9] from rinse: off, and on to the next step of the directions', () => {
    const { life, v } = until('after');
    expect(life.facts(v)).toMatchObject({ stage: 'neutralize', owed: [], passes: [{ clear: { at: min(32) } }] });
    const bare = until('after', relaxer({ finishing: [] }));
    expect(bare.life.facts(bare.v).stage).toBe('dry');
  });

  it('[S4] too soon after water on, the rinse was short', () => {
    const { life, v } = until('rinse');
    life.at(30.9).do(clear(v));
    expect(owed(life, v)).toEqual(['rinse-short rinse0']);
  });

  it('[S4] from apply and process with product on: everything between is not marked', () => {
    const one = until('apply');
    one.life.at(5).do(clear(one.v));
    expect(one.life.facts(one.v)).toMatchObject({ stage: 'neutralize', passes: [{ clear: { at: min(5) } }] });
    expect(owed(one.life, one.v)).toEqual(['not-marked process0', 'not-marked rinse0']);
    const two = until('process');
    two.life.at(28).do(clear(two.v));
    expect(owed(two.life, two.v)).toEqual(['not-marked rinse0']);
  });

  it('[S1] from a neutralizer’s rinse it goes on to the step after', () => {
    const { life, v } = until('after', perm());
    life.at(35).do({ type: 'PutNeutralizerOn', visit: v });
    life.do({ type: 'TakeRodsOut', visit: v });
    life.at(41).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(43).do(clear(v));
    expect(life.facts(v)).toMatchObject({ stage: 'condition', passes: [{ clear: { at: min(32) } }] });
    expect(owed(life, v)).toEqual(['rinse-short neutralize0']);
  });

  it('[S7] said twice: who and when', () => {
    const { life, v } = until('after');
    expect(life.at(33).send(clear(v))).toMatchObject({
      code: 'already-done',
      since: [{ type: 'WentClear', at: min(32), by: 'person-joss' }],
    });
  });

  it('[S4] nothing to take off in prep', () => {
    const { life, v } = until('prep');
    expect(life.send(clear(v))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S6] the water of a burn runs until a person closes it', () => {
    const { life, v } = until('apply');
    life.do({ type: 'ReportBurns', chair: 2, visit: v, place: 'skin' });
    life.at(1).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.at(10).send(clear(v), saw(life, v))).toMatchObject({ code: 'wrong-stage' });
    life.do({ type: 'CloseBurns', visit: v, done: 'eased' });
    life.do(clear(v));
    expect(life.facts(v).stage).toBe('neutralize');
  });
});

describe('shampoos', () => {
  const wash = (
    visit: string,
    indicator: 'coloured' | 'colourless' | null = 'colourless',
    strip: number | null = null,
  ) => ({ type: 'MarkShampoo', visit, indicator, strip }) as const;

  it('[S1] are kept with what they showed', () => {
    const { life, v } = until('after');
    life.at(34).do(wash(v, 'coloured'), { by: 'person-ama' });
    life.at(36).do(wash(v, null, 7.5), saw(life, v));
    expect(life.facts(v).passes[0]?.shampoos).toMatchObject([
      { at: min(34), by: 'person-ama', indicator: 'coloured', strip: null },
      { at: min(36), indicator: null, strip: 7.5 },
    ]);
  });

  it('[S7] the same by two people: the second, who had not seen the first, is told', () => {
    const { life, v } = until('after');
    const before = saw(life, v);
    life.at(34).do(wash(v), { ...before, by: 'person-ama' });
    const told = { code: 'already-done', since: [{ type: 'ShampooMarked', at: min(34), by: 'person-ama' }] };
    expect(life.send(wash(v), before)).toMatchObject(told);
    expect(life.send(wash(v))).toMatchObject(told);
  });

  it('[S1] only in neutralize, and not where a neutralizer is wanted', () => {
    for (const { life, v } of [until('rinse'), until('after', perm())]) {
      expect(life.send(wash(v))).toMatchObject({ code: 'wrong-stage' });
    }
  });
});

describe('a neutralizer', () => {
  it('[S1] last touch and rods, each once', () => {
    const { life, v } = until('after', perm());
    life.at(35).do({ type: 'PutNeutralizerOn', visit: v }, { by: 'person-ama' });
    life.at(38).do({ type: 'TakeRodsOut', visit: v }, { by: 'person-joss' });
    expect(life.facts(v).passes[0]).toMatchObject({ neutralizerOn: { at: min(35) }, rodsOut: { at: min(38) } });
    expect(life.at(39).send({ type: 'PutNeutralizerOn', visit: v })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'NeutralizerPutOn', at: min(35), by: 'person-ama' }],
    });
    expect(life.send({ type: 'TakeRodsOut', visit: v })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'RodsTakenOut', at: min(38), by: 'person-joss' }],
    });
  });

  it('[S1] not after a relaxer, not before neutralize, no rods where there are none', () => {
    const bare = perm({
      finishing: [{ kind: 'neutralizer', minAfterMs: 0, maxAfterMs: 600_000, rinseMs: 0, rods: false }],
    });
    for (const { life, v } of [until('after'), until('rinse', perm())]) {
      expect(life.send({ type: 'PutNeutralizerOn', visit: v })).toMatchObject({ code: 'wrong-stage' });
      expect(life.send({ type: 'TakeRodsOut', visit: v })).toMatchObject({ code: 'wrong-stage' });
    }
    const { life, v } = until('after', bare);
    expect(life.send({ type: 'TakeRodsOut', visit: v })).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('done, next', () => {
  const on = (visit: string, to: 'prep' | 'neutralize' | 'condition' | 'dry' | 'finished') =>
    ({ type: 'MoveOn', visit, to }) as const;

  it('[S4] a later step is accepted at once, what was skipped not marked', () => {
    const { life, v } = until('rinse');
    life.at(27).do(on(v, 'dry'));
    expect(life.facts(v)).toMatchObject({ stage: 'dry', passes: [{ clear: { at: min(27) } }] });
    expect(owed(life, v)).toEqual(['rinse-short rinse0', 'not-marked neutralize0', 'not-marked condition0']);
  });

  it('[S4] leaving a finishing step short names what it wanted', () => {
    const { life, v } = until('after');
    life.at(33).do(on(v, 'condition'));
    life.at(34).do(on(v, 'dry'));
    expect(owed(life, v)).toEqual([
      'shampoos-short neutralize0',
      'dwell-short neutralize0',
      'proof-missing neutralize0',
      'dwell-short condition0',
    ]);
  });

  it('[S4] to the end: the rest is not marked', () => {
    const { life, v } = until('after', colour());
    life.at(36).do(on(v, 'finished'));
    expect(life.facts(v)).toMatchObject({ stage: 'finished', end: 'done' });
    expect(owed(life, v)).toEqual(['not-marked dry0']);
  });

  it('[S4] with product on there is no end', () => {
    for (const stage of ['apply', 'process', 'rinse'] as const) {
      const { life, v } = until(stage);
      expect(life.send(on(v, 'finished'))).toMatchObject({ code: 'product-on', visit: v, place: 2 });
    }
  });

  it('[S4] with product on the way forward is water on', () => {
    for (const stage of ['apply', 'process'] as const) {
      const { life, v } = until(stage);
      expect(life.send(on(v, 'dry'))).toMatchObject({ code: 'wrong-stage', visit: v });
    }
  });

  it('[S4] from prep only to the end, and then nothing is owed', () => {
    const { life, v } = until('prep');
    expect(life.send(on(v, 'dry'))).toMatchObject({ code: 'wrong-stage' });
    life.do(on(v, 'finished'));
    expect(life.facts(v)).toMatchObject({ end: 'done', owed: [] });
  });

  it('[S7] there already: who and when, unless the sender had seen it', () => {
    const { life, v } = until('after');
    const before = saw(life, v);
    life.at(40).do(on(v, 'condition'), { by: 'person-ama' });
    const told = { code: 'already-done', since: [{ type: 'MovedOn', at: min(40), by: 'person-ama' }] };
    expect(life.send(on(v, 'condition'), before)).toMatchObject(told);
    expect(life.send(on(v, 'condition'))).toMatchObject(told);
    expect(life.send(on(v, 'condition'), saw(life, v))).toMatchObject({ code: 'wrong-stage' });
    expect(life.send(on(v, 'neutralize'), saw(life, v))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S6] burning, nothing goes on', () => {
    const { life, v } = until('apply');
    life.do({ type: 'ReportBurns', chair: 2, visit: v, place: 'eye' });
    expect(life.send(on(v, 'finished'))).toMatchObject({ code: 'product-on' });
    expect(life.send(on(v, 'dry'))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S10] to the next pass: the first is off', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener' }), colour()]);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-2' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do(on(v, 'prep'));
    expect(life.facts(v)).toMatchObject({
      stage: 'prep',
      pass: 1,
      passes: [{ clear: { at: min(32) } }, { clear: null }],
    });
    expect(owed(life, v)).toEqual(['not-marked neutralize0', 'not-marked condition0']);
    life.at(33).do({ type: 'MoveOn', visit: v, to: 'finished' });
    expect(owed(life, v).slice(2)).toEqual([
      'not-marked apply1',
      'not-marked process1',
      'not-marked rinse1',
      'not-marked condition1',
      'not-marked dry1',
    ]);
  });

  it('[S10] a pass that was skipped whole never was on, so nothing of it comes off', () => {
    const life = FloorLife.salon();
    addService(life, 'service-2', [relaxer({ class: 'lightener', finishing: [] }), colour()]);
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-2' });
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do(on(v, 'condition'));
    expect(life.facts(v)).toMatchObject({ stage: 'condition', pass: 1, passes: [{ clear: { at: min(32) } }, {}] });
    life.at(36).do(on(v, 'dry'));
    expect(life.facts(v).passes[1]).toMatchObject({ begun: null, clear: null });
    expect(life.send({ type: 'ClearAndOff', visit: v })).toMatchObject({ code: 'wrong-stage' });
  });

  it('[S10] a begin that nobody knows counts as on: moving on takes it off', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    life.at(6).do(on(v, 'dry'));
    expect(life.facts(v).passes[0]?.clear?.at).toBe(min(6));
  });
});
