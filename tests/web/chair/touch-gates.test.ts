import { describe, expect, it } from 'vitest';
import { TouchGate, UrgentGate } from '../../../web/src/parts/geometry/touch.ts';

describe('gates of touches', () => {
  it('[W3] no other touch holds water on up, but its own bounce does', () => {
    const plain = new TouchGate();
    const water = new UrgentGate(plain);
    expect(plain.passes(0)).toBe(true);
    expect(water.passes(100)).toBe(true);
    expect(water.passes(499)).toBe(false);
    expect(water.passes(500)).toBe(true);
  });
  it('[W3] a touch of water on deafens the others, whose buttons may have moved under the finger', () => {
    const plain = new TouchGate();
    const water = new UrgentGate(plain);
    water.passes(1_000);
    expect(plain.passes(1_399)).toBe(false);
    expect(plain.passes(1_400)).toBe(true);
  });
  it('[W3] a touch that was itself not heard deafens nobody', () => {
    const plain = new TouchGate();
    const water = new UrgentGate(plain);
    water.passes(0);
    water.passes(300);
    expect(plain.passes(400)).toBe(true);
  });
});
