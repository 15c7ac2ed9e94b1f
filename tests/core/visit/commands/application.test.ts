import { describe, expect, it } from 'vitest';
import { defaultParts } from '../../../../core/directions/rules.ts';
import { certainClose } from '../../../../core/exposure/window.ts';
import { MINUTE } from '../../../../core/time.ts';
import type { Pass } from '../../../../core/visit/visit.ts';
import { relaxer, tested, warmed } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { min } from '../../../support/pass-kit.ts';

const ama = { by: 'person-ama' };
const joss = { by: 'person-joss' };
const begun = (rules = relaxer()) => {
  const life = FloorLife.salon(rules);
  life.do({ type: 'AddPerson', name: 'Ida', roles: ['senior'] }, { id: 'person-ida' });
  return { life, v: life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, ama) };
};
const begunVersion = (life: FloorLife, visit: string): number => life.facts(visit).passes[0]?.begun?.version ?? 0;
const limits = (visit: string, changes: object) =>
  ({
    type: 'SetLimits',
    visit,
    minAfterMs: null,
    maxAfterMs: null,
    ceilingMs: null,
    reason: null,
    ...changes,
  }) as const;
const strandTest = (visit: string, result: 'ready' | 'not-yet', part: number | null = null) =>
  ({ type: 'TestStrand', visit, place: 'porous', result, part, note: null }) as const;

describe('parts', () => {
  it('[P0] a part twice or unknown is refused', () => {
    const { life, v } = begun();
    life.at(4).do({ type: 'MarkPartDone', visit: v, part: 2 }, ama);
    expect(life.send({ type: 'MarkPartDone', visit: v, part: 2 })).toMatchObject({
      code: 'already-done',
      since: [{ at: min(4), by: 'person-ama' }],
    });
    expect(life.send({ type: 'MarkPartDone', visit: v, part: 4 })).toMatchObject({ code: 'unknown-part' });
    life.at(8).do({ type: 'MarkPartDone', visit: v, part: null });
    expect(life.facts(v).passes[0]?.parts.map((one) => one.part)).toEqual([2, 0]);
  });

  it('[P0] of a product nothing is known of is refused', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 });
    expect(life.send({ type: 'MarkPartDone', visit: v, part: 0 })).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('helpers', () => {
  it('[P0] joins once, up to four pairs of hands, and begins then', () => {
    const { life, v } = begun();
    life.at(3).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    expect(life.send({ type: 'JoinAsHelper', visit: v, person: 'person-joss' })).toMatchObject({
      code: 'already-done',
      since: [{ at: min(3), by: 'person-joss' }],
    });
    expect(life.send({ type: 'JoinAsHelper', visit: v, person: 'person-ama' })).toMatchObject({ code: 'already-done' });
    expect(life.send({ type: 'JoinAsHelper', visit: v, person: 'nobody' })).toMatchObject({ code: 'unknown-person' });
    life.do({ type: 'JoinAsHelper', visit: v, person: null });
    life.do({ type: 'JoinAsHelper', visit: v, person: null });
    expect(life.send({ type: 'JoinAsHelper', visit: v, person: null })).toMatchObject({ code: 'out-of-range' });
  });

  it('[P0] each part begins with the previous finish of the same hands, or at the joining', () => {
    const { life, v } = begun();
    life.at(3).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(5).do({ type: 'MarkPartDone', visit: v, part: 0 }, ama);
    life.at(7).do({ type: 'MarkPartDone', visit: v, part: 1 }, joss);
    life.at(9).do({ type: 'MarkPartDone', visit: v, part: 2 });
    expect(life.facts(v).passes[0]?.parts.map((one) => one.begunAt)).toEqual([min(0), min(3), min(5)]);
  });

  it('[P0] who left and came back begins a new part when coming back; the part left in work stays begun', () => {
    const { life, v } = begun();
    life.at(1).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(3).do({ type: 'LeaveAsHelper', visit: v, person: null });
    life.at(6).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(8).do({ type: 'MarkPartDone', visit: v, part: 2 }, joss);
    life.at(9).do({ type: 'MarkPartDone', visit: v, part: 1 }, joss);
    expect(life.facts(v).passes[0]?.parts).toMatchObject([
      { part: 2, begunAt: min(6), doneAt: min(8) },
      { part: 1, begunAt: min(1), doneAt: min(9) },
    ]);
  });

  it('[P0] a part left in work keeps its own ceiling running; the close never moves later by it', () => {
    const parts = [...defaultParts, { place: 'hairline', share: 0, ceilingMs: 12 * MINUTE }] as const;
    const { life, v } = begun(relaxer({ parts: parts.map((one) => ({ ...one, share: 0.2 })) }));
    life.at(5).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    for (const [at, part] of [6, 7, 8].map((minute, i) => [minute, i] as const))
      life.at(at).do({ type: 'MarkPartDone', visit: v, part }, ama);
    const closes = (): number | null => certainClose(life.facts(v).passes[0] as Pass);
    // Joss, free since joining, is at the fourth part; Ama has been at the hairline since 8.
    expect(closes()).toBe(min(20));
    life.at(9).do({ type: 'LeaveAsHelper', visit: v, person: 'person-joss' });
    expect(closes()).toBe(min(20));
    life.at(10).do({ type: 'MarkPartDone', visit: v, part: 3 }, ama);
    expect(closes()).toBe(min(20));
    life.at(11).do({ type: 'MarkPartDone', visit: v, part: 4 }, ama);
    expect(life.facts(v).passes[0]?.parts.slice(3)).toMatchObject([{ begunAt: min(5) }, { begunAt: min(8) }]);
  });

  it('[P0] whoever is named goes, else the one who joined last; a stranger is refused', () => {
    const { life, v } = begun();
    life.at(1).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(2).do({ type: 'JoinAsHelper', visit: v, person: 'person-ida' });
    expect(life.send({ type: 'LeaveAsHelper', visit: v, person: 'nobody' })).toMatchObject({ code: 'unknown-person' });
    // Whoever began is no helper.
    expect(life.send({ type: 'LeaveAsHelper', visit: v, person: 'person-ama' })).toMatchObject({ code: 'wrong-stage' });
    life.at(3).do({ type: 'LeaveAsHelper', visit: v, person: 'person-joss' });
    life.at(4).do({ type: 'LeaveAsHelper', visit: v, person: null });
    expect(life.facts(v).passes[0]?.hands.map(({ by, untilAt }) => ({ by, untilAt }))).toEqual([
      { by: 'person-ama', untilAt: null },
      { by: 'person-joss', untilAt: min(3) },
      { by: 'person-ida', untilAt: min(4) },
    ]);
  });

  it('[P0] "somebody goes" is the nameless helper, even if a named one came later', () => {
    const { life, v } = begun();
    life.at(1).do({ type: 'JoinAsHelper', visit: v, person: null });
    life.at(2).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(3).do({ type: 'LeaveAsHelper', visit: v, person: null });
    life.at(4).do({ type: 'LeaveAsHelper', visit: v, person: null });
    expect(life.facts(v).passes[0]?.hands.map(({ by, untilAt }) => [by, untilAt])).toEqual([
      ['person-ama', null],
      [null, min(3)],
      ['person-joss', min(4)],
    ]);
  });

  it('[P0] of two nameless helpers the one who joined last goes first', () => {
    const { life, v } = begun();
    for (const at of [1, 2]) life.at(at).do({ type: 'JoinAsHelper', visit: v, person: null });
    for (const at of [3, 4]) life.at(at).do({ type: 'LeaveAsHelper', visit: v, person: null });
    expect(life.facts(v).passes[0]?.hands.map((one) => one.untilAt)).toEqual([null, min(4), min(3)]);
  });

  it('[X1] a first touch is not moved past a helper who joined after it', () => {
    const { life, v } = begun();
    life.at(4).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    life.at(6);
    const correct = (to: number) =>
      life.send({ type: 'CorrectTime', visit: v, of: begunVersion(life, v), to: min(to), reason: null });
    expect(correct(5)).toMatchObject({ code: 'times-cross' });
    expect(correct(4)).toMatchObject({ code: 'reason-needed' });
  });

  it('[P0] only a helper leaves, and only in apply', () => {
    const { life, v } = begun();
    expect(life.send({ type: 'LeaveAsHelper', visit: v, person: null })).toMatchObject({ code: 'wrong-stage' });
    life.do({ type: 'JoinAsHelper', visit: v, person: null });
    life.do({ type: 'LeaveAsHelper', visit: v, person: null });
    expect(life.send({ type: 'LeaveAsHelper', visit: v, person: null })).toMatchObject({ code: 'wrong-stage' });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    expect(life.send({ type: 'JoinAsHelper', visit: v, person: null })).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('prep', () => {
  it('[R2] complete once, not yet always, nothing once begun', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    life.do({ type: 'SayPrep', visit: v, complete: true }, ama);
    expect(life.send({ type: 'SayPrep', visit: v, complete: true })).toMatchObject({
      code: 'already-done',
      since: [{ type: 'PrepSaid', by: 'person-ama' }],
    });
    life.do({ type: 'SayPrep', visit: v, complete: false });
    life.do({ type: 'BeginApplication', chair: 2, visit: v, service: null });
    expect(life.send({ type: 'SayPrep', visit: v, complete: true })).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('strand tests', () => {
  it('[E6] an unknown part, after ready, and where nothing is on hair are refused', () => {
    const { life, v } = begun(relaxer(tested));
    expect(life.send(strandTest(v, 'not-yet', 4))).toMatchObject({ code: 'unknown-part' });
    life.at(12).do(strandTest(v, 'ready'));
    expect(life.send(strandTest(v, 'not-yet'))).toMatchObject({ code: 'already-done', since: [{ at: min(12) }] });
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.send(strandTest(v, 'ready'))).toMatchObject({ code: 'wrong-stage' });
  });

  it('[E6] a note is kept aside, not in the log', () => {
    const { life, v } = begun();
    life.at(5).do({ ...strandTest(v, 'not-yet'), note: 'springs back' });
    expect(Object.values(life.floor.words)).toContain('springs back');
    expect(JSON.stringify(life.log)).not.toContain('springs back');
  });
});

describe('strand tests of a by-part product', () => {
  it('[E6] want to know which part was tested, and speak for it alone', () => {
    const { life, v } = begun(relaxer({ manner: 'by-part' }));
    expect(life.send(strandTest(v, 'not-yet'))).toMatchObject({ code: 'unknown-part', field: 'part' });
    life.at(12).do(strandTest(v, 'ready', 0));
    expect(life.facts(v).stage).toBe('apply');
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(16).do(strandTest(v, 'not-yet', 1));
    expect(life.facts(v).passes[0]?.tests).toHaveLength(2);
  });
});

describe('heat', () => {
  it('[E10] never where the directions say never; the same twice is already done', () => {
    const cold = begun();
    expect(cold.life.send({ type: 'SetHeat', visit: cold.v, on: true })).toMatchObject({ code: 'against-directions' });
    expect(cold.life.send({ type: 'SetHeat', visit: cold.v, on: false })).toMatchObject({ outcome: 'done' });
    const { life, v } = begun(relaxer(warmed));
    life.do({ type: 'SetHeat', visit: v, on: true });
    expect(life.send({ type: 'SetHeat', visit: v, on: true })).toMatchObject({ code: 'already-done' });
    life.do({ type: 'SetHeat', visit: v, on: false });
    expect(life.facts(v).passes[0]).toMatchObject({ heated: true, heat: { on: false } });
  });

  it('[E10] is said in process too, not once water is on', () => {
    const { life, v } = begun(relaxer(warmed));
    life.at(10).do({ type: 'FinishApplication', visit: v });
    expect(life.send({ type: 'SetHeat', visit: v, on: true })).toMatchObject({ outcome: 'done' });
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(life.send({ type: 'SetHeat', visit: v, on: false })).toMatchObject({ code: 'wrong-stage' });
  });
});

describe('limits for one head', () => {
  it('[E9] lowering is free, for this head alone', () => {
    const { life, v } = begun();
    life.do(limits(v, { ceilingMs: 20 * MINUTE }), joss);
    expect(life.facts(v).passes[0]).toMatchObject({ rules: { ceilingMs: 20 * MINUTE }, limits: { raised: false } });
    expect(life.floor.directions['directions-1']?.rules.ceilingMs).toBe(30 * MINUTE);
  });

  it('[E9] raising wants a senior, manager or owner, and a reason', () => {
    const { life, v } = begun();
    const raise = limits(v, { maxAfterMs: 15 * MINUTE + 1 });
    expect(life.send(raise, ama)).toMatchObject({ code: 'not-allowed' });
    expect(life.send(raise)).toMatchObject({ code: 'not-allowed' });
    expect(life.send(raise, { by: 'person-ida' })).toMatchObject({ code: 'reason-needed', field: 'reason' });
    life.do({ ...raise, reason: 'coarse hair' }, { by: 'person-ida' });
    expect(life.facts(v).passes[0]).toMatchObject({ rules: { maxAfterMs: 900_001 }, limits: { raised: true } });
    expect(life.send(limits(v, { maxAfterMs: 15 * MINUTE + 1 }), ama)).toMatchObject({ outcome: 'done' });
  });

  it('[E9] a reason is kept aside; with none given nothing is', () => {
    const { life, v } = begun();
    life.do(limits(v, { ceilingMs: 25 * MINUTE }));
    expect(Object.keys(life.floor.words).filter((key) => key.startsWith(`visit/${v}/note/`))).toEqual([]);
    life.do(limits(v, { ceilingMs: 20 * MINUTE, reason: 'sore scalp' }));
    expect(life.floor.words[`visit/${v}/note/${life.facts(v).version}`]).toBe('sore scalp');
  });

  it('[E9] limits that contradict one another, absurd ones and none at all are refused', () => {
    const { life, v } = begun();
    const code = (changes: object) => {
      const answer = life.send(limits(v, changes), joss);
      return answer.outcome === 'refused' ? answer.code : answer.outcome;
    };
    expect(code({})).toBe('out-of-range');
    expect(code({ maxAfterMs: 9 * MINUTE })).toBe('directions-contradict');
    expect(code({ ceilingMs: 9 * MINUTE })).toBe('directions-contradict');
    expect([code({ minAfterMs: -1 }), code({ ceilingMs: 0.5 })].every((one) => one !== 'done')).toBe(true);
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    expect(code({ ceilingMs: 20 * MINUTE })).toBe('wrong-stage');
  });

  it('[E9] lowered under a part’s own ceiling they bind that part too', () => {
    const parts = defaultParts.map((part, i) => (i === 3 ? { ...part, ceilingMs: 25 * MINUTE } : part));
    const { life, v } = begun(relaxer({ parts }));
    expect(life.send(limits(v, { ceilingMs: 20 * MINUTE }))).toMatchObject({ outcome: 'done' });
  });

  it('[E9] under heat they change what holds there', () => {
    const { life, v } = begun(relaxer(warmed));
    life.do(limits(v, { minAfterMs: 7 * MINUTE, reason: 'coarse hair' }), { by: 'person-ida' });
    expect(life.facts(v).passes[0]?.rules?.underHeat).toMatchObject({ minAfterMs: 7 * MINUTE, maxAfterMs: 9 * MINUTE });
  });
});
