/*
 * Source: the worked tables of parts and pace that the rules of this project were agreed with, before any of its code:
 * nominal 15, minAfter 10, maxAfter 15, ceiling 30, reserve 2, four equal parts, first touch at 0. Every minute below was
 * worked out by hand. 15, 10 to 15 and the four parts are common practice, no source; ceiling and reserve are a salon's entry.
 */
import { describe, expect, it } from 'vitest';
import { expectedFinishAt, expectedPartMs } from '../../core/exposure/pace.ts';
import { latestFinish, partWindows, windowOf } from '../../core/exposure/window.ts';
import { MINUTE } from '../../core/time.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';

const inMinutes = (at: number | null | undefined): number => ((at ?? NaN) - NOON) / MINUTE;

const begun = () => {
  const life = FloorLife.salon();
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { by: 'person-ama' });
  const done = (...minutes: readonly number[]) => {
    for (const at of minutes) life.at(at).do({ type: 'MarkPartDone', visit: v, part: null }, { by: 'person-ama' });
  };
  const pass = () => {
    const one = life.facts(v).passes[0];
    if (one === undefined) throw new Error('no pass');
    return one;
  };
  return { life, v, done, pass, expected: () => inMinutes(expectedFinishAt(pass(), life.now)) };
};

describe('worked pace', () => {
  it('[P1] one part done at 6, now 6: r 4.875, expected 20.625, latest 18, bell', () => {
    const { life, v, done, pass, expected } = begun();
    done(6);
    expect(expectedPartMs(pass(), 1) / MINUTE).toBe(4.875);
    expect(expected()).toBe(20.625);
    expect(inMinutes(latestFinish(pass(), life.floor.salon.figures))).toBe(18);
    expect(life.bells(v)).toEqual(['pace CAUTION #1']);
  });

  it.each([6, 8])('[P2] a helper joins at %i: expected 15.75, withdrawn', (at) => {
    const { life, v, done, expected } = begun();
    done(6);
    life.at(at).do({ type: 'JoinAsHelper', visit: v, person: 'person-joss' });
    expect(expected()).toBe(15.75);
    expect(life.bells(v)).toEqual([]);
  });

  it('[P2] parts done at 3 and 6.5, now 7: 13.33, no bell', () => {
    const { life, v, done, expected } = begun();
    done(3, 6.5);
    life.at(7);
    expect(expected()).toBeCloseTo(13 + 1 / 3, 4);
    expect(life.bells(v)).toEqual([]);
  });
});

describe('worked parts', () => {
  it('[E4] four parts of 6, marked as they are done: 16–30, 22–36, 28–39, 34–39; room −4', () => {
    const { life, done, pass } = begun();
    done(6, 12, 18, 24);
    expect(partWindows(pass()).map((one) => [inMinutes(one.opensAt), inMinutes(one.closesAt)])).toEqual([
      [16, 30],
      [22, 36],
      [28, 39],
      [34, 39],
    ]);
    expect(windowOf(pass(), life.now)?.roomMs).toBe(-4 * MINUTE);
  });

  it('[E4] four parts of 3.75, common practice, no source: from 25, off by 30', () => {
    const { life, done, pass } = begun();
    done(3.75, 7.5, 11.25, 15);
    const window = windowOf(pass(), life.now);
    expect([inMinutes(window?.opensAt), inMinutes(window?.closesAt)]).toEqual([25, 30]);
    expect(partWindows(pass()).map((one) => inMinutes(one.opensAt))).toEqual([13.75, 17.5, 21.25, 25]);
  });
});
