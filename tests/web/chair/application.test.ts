import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { earlierMinutes } from '../../../web/src/chair/earlier.ts';
import { hairWindow } from '../../../web/src/chair/hair-window.ts';
import { heatWanted, headNotes } from '../../../web/src/chair/head-notes.ts';
import { faultOf, limitsChange, stepLimit } from '../../../web/src/chair/limits-form.ts';
import { actDetail, actWords, lastMoveWords } from '../../../web/src/chair/act-words.ts';
import { nextActs, partDone } from '../../../web/src/chair/next-act.ts';
import { paceNotice } from '../../../web/src/chair/pace-notice.ts';
import { partTimes, stepTime } from '../../../web/src/chair/part-times.ts';
import { partAt } from '../../../web/src/chair/tested-part.ts';
import { words } from '../../../web/src/words/words.ts';
import { StagedSession } from '../stage/staged-session.svelte.ts';
import { relaxer, tested, warmed } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

const w = words();
const context = (life: FloorLife) => ({ now: life.now, figures: life.floor.salon.figures, uncertain: false });

function begun(rules = relaxer()): { life: FloorLife; visit: string } {
  const life = FloorLife.salon(rules);
  const visit = life.do({ type: 'BeginApplication', chair: 4, visit: null, service: 'service-1' });
  return { life, visit };
}

describe('a forgotten part', () => {
  it('[X3] lies between first touch and now, later between first touch and the end', () => {
    const { life, visit } = begun();
    life.pass(12);
    expect(partTimes(life.facts(visit), life.now)).toEqual({ fromAt: NOON, untilAt: NOON + 12 * MINUTE });
    life.do({ type: 'FinishApplication', visit });
    life.pass(5);
    expect(partTimes(life.facts(visit), life.now)).toEqual({ fromAt: NOON, untilAt: NOON + 12 * MINUTE });
  });
  it('[X3] is not older than half an hour, and may precede parts marked already', () => {
    const { life, visit } = begun();
    life.pass(6);
    life.do({ type: 'MarkPartDone', visit, part: 1 });
    expect(earlierMinutes(life.facts(visit), 'MarkPartDone', life.now)).toEqual([1, 2, 5]);
    expect(earlierMinutes(life.facts(visit), 'FinishApplication', life.now)).toEqual([]);
    expect(partTimes(life.facts(visit), NOON + 40 * MINUTE)?.fromAt).toBe(NOON + 10 * MINUTE);
  });
  it('[X3] every time that can be chosen is one that the rules accept', () => {
    const { life, visit } = begun();
    life.pass(10);
    life.do({ type: 'FinishApplication', visit });
    life.pass(4);
    const times = partTimes(life.facts(visit), life.now)!;
    expect(stepTime(times.untilAt, 1, times)).toBe(times.untilAt);
    const least = stepTime(times.fromAt, -1, times);
    expect(least).toBe(times.fromAt);
    life.do(partDone(life.facts(visit), 2).command, { happenedAt: least });
    life.do(partDone(life.facts(visit), 1).command, { happenedAt: times.untilAt });
    expect(lastMoveWords(life.facts(visit), new StagedSession(life).mirror, w)).toBe('Part 2 done');
  });
});

describe('the main button in apply', () => {
  it('[S3] names the part that it marks, and sends its index', () => {
    const { life, visit } = begun();
    life.do({ type: 'MarkPartDone', visit, part: 0 });
    life.do({ type: 'MarkPartDone', visit, part: 1 });
    const [act] = nextActs({ chair: 4, visit: life.facts(visit), usualService: null, basins: [] }).main;
    expect(act).toMatchObject({ name: 'part-done', command: { part: 2 } });
    expect(actWords(act!, new StagedSession(life).mirror, w)).toBe('Part 3 done: front, left');
    expect(actDetail(act!, w)).toBe('front, left');
  });
});

describe('prep', () => {
  it('[R2] complete, or not yet after all', () => {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'SeatVisit', chair: 4, service: 'service-1', stylist: null, label: null });
    const beside = () => nextActs({ chair: 4, visit: life.facts(visit), usualService: null, basins: [] }).beside;
    expect(beside()).toMatchObject([{ name: 'say-prep', command: { complete: true } }]);
    life.do(beside()[0]!.command);
    expect(beside()).toMatchObject([{ name: 'say-prep', command: { complete: false } }]);
  });
});

describe('pace at the chair', () => {
  it('[P4] tells by how much, as long as the bell stands', () => {
    const { life, visit } = begun();
    expect(paceNotice(life.facts(visit), context(life))).toBeNull();
    life.pass(6);
    life.do({ type: 'MarkPartDone', visit, part: 0 });
    life.pass(5);
    const notice = paceNotice(life.facts(visit), context(life));
    expect(notice?.latestAt).toBe(NOON + 18 * MINUTE);
    expect(notice?.lateMs).toBeGreaterThan(0);
    life.do({ type: 'JoinAsHelper', visit, person: null });
    life.do({ type: 'JoinAsHelper', visit, person: null });
    expect(life.bells(visit)).toEqual([]);
    expect(paceNotice(life.facts(visit), context(life))).toBeNull();
  });
  it('[E4] part windows are drawn from the instant at which the expected room is gone', () => {
    const { life, visit } = begun();
    const at = (minutes: number) => hairWindow(life.facts(visit), context(life.at(minutes)));
    expect(at(20)).toMatchObject({ roomMs: 0, parts: [] });
    expect(at(20 + 1 / 60)).toMatchObject({ roomMs: -1000, expected: true });
    expect(at(20 + 2 / 60)?.parts).toHaveLength(1);
  });
});

describe('strand tests, heat and limits at the chair', () => {
  it('[E6] the next test stands beside the clock times, and goes with ready', () => {
    const { life, visit } = begun(relaxer(tested));
    life.pass(15);
    life.do({ type: 'FinishApplication', visit });
    expect(hairWindow(life.facts(visit), context(life))).toMatchObject({
      testAt: NOON + 20 * MINUTE,
      readyAt: null,
    });
    life.pass(5);
    life.do({ type: 'TestStrand', visit, place: 'first', result: 'ready', part: null, note: null });
    expect(hairWindow(life.facts(visit), context(life))).toMatchObject({ testAt: null, readyAt: NOON + 20 * MINUTE });
  });
  it('[E6] the place means the part done first or last, whatever its number', () => {
    const { life, visit } = begun();
    for (const part of [2, 0, 3]) life.pass(3).do({ type: 'MarkPartDone', visit, part });
    const pass = life.facts(visit).passes[0]!;
    expect([partAt(pass, 'first'), partAt(pass, 'last'), partAt(pass, 'porous')]).toEqual([2, 3, null]);
  });
  it('[E10] heat that is wanted is asked for until it is said to be on', () => {
    const { life, visit } = begun(relaxer({ heat: 'required' }));
    expect(heatWanted(life.facts(visit), w)).toBe(w.chair.heat.required);
    life.do({ type: 'SetHeat', visit, on: true });
    expect(heatWanted(life.facts(visit), w)).toBeNull();
    life.do({ type: 'SetHeat', visit, on: false });
    expect(heatWanted(life.facts(visit), w)).toBe(w.chair.heat.requiredOff);
    const warm = begun(relaxer(warmed));
    expect(heatWanted(warm.life.facts(warm.visit), w)).toBe(w.chair.heat.unsaid);
  });
  it('[E9] only what changed is said, and raising is known as such', () => {
    const stands = { minAfterMs: 10 * MINUTE, maxAfterMs: 15 * MINUTE, ceilingMs: null };
    expect(limitsChange(stands, stands)).toBeNull();
    expect(limitsChange(stands, { ...stands, maxAfterMs: 12 * MINUTE })).toEqual({
      set: { minAfterMs: null, maxAfterMs: 12 * MINUTE, ceilingMs: null },
      raised: false,
    });
    expect(limitsChange(stands, { ...stands, minAfterMs: 11 * MINUTE })?.raised).toBe(true);
    expect(limitsChange(stands, { ...stands, ceilingMs: 25 * MINUTE })?.raised).toBe(false);
    expect(stepLimit(3 * MINUTE, -5, 0)).toBe(0);
    expect(stepLimit(null, 1, 15 * MINUTE)).toBe(15 * MINUTE);
  });
  it('[E9] a refusal is told beside the figure that it is about, and what was lowered is said', () => {
    const { life, visit } = begun();
    const limits = { minAfterMs: null, maxAfterMs: 9 * MINUTE, ceilingMs: null, reason: null };
    const answer = life.send({ type: 'SetLimits', visit, ...limits });
    expect(answer.outcome === 'refused' && faultOf(answer.field)).toEqual({
      field: 'maxAfterMs',
      fault: 'max-below-min',
    });
    expect(faultOf('parts.2.ceilingMs:ceiling-below-min').field).toBe('minAfterMs');
    expect(faultOf(null)).toEqual({ field: null, fault: null });
    life.do({ type: 'SetLimits', visit, ...limits, maxAfterMs: 12 * MINUTE });
    expect(headNotes(life.facts(visit), w)).toEqual([w.chair.lowered]);
  });
});
