import { beforeEach, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { laneTrack } from '../../../web/src/wall/lane-track.ts';
import { perm, relaxer, tested } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

let life: FloorLife;
let visit: string;
const context = (uncertain = false) => ({ now: life.now, figures: life.floor.salon.figures, uncertain });
const track = (uncertain = false, drawnAt = life.now) => laneTrack(life.facts(visit), context(uncertain), drawnAt);
const marks = () => track().marks.map(({ kind, at }) => [kind, minutes(at)]);
const minutes = (at: number): number => (at - NOON) / MINUTE;

function begun(rules?: Parameters<typeof FloorLife.salon>[0]): void {
  life = FloorLife.salon(rules);
  visit = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
  life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
}

describe('what a lane draws', () => {
  beforeEach(() => begun());

  it('nothing at a free chair', () => {
    expect(laneTrack(null, context(), NOON)).toMatchObject({ spans: [], window: null, parts: [] });
  });
  it('[E7] an expected window while application runs, a firm one after it', () => {
    life.pass(5);
    expect(track().sureness).toBe('expected');
    life.pass(10);
    life.do({ type: 'FinishApplication', visit });
    expect(track().sureness).toBe('firm');
    expect(minutes(track().window?.opensAt ?? 0)).toBe(25);
    expect(minutes(track().window?.closesAt ?? 0)).toBe(30);
  });
  it('[V2] an uncertain one while the numbers are', () => {
    expect(track(true).sureness).toBe('uncertain');
  });
  it('[E4] part windows, the first part first, where the head has no room', () => {
    for (const at of [6, 12, 18, 24]) {
      life.at(at);
      life.do({ type: 'MarkPartDone', visit, part: null });
    }
    const spans = track().parts.map(({ opensAt, closesAt }) => [minutes(opensAt), minutes(closesAt)]);
    // The worked example: four parts of six minutes.
    expect(spans).toEqual([
      [16, 30],
      [22, 36],
      [28, 39],
      [34, 39],
    ]);
  });
  it('no parts where there is room', () => {
    for (const at of [3, 6, 9, 12]) {
      life.at(at);
      life.do({ type: 'MarkPartDone', visit, part: null });
    }
    expect(track().parts).toEqual([]);
  });
  it('[E4] [E7] while application runs the steps that it would leave as it is expected to go on', () => {
    for (const at of [7, 14]) {
      life.at(at);
      life.do({ type: 'MarkPartDone', visit, part: null });
    }
    life.at(25);
    // Two parts are to come: the one in work since 14 ends at once, the next takes (3.75 + 14) / (1 + 2) min more.
    const end = 25 + 17.75 / 3;
    expect(track().sureness).toBe('expected');
    const spans = track().parts.map(({ opensAt, closesAt }) => [minutes(opensAt), minutes(closesAt)]);
    expect(spans[0]).toEqual([17, 30]);
    expect(spans[1]).toEqual([24, 37]);
    expect(spans[2]?.[0]).toBe(35);
    expect(spans[3]?.[0]).toBeCloseTo(end + 10, 3);
    // What hangs on first touch is certain already (E3).
    expect(track().closing).toBe('firm');
    expect(track(true).closing).toBe('uncertain');
  });
  it('[E4] room is gone in the second at which it is, though the axis stands a little behind', () => {
    life.at(5);
    life.do({ type: 'MarkPartDone', visit, part: null });
    expect(track().parts).toEqual([]);
    let before = life.now;
    for (; track().parts.length === 0; life.pass(1 / 60)) before = life.now;
    expect(track(false, before - 1_500).parts.length).toBeGreaterThan(0);
    life.now = before;
    expect(track(false, before).parts).toEqual([]);
  });
  it('[P2] [P3] the latest and the expected finish while application runs, neither after it', () => {
    life.pass(5);
    expect(marks()).toEqual([
      ['finish-by', 18],
      ['finish', 15],
    ]);
    life.pass(10);
    life.do({ type: 'FinishApplication', visit });
    expect(marks()).toEqual([]);
  });
  it('[E6] strand tests at their time, the next one too, none once a strand was ready', () => {
    begun(relaxer(tested));
    life.pass(12);
    life.do({ type: 'FinishApplication', visit });
    expect(marks()).toEqual([['test-due', 17]]);
    life.at(17.5);
    const test = { type: 'TestStrand', visit, place: 'first', part: null, note: null } as const;
    life.do({ ...test, result: 'not-yet' });
    expect(marks()).toEqual([
      ['tested', 17.5],
      ['test-due', 22.5],
    ]);
    life.at(20);
    life.do({ ...test, result: 'ready' });
    expect(marks()).toEqual([
      ['tested', 17.5],
      ['tested', 20],
    ]);
    expect(minutes(track().window?.opensAt ?? 0)).toBe(20);
    expect(minutes(track().window?.closesAt ?? 0)).toBe(22);
  });
  it('no window and no lateness once water is on', () => {
    life.pass(35);
    expect(track().late).toBe(true);
    life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect(track()).toMatchObject({ window: null, late: false });
  });
  it('the stages so far, each until the next, the present one open', () => {
    life.pass(15);
    life.do({ type: 'FinishApplication', visit });
    const spans = track().spans.map(({ stage, fromAt, untilAt }) => [
      stage,
      minutes(fromAt),
      untilAt === null ? null : minutes(untilAt),
    ]);
    expect(spans.slice(-2)).toEqual([
      ['apply', 0, 15],
      ['process', 15, null],
    ]);
  });
});

it('[S1] a neutralizer has a window of its own', () => {
  begun(perm());
  life.pass(15);
  life.do({ type: 'FinishApplication', visit });
  life.pass(11);
  life.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
  life.pass(6);
  life.do({ type: 'ClearAndOff', visit });
  expect(track().window).toBeNull();
  life.do({ type: 'PutNeutralizerOn', visit });
  expect(minutes(track().window?.opensAt ?? 0)).toBe(37);
  expect(minutes(track().window?.closesAt ?? 0)).toBe(42);
});
