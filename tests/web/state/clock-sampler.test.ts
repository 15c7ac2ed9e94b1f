import { describe, expect, it } from 'vitest';
import { BURST, ClockSampler } from '../../../web/src/state/clock-sampler.ts';
import { ServerClock } from '../../../web/src/state/server-clock.ts';
import { HandTimers } from '../support/hand-timers.ts';

const SERVER = 1_800_000_000_000;

async function settle(): Promise<void> {
  for (let n = 0; n < 5; n += 1) await Promise.resolve();
}

function sampling() {
  const timers = new HandTimers();
  const slept = { ms: 0 };
  const clocks = { performanceNow: () => timers.nowMs, wallNow: () => 5_000 + timers.nowMs + slept.ms };
  const clock = new ServerClock(clocks);
  const asked: number[] = [];
  const answers: { mode: 'at once' | 'never' | 'held'; held: (() => void)[] } = { mode: 'at once', held: [] };
  let changes = 0;
  const sampler = new ClockSampler({
    clock,
    clocks,
    timers,
    exchange: () => {
      asked.push(timers.nowMs);
      const t2 = SERVER + timers.nowMs;
      const stamps = { timescale: 'a', t2, t3: t2 };
      if (answers.mode === 'at once') return Promise.resolve(stamps);
      if (answers.mode === 'never') return Promise.reject(new Error('no answer'));
      return new Promise((resolve) => answers.held.push(() => resolve(stamps)));
    },
    changed: () => (changes += 1),
  });
  return { timers, clock, sampler, asked, answers, slept, changes: () => changes };
}

describe('the rhythm of the exchanges', () => {
  it('[T5] eight within 2 s on connect, then one every 30 s', async () => {
    const { timers, sampler, asked } = sampling();
    sampler.restart();
    timers.advance(1_999);
    expect(asked).toHaveLength(BURST.count);
    timers.advance(90_000);
    expect(asked.slice(8).map((at, n) => at - (asked[7 + n] ?? 0))).toEqual([30_000, 30_000, 30_000]);
    await settle();
  });
  it('[T5] each answer becomes a sample, and the screen is told', async () => {
    const { timers, sampler, clock, changes } = sampling();
    sampler.restart();
    await settle();
    expect(clock.samples).toBe(1);
    expect(changes()).toBe(1);
    expect(clock.now()).toBe(SERVER + timers.nowMs);
  });
  it('goes on when an answer fails to come', async () => {
    const { timers, sampler, asked, answers, clock } = sampling();
    answers.mode = 'never';
    sampler.restart();
    timers.advance(1_000);
    await settle();
    answers.mode = 'at once';
    timers.advance(250);
    await settle();
    expect(asked.length).toBeGreaterThan(4);
    expect(clock.samples).toBe(1);
  });
  it('[T5] an answer that was under way during a reconnect does not count', async () => {
    const { sampler, answers, clock } = sampling();
    answers.mode = 'held';
    sampler.restart();
    answers.mode = 'never';
    sampler.restart();
    for (const release of answers.held) release();
    await settle();
    expect(clock.samples).toBe(0);
  });
  it('[T5] an exchange with a sleep in the middle is thrown away and the burst begins again', async () => {
    const { sampler, answers, clock, slept, asked } = sampling();
    answers.mode = 'held';
    sampler.restart();
    slept.ms = 60_000;
    answers.mode = 'at once';
    answers.held[0]!();
    await settle();
    expect(asked).toHaveLength(2);
    expect(clock.samples).toBe(1);
  });
  it('stops for good', () => {
    const { timers, sampler, asked } = sampling();
    sampler.restart();
    sampler.stop();
    timers.advance(60_000);
    expect(asked).toHaveLength(1);
    expect(timers.waiting).toBe(0);
  });
});
