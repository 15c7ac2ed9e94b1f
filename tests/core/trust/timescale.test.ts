import { describe, expect, test } from 'vitest';
import { HOUR, MINUTE, SECOND } from '../../../core/time.ts';
import {
  advance,
  civilStep,
  restart,
  type Advanced,
  type LastAlive,
  type Reading,
  type Timescale,
} from '../../../core/trust/timescale.ts';

/** 10 March 2026, 12:00 UTC: an invented day. The clocks' origins differ, so that mixing them up shows. */
const NOON = Date.UTC(2026, 2, 10, 12);
const first: Reading = { wall: NOON, mono: 5_000, uptime: 900_000, bootId: 'boot-a' };

/** The clocks after `ms` awake and `asleep` of sleep, the wall clock stepped by `stepped` on top. */
function later(from: Reading, ms: number, { asleep = 0, stepped = 0 } = {}): Reading {
  return {
    wall: from.wall + ms + asleep + stepped,
    mono: from.mono + ms,
    uptime: from.uptime + ms + asleep,
    bootId: from.bootId,
  };
}

const begun: Timescale = { id: 'scale-1', now: NOON, at: first };
const alive: LastAlive = { timescale: 'scale-1', now: NOON, wall: NOON, bootId: 'boot-a', uptime: 900_000 };

function through(start: Timescale, readings: readonly Reading[]): Advanced {
  return readings.reduce<Advanced>((so, reading) => advance(so.timescale, reading), { timescale: start, sleptMs: 0 });
}

describe('while running', () => {
  test('[T2] advances with the monotonic clock', () => {
    expect(advance(begun, later(first, 90 * SECOND))).toMatchObject({
      timescale: { id: 'scale-1', now: NOON + 90 * SECOND },
      sleptMs: 0,
    });
  });

  test.each([HOUR, -HOUR, 365 * 24 * HOUR, -365 * 24 * HOUR])(
    '[T2] a wall clock stepped by %i ms changes nothing but the civil offset',
    (stepped) => {
      const calm = advance(begun, later(first, MINUTE)).timescale;
      const after = advance(begun, later(first, MINUTE, { stepped })).timescale;
      expect({ ...after, at: { ...after.at, wall: 0 } }).toEqual({ ...calm, at: { ...calm.at, wall: 0 } });
      expect(civilStep(calm, 0)).toBeNull();
      expect(civilStep(after, 0)).toBe(stepped);
      expect(civilStep(after, stepped)).toBeNull();
    },
  );

  test('[T2] a stepped wall clock that is set right again gives the offset 0', () => {
    const stepped = advance(begun, later(first, MINUTE, { stepped: HOUR })).timescale;
    const righted = advance(stepped, later(first, 2 * MINUTE)).timescale;
    expect(civilStep(righted, HOUR)).toBe(0);
  });

  test('[T2] a wall clock off by one second is noise, by a millisecond more a step, either way', () => {
    const at = (stepped: number) => advance(begun, later(first, MINUTE, { stepped })).timescale;
    expect(civilStep(at(SECOND), 0)).toBeNull();
    expect(civilStep(at(-SECOND), 0)).toBeNull();
    expect(civilStep(at(SECOND + 1), 0)).toBe(SECOND + 1);
    expect(civilStep(at(-SECOND - 1), 0)).toBe(-SECOND - 1);
  });

  test('[T2] after sleep now moves at once by what uptime grew, and the gap is told', () => {
    expect(advance(begun, later(first, 2 * SECOND, { asleep: 40 * MINUTE }))).toMatchObject({
      timescale: { now: NOON + 2 * SECOND + 40 * MINUTE },
      sleptMs: 40 * MINUTE,
    });
  });

  test('[T2] uptime grown by exactly one second more is no sleep; by over one second it is', () => {
    expect(advance(begun, later(first, MINUTE, { asleep: SECOND }))).toMatchObject({
      timescale: { now: NOON + MINUTE },
      sleptMs: 0,
    });
    expect(advance(begun, later(first, MINUTE, { asleep: SECOND + 1 }))).toMatchObject({
      timescale: { now: NOON + MINUTE + SECOND + 1 },
      sleptMs: SECOND + 1,
    });
  });

  test('[T2] a sleep is counted once', () => {
    const slept = later(first, SECOND, { asleep: HOUR });
    const { timescale, sleptMs } = through(begun, [slept, later(slept, SECOND)]);
    expect(timescale.now).toBe(NOON + 2 * SECOND + HOUR);
    expect(sleptMs).toBe(0);
  });

  test('[T2] short sleeps add up until they are seen', () => {
    const one = later(first, MINUTE, { asleep: 600 });
    const two = later(one, MINUTE, { asleep: 600 });
    expect(through(begun, [one]).timescale.now).toBe(NOON + MINUTE);
    expect(through(begun, [one, two])).toMatchObject({
      timescale: { now: NOON + 2 * MINUTE + 1_200 },
      sleptMs: 1_200,
    });
  });

  test('[T2] an uptime that ticks more slowly than the process clock does not hide a sleep', () => {
    const lagging = { ...later(first, HOUR), uptime: first.uptime + HOUR - 4 * SECOND };
    const slept = later(lagging, MINUTE, { asleep: 3 * SECOND });
    expect(through(begun, [lagging, slept])).toMatchObject({
      timescale: { now: NOON + HOUR + MINUTE + 3 * SECOND },
      sleptMs: 3 * SECOND,
    });
  });

  test('[T2] an uptime told in whole seconds makes no sleep of its own', () => {
    const readings = Array.from({ length: 2_000 }, (_, i) => {
      const exact = later(first, (i + 1) * 337);
      return { ...exact, uptime: Math.floor(exact.uptime / SECOND) * SECOND };
    });
    const slept = readings.map((_, i) => through(begun, readings.slice(i > 0 ? i - 1 : 0, i + 1)).sleptMs);
    expect(slept.every((ms) => ms === 0)).toBe(true);
    expect(through(begun, readings).timescale.now).toBe(NOON + 2_000 * 337);
  });

  test('[T2] however often the time is read, no fraction of a millisecond is lost', () => {
    const often = Array.from({ length: 10_000 }, (_, i) => later(first, (i + 1) * 0.3));
    const { now } = through(begun, often).timescale;
    expect(now).toBeGreaterThanOrEqual(NOON + 2_999);
    expect(now).toBeLessThanOrEqual(NOON + 3_000);
    expect(Number.isInteger(now)).toBe(true);
  });

  test('[T2] never goes back: a process clock that did holds it still until it has caught up', () => {
    const ahead = later(first, 10 * SECOND);
    const back = later(first, 4 * SECOND);
    expect(through(begun, [ahead, back]).timescale.now).toBe(NOON + 10 * SECOND);
    expect(through(begun, [ahead, back, ahead]).timescale.now).toBe(NOON + 10 * SECOND);
    expect(through(begun, [ahead, back, later(ahead, SECOND)])).toMatchObject({
      timescale: { now: NOON + 11 * SECOND },
      sleptMs: 0,
    });
  });
});

describe('at a start in the same boot', () => {
  test.each([0, HOUR, -HOUR, 30 * 24 * HOUR])(
    '[T3] with the wall clock stepped by %i ms, now is the last sign of life and what uptime grew',
    (stepped) => {
      const reading = { ...later(first, 90 * SECOND, { stepped }), mono: 12 };
      expect(restart(alive, reading, true, 'scale-2')).toEqual({
        timescale: { id: 'scale-1', now: NOON + 90 * SECOND, at: reading },
        why: 'restarted',
        awayMs: 90 * SECOND,
        uncertain: false,
      });
    },
  );

  test('[T3] sleep while the server was away counts', () => {
    const reading = later(first, SECOND, { asleep: 2 * HOUR });
    expect(restart(alive, reading, true, 'scale-2')).toMatchObject({ awayMs: 2 * HOUR + SECOND, why: 'restarted' });
  });

  test('[T3] an uptime that did not grow is the same boot; one that shrank is another', () => {
    const same = { ...first, wall: NOON + 7_000 };
    expect(restart(alive, same, true, 'scale-2')).toMatchObject({
      why: 'restarted',
      awayMs: 0,
      timescale: { now: NOON },
    });
    expect(restart(alive, { ...same, uptime: 5_000 }, true, 'scale-2')).toMatchObject({
      why: 'rebooted',
      awayMs: 7_000,
      timescale: { now: NOON + 7_000, id: 'scale-2' },
    });
  });

  test('[T3] the sign of life of a running timescale takes up where it stood, fractions and short sleeps included', () => {
    const reading = later(first, 1_000.75, { asleep: 500 });
    const { timescale } = advance(begun, reading);
    const { now, at, id } = timescale;
    const sign: LastAlive = { timescale: id, now, wall: at.wall, bootId: at.bootId, uptime: at.uptime };
    const again = restart(sign, { ...later(reading, 250), mono: 1 }, true, 'scale-2');
    expect(again.timescale.now).toBe(NOON + Math.round(1_000.75 + 500 + 250));
  });
});

describe('at a start in another boot', () => {
  const rebooted = (wall: number): Reading => ({ wall, mono: 40, uptime: 30_000, bootId: 'boot-b' });

  test('[T3] a wall clock ahead of the last sign of life is believed', () => {
    expect(restart(alive, rebooted(NOON + 3 * MINUTE), true, 'scale-2')).toEqual({
      timescale: { id: 'scale-2', now: NOON + 3 * MINUTE, at: rebooted(NOON + 3 * MINUTE) },
      why: 'rebooted',
      awayMs: 3 * MINUTE,
      uncertain: false,
    });
  });

  test('[T3] a wrong forward clock cannot be seen: it errs to the water, and says how long', () => {
    expect(restart(alive, rebooted(NOON + 24 * HOUR), true, 'scale-2')).toMatchObject({
      awayMs: 24 * HOUR,
      timescale: { now: NOON + 24 * HOUR },
      uncertain: false,
    });
  });

  test('[T3] what the machine has counted since it booted is the least; two seconds behind it is still believed', () => {
    expect(restart(alive, rebooted(NOON + 28 * SECOND), true, 'scale-2')).toMatchObject({
      awayMs: 30 * SECOND,
      uncertain: false,
      timescale: { now: NOON + 30 * SECOND },
    });
  });

  test('[T3] a millisecond more is uncertain: now begins at that least after the last sign of life', () => {
    expect(restart(alive, rebooted(NOON + 28 * SECOND - 1), true, 'scale-2')).toEqual({
      timescale: { id: 'scale-2', now: NOON + 30 * SECOND, at: rebooted(NOON + 28 * SECOND - 1) },
      why: 'rebooted',
      awayMs: 30 * SECOND,
      uncertain: true,
    });
  });

  test.each([NOON - HOUR, 0])('[T3] a wall clock at %i is uncertain', (wall) => {
    expect(restart(alive, rebooted(wall), true, 'scale-2')).toMatchObject({ uncertain: true, awayMs: 30 * SECOND });
  });

  test('[T2, T3] the wall clock is compared with what it showed then, so that a civil offset is not taken for time away', () => {
    const stepped: LastAlive = { ...alive, wall: NOON + HOUR };
    expect(restart(stepped, rebooted(NOON + HOUR + MINUTE), true, 'scale-2')).toMatchObject({
      awayMs: MINUTE,
      timescale: { now: NOON + MINUTE },
      uncertain: false,
    });
    expect(restart(stepped, rebooted(NOON + MINUTE), true, 'scale-2')).toMatchObject({ uncertain: true });
  });

  test('[T3] an uptime longer than the one before says nothing: the boot may only have another name', () => {
    const long = { ...rebooted(NOON + MINUTE), uptime: 90 * 24 * HOUR };
    expect(restart(alive, long, true, 'scale-2')).toMatchObject({ awayMs: MINUTE, why: 'rebooted' });
  });
});

describe('with no visit open', () => {
  test.each([HOUR, -HOUR])('[T2] the timescale takes over a wall clock stepped by %i ms', (stepped) => {
    const reading = later(first, MINUTE, { stepped });
    expect(restart(alive, reading, false, 'scale-2')).toEqual({
      timescale: { id: 'scale-2', now: NOON + MINUTE + stepped, at: reading },
      why: 'taken',
      awayMs: MINUTE,
      uncertain: false,
    });
  });

  test('[T2, T3] nothing is uncertain, also in another boot with a clock far behind', () => {
    const behind: Reading = { wall: NOON - 24 * HOUR, mono: 0, uptime: 10, bootId: 'boot-b' };
    expect(restart(alive, behind, false, 'scale-2')).toMatchObject({
      why: 'taken',
      uncertain: false,
      awayMs: 0,
      timescale: { now: NOON - 24 * HOUR },
    });
  });

  test('[T2] the first start ever begins at the wall clock', () => {
    expect(restart(null, first, false, 'scale-1')).toEqual({
      timescale: begun,
      why: 'first',
      awayMs: 0,
      uncertain: false,
    });
  });

  test('[T2] instants are whole milliseconds also where the clocks are finer', () => {
    const fine = { ...first, wall: NOON + 0.6, uptime: first.uptime + 0.6 };
    expect(restart(null, fine, false, 'scale-1').timescale.now).toBe(NOON + 1);
    expect(restart(alive, fine, true, 'scale-1').timescale.now).toBe(NOON + 1);
  });
});
