import { describe, expect, it } from 'vitest';
import { Second, untilNextSecondMs } from '../../../web/src/state/second.svelte.ts';
import { HandTimers } from '../support/hand-timers.ts';

describe('waiting for the next second', () => {
  it('[T5] ends shortly after the boundary of the server’s second', () => {
    for (const now of [0, 1, 250, 999, 1_800_000_000_123]) {
      const after = (now + untilNextSecondMs(now)) % 1000;
      expect(after).toBeGreaterThan(0);
      expect(after).toBeLessThan(20);
    }
  });
});

describe('the second of a screen', () => {
  it('is whole, and changes once a second, promptly', () => {
    const timers = new HandTimers();
    const offset = 1_800_000_000_400;
    const painted: [second: number, late: number][] = [];
    const now = () => timers.nowMs + offset;
    const second = new Second(now, timers, (at) => painted.push([at, now() - at]));
    second.refresh();
    timers.advance(3_000);
    expect(painted.map(([at]) => at - 1_800_000_000_000)).toEqual([0, 1_000, 2_000, 3_000]);
    for (const [, late] of painted.slice(1)) expect(late).toBeLessThan(20);
    expect(second.current).toBe(1_800_000_003_000);
  });
  it('two screens with different clocks change within the same 20 ms of the server', () => {
    const timers = new HandTimers();
    const changes: number[] = [];
    for (const error of [0, 7]) {
      // Both know the server's now to within 7 ms; their own clocks do not matter.
      new Second(
        () => timers.nowMs + 300 + error,
        timers,
        () => changes.push(timers.nowMs),
      ).refresh();
    }
    timers.advance(1_500);
    const firstChange = changes.slice(2).sort((a, b) => a - b);
    expect(firstChange).toHaveLength(2);
    expect(firstChange[1]! - firstChange[0]!).toBeLessThan(20);
  });
  it('a timer that comes late skips to the true second and goes on in step', () => {
    const timers = new HandTimers();
    const second = new Second(() => timers.nowMs, timers);
    second.refresh();
    timers.nowMs = 4_700; // the page was held up
    timers.advance(10);
    expect(second.current).toBe(4_000);
    timers.advance(400);
    expect(second.current).toBe(5_000);
  });
  it('looks again at once when the clock was corrected, and keeps a single timer', () => {
    const timers = new HandTimers();
    let offset = 0;
    const second = new Second(() => timers.nowMs + offset, timers);
    second.refresh();
    offset = 60_500;
    second.refresh();
    expect(second.current).toBe(60_000);
    expect(timers.waiting).toBe(1);
    second.stop();
    expect(timers.waiting).toBe(0);
  });
});
