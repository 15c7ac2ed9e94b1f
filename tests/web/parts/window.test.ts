import { describe, expect, it } from 'vitest';
import { wallAxis } from '../../../web/src/parts/geometry/axis.ts';
import { bracketPath, bracketShape } from '../../../web/src/parts/geometry/bracket.ts';
import {
  beyondWordsRight,
  closesBeyond,
  latenessBeam,
  placeWindow,
  staircase,
} from '../../../web/src/parts/geometry/window.ts';

const MINUTE = 60_000;
const NOW = 1_800_000_000_000;
const axis = wallAxis(648); // 24 px a minute, now at 120
const window = (opens: number, closes: number) => ({ opensAt: NOW + opens * MINUTE, closesAt: NOW + closes * MINUTE });
const place = (opens: number, closes: number) => placeWindow(axis, window(opens, closes), NOW);

describe('a window on the axis', () => {
  it('shows both brackets', () => expect(place(5, 10)).toEqual({ kind: 'shown', openX: 240, closeX: 360 }));
  it('keeps the bracket that is on the axis when the other is off it', () => {
    expect(place(-6, 2)).toEqual({ kind: 'shown', openX: null, closeX: 168 });
    expect(place(20, 25)).toEqual({ kind: 'shown', openX: 600, closeX: null });
    expect(place(-6, 25)).toEqual({ kind: 'shown', openX: null, closeX: null });
  });
  it('is beyond when it begins after the end, and is said in words then', () => {
    expect(place(23, 28)).toEqual({ kind: 'beyond' });
    expect(place(22, 28).kind).toBe('shown');
    expect(closesBeyond(axis, window(23, 28), NOW)).toBe(true);
    expect(closesBeyond(axis, window(17, 22), NOW)).toBe(false);
    expect(closesBeyond(axis, window(17, 22.1), NOW)).toBe(true);
  });
  it('is past when it closed before the axis begins', () => {
    expect(place(-12, -6)).toEqual({ kind: 'past' });
    expect(place(-12, -5).kind).toBe('shown');
  });
  it('[E4] with room below zero is judged by the outer of its two instants', () => {
    expect(place(24, 20)).toEqual({ kind: 'shown', openX: null, closeX: 600 });
    expect(place(2, -7)).toEqual({ kind: 'shown', openX: 168, closeX: null });
  });
  it('words for a close beyond give way to an opening bracket that they would cover', () => {
    expect(beyondWordsRight(axis, place(23, 28), 130)).toBe(648);
    expect(beyondWordsRight(axis, place(10, 28), 130)).toBe(648);
    expect(beyondWordsRight(axis, place(20, 28), 130)).toBe(588);
  });
});

describe('lateness', () => {
  it('is nothing until the close', () => {
    expect(latenessBeam(axis, NOW, NOW)).toBeNull();
    expect(latenessBeam(axis, NOW + 1, NOW)).toBeNull();
  });
  it('grows from the close to the now-line', () => {
    expect(latenessBeam(axis, NOW - 2 * MINUTE, NOW)).toMatchObject({ x: 72, widthPx: 48, cutLeft: false });
  });
  it('begins at the left end when the close has left the axis', () => {
    expect(latenessBeam(axis, NOW - 12 * MINUTE, NOW)).toMatchObject({ x: 0, widthPx: 120, cutLeft: true });
  });
});

describe('the staircase of part windows', () => {
  const box = { topPx: 10, heightPx: 40 };
  // The worked example of E4: four parts of 6 minutes.
  const parts = [window(16, 30), window(22, 36), window(28, 39), window(34, 39)];
  const steps = staircase(axis, parts, NOW, box);
  it('has one step a part, the first on top', () => {
    expect(steps.map((step) => step.topPx)).toEqual([10, 20, 30, 40]);
    expect(steps.map((step) => step.window)).toEqual(parts);
  });
  it('stays inside its box, and steps do not touch', () => {
    for (const step of steps) expect(step.heightPx).toBeCloseTo(8.5, 9);
    expect(steps.at(-1)!.topPx + steps.at(-1)!.heightPx).toBeLessThanOrEqual(box.topPx + box.heightPx);
  });
  it('places each step by itself', () => {
    expect(steps.map((step) => step.place.kind)).toEqual(['shown', 'shown', 'beyond', 'beyond']);
  });
  it('is empty without parts', () => expect(staircase(axis, [], NOW, box)).toEqual([]));
});

describe('the stroke of a bracket', () => {
  const shape = bracketShape(10, 50);
  it('[V2] is whole when firm: arm, spine, arm', () => {
    expect(bracketPath(100, 1, shape, 'firm')).toBe('M112 10H100V60H112');
    expect(bracketPath(200, -1, shape, 'firm')).toBe('M188 10H200V60H188');
  });
  it('[V2] has corners only when expected', () => {
    expect(bracketPath(100, 1, shape, 'expected')).toBe('M112 10H100V22M100 48V60H112');
  });
  it('[V2] is whole when uncertain; the dashes are the stroke’s', () => {
    expect(bracketPath(100, 1, shape, 'uncertain')).toBe(bracketPath(100, 1, shape, 'firm'));
  });
  it('keeps its arms when it is short', () => expect(bracketShape(0, 9).armPx).toBe(8));
});
