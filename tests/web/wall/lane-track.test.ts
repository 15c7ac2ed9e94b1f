import { beforeEach, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { laneTrack } from '../../../web/src/wall/lane-track.ts';
import { perm } from '../../support/directions-kit.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

let life: FloorLife;
let visit: string;
const track = (uncertain = false) => laneTrack(life.facts(visit), life.now, uncertain);
const minutes = (at: number): number => (at - NOON) / MINUTE;

function begun(rules?: Parameters<typeof FloorLife.salon>[0]): void {
  life = FloorLife.salon(rules);
  visit = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
  life.do({ type: 'BeginApplication', chair: 1, visit, service: null });
}

describe('what a lane draws', () => {
  beforeEach(() => begun());

  it('nothing at a free chair', () => {
    expect(laneTrack(null, NOON, false)).toMatchObject({ spans: [], window: null, parts: [] });
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
