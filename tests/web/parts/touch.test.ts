import { describe, expect, it } from 'vitest';
import { TouchGate, inside, takeBackSeconds } from '../../../web/src/parts/geometry/touch.ts';

describe('a touch', () => {
  it('[W3] deafens the button for 400 ms', () => {
    const gate = new TouchGate();
    expect(gate.passes(1000)).toBe(true);
    expect(gate.passes(1399)).toBe(false);
    expect(gate.passes(1400)).toBe(true);
  });
  it('[W3] that was swallowed does not keep the button deaf', () => {
    const gate = new TouchGate();
    gate.passes(0);
    for (let at = 100; at < 400; at += 100) expect(gate.passes(at)).toBe(false);
    expect(gate.passes(400)).toBe(true);
  });
  it('[W3] counts where it is lifted', () => {
    const box = { left: 10, top: 10, right: 74, bottom: 74 };
    expect(inside(box, 10, 74)).toBe(true);
    expect(inside(box, 9, 40)).toBe(false);
    expect(inside(box, 40, 75)).toBe(false);
  });
});

it('[W3] a take-back counts ten seconds down to nothing', () => {
  expect(takeBackSeconds(10_000, 0)).toBe(10);
  expect(takeBackSeconds(10_000, 1)).toBe(10);
  expect(takeBackSeconds(10_000, 9_001)).toBe(1);
  expect(takeBackSeconds(10_000, 10_000)).toBe(0);
  expect(takeBackSeconds(10_000, 60_000)).toBe(0);
});
