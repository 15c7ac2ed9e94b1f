/*
 * Source: the worked table of windows that the rules of this project were agreed with, before any of its code: nominal 15,
 * minAfter 10, maxAfter 15, ceiling 30, first touch at 0. Every minute below was worked out by hand, from two sentences: off
 * from minAfter after the last touch, off by maxAfter after it or the ceiling after the first touch, whichever is earlier.
 * The figures 15, 10 and 15 are common practice, no source; the ceiling of 30 is a salon's entry.
 */
import { describe, expect, it } from 'vitest';
import { MINUTE } from '../../core/time.ts';
import { latestFinish, partWindows, windowOf } from '../../core/exposure/window.ts';
import { defaultFigures } from '../../core/salon/salon.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife, NOON } from '../support/floor-life.ts';
import { mark, min, partsDone, pass } from '../support/pass-kit.ts';

const inMinutes = (at: number): number => (at - NOON) / MINUTE;

describe('worked windows', () => {
  it.each([
    [10, 20, 25, 5],
    [15, 25, 30, 5],
    [18, 28, 30, 2],
    [20, 30, 30, 0],
    [22, 32, 30, -2],
  ])('[E4] application took %i: from %i, off by %i, room %i', (took, from, offBy, room) => {
    const window = windowOf(pass({ applied: mark(took) }), min(took));
    expect(inMinutes(window?.opensAt ?? NaN)).toBe(from);
    expect(inMinutes(window?.closesAt ?? NaN)).toBe(offBy);
    expect((window?.roomMs ?? NaN) / MINUTE).toBe(room);
  });

  it.each([10, 15, 18, 20, 22])('[E4] application took %i: the same through the commands of a visit', (took) => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: 'service-1' });
    life.at(took).do({ type: 'FinishApplication', visit: v });
    const lived = life.facts(v).passes[0];
    expect(lived && windowOf(lived, life.now)).toEqual(windowOf(pass({ applied: mark(took) }), min(took)));
  });

  it('[E4] four parts of 6: part windows 16–30, 22–36, 28–39, 34–39; room −4', () => {
    const four = pass({ parts: partsDone(6, 12, 18, 24), applied: mark(24) });
    const windows = partWindows(four).map((one) => [inMinutes(one.opensAt), inMinutes(one.closesAt)]);
    expect(windows).toEqual([
      [16, 30],
      [22, 36],
      [28, 39],
      [34, 39],
    ]);
    expect((windowOf(four, min(24))?.roomMs ?? NaN) / MINUTE).toBe(-4);
  });

  it('[P3] nominal 15 in four parts, one done at 6: latest finish 18, the reserve being 2 and the walk 1', () => {
    expect(defaultFigures).toMatchObject({ reserveMs: 2 * MINUTE, walkMs: MINUTE });
    expect(inMinutes(latestFinish(pass({ parts: partsDone(6) }, relaxer()), defaultFigures) ?? NaN)).toBe(18);
  });
});
