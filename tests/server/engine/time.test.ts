import { describe, expect, it } from 'vitest';
import { HOUR } from '../../../core/time.ts';
import { MINUTE, NOON, processing, salonBench, SECOND } from './kit.ts';

const types = (bench: Awaited<ReturnType<typeof salonBench>>): string[] =>
  bench.disk.writes.flatMap((batches) => batches.flatMap(({ events }) => events.map(({ event }) => event.type)));

describe('the one wake-up', () => {
  it('[T7] waits at most a minute on an idle floor', async () => {
    const bench = await salonBench();
    expect(bench.wakeUpMs).toBe(MINUTE);
  });

  it('[T3] comes every 5 s while a visit is open, and stores a sign of life', async () => {
    const bench = await salonBench();
    await processing(bench);
    expect(bench.wakeUpMs).toBe(5 * SECOND);
    const writes = bench.disk.writes.length;
    bench.pass(2 * SECOND);
    expect(bench.wakeUpMs).toBe(3 * SECOND);
    bench.pass(3 * SECOND);
    expect(bench.disk.writes).toHaveLength(writes);
    expect(bench.disk.open().lastAlive?.now).toBe(NOON + 15 * MINUTE + 5 * SECOND);
    expect(bench.wakeUpMs).toBe(5 * SECOND);
  });

  it('[T7] is set to the next bell where that is nearer, and rings it at its instant, not before', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    // Opens at 25 min, so `soon` is due at 22.
    bench.pass(7 * MINUTE - 1500);
    expect(bench.wakeUpMs).toBe(1500);
    bench.pass(1499);
    expect(bench.bells(visit)).toEqual([]);
    expect(bench.wakeUpMs).toBe(1);
    bench.pass(1);
    expect(bench.bells(visit)).toEqual(['soon NOTICE #1']);
    expect(bench.facts(visit).bells[0]).toMatchObject({ dueAt: NOON + 22 * MINUTE, rungAt: NOON + 22 * MINUTE });
  });

  it('[T7] takes a turn when it fires', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.hand.pass(7 * MINUTE);
    bench.timers.waiting[0]?.task();
    expect(bench.bells(visit)).toEqual(['soon NOTICE #1']);
  });
});

describe('steps and sleep', () => {
  it('[T2] a wall clock stepped by an hour with a visit open moves what people are shown and nothing else', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.hand.stepWall(-HOUR);
    bench.pass(5 * SECOND);
    expect(bench.engine.heartbeat()).toMatchObject({ now: NOON + 15 * MINUTE + 5 * SECOND, civilOffsetMs: -HOUR });
    bench.pass(7 * MINUTE);
    expect(bench.facts(visit).bells[0]?.dueAt).toBe(NOON + 22 * MINUTE);
    expect(types(bench).filter((type) => type === 'CivilStepped')).toHaveLength(1);
  });

  it('[T2] with no visit open the timescale takes the wall clock over, under a new name', async () => {
    const bench = await salonBench();
    const { timescale } = bench.engine.heartbeat();
    bench.hand.stepWall(HOUR);
    bench.pass(SECOND);
    const beat = bench.engine.heartbeat();
    expect(beat).toMatchObject({ now: NOON + HOUR + SECOND, civilOffsetMs: 0 });
    expect(beat.timescale).not.toBe(timescale);
  });

  it('[T2] an offset left by a step is settled when the last visit has ended', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.hand.stepWall(HOUR);
    bench.pass(SECOND);
    expect(bench.engine.heartbeat().civilOffsetMs).toBe(HOUR);
    await bench.do({ type: 'Abandon', visit });
    bench.pass(SECOND);
    expect(bench.engine.heartbeat()).toMatchObject({ civilOffsetMs: 0, now: bench.hand.at.wall });
  });

  it('[T2] a sleep moves now at once and is told', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.hand.sleep(12 * MINUTE);
    bench.pass(0);
    expect(bench.engine.heartbeat().now).toBe(NOON + 27 * MINUTE);
    expect(bench.engine.floor.gap).toEqual({ fromAt: NOON + 15 * MINUTE, toAt: NOON + 27 * MINUTE, why: 'slept' });
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
  });
});

describe('a restart', () => {
  it('[R8] in the middle of processing keeps the same window and rings nothing twice', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.pass(8 * MINUTE);
    const before = bench.facts(visit);
    expect(bench.bells(visit)).toEqual(['soon NOTICE #1']);
    bench.hand.pass(2 * SECOND);
    bench.restart();
    expect(bench.facts(visit).passes).toEqual(before.passes);
    expect(bench.facts(visit).bells).toEqual(before.bells);
    expect(bench.rung(visit)).toEqual(['BellRung off']);
    expect(bench.engine.heartbeat().now).toBe(NOON + 23 * MINUTE + 2 * SECOND);
    bench.pass(4 * MINUTE);
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(bench.rung(visit)).toEqual(['BellRung off', 'BellRung off']);
  });

  it('[R8] what fell due while nobody kept watch rings at once, with the instant the rules gave', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.hand.pass(20 * MINUTE);
    bench.restart();
    expect(bench.bells(visit)).toEqual(['over DANGER #1']);
    expect(bench.facts(visit).bells[0]).toMatchObject({ dueAt: NOON + 30 * MINUTE, rungAt: NOON + 35 * MINUTE });
    expect(bench.rung(visit)).toEqual(['BellRung off']);
    expect(bench.engine.floor.gap).toEqual({ fromAt: NOON + 15 * MINUTE, toAt: NOON + 35 * MINUTE, why: 'restarted' });
  });

  it('[T3] in the same boot does not ask the wall clock', async () => {
    const bench = await salonBench();
    await processing(bench);
    const { timescale } = bench.engine.heartbeat();
    bench.hand.stepWall(-3 * HOUR);
    bench.hand.pass(MINUTE);
    bench.restart();
    expect(bench.engine.heartbeat()).toMatchObject({ now: NOON + 16 * MINUTE, timescale });
  });

  it('[T3] in another boot with a wall clock gone back makes the time uncertain, and rings for it', async () => {
    const bench = await salonBench();
    await processing(bench);
    bench.hand.reboot(-HOUR);
    bench.restart();
    // Twenty seconds are certain: the machine has counted them since it booted.
    const now = NOON + 15 * MINUTE + 20 * SECOND;
    expect(bench.engine.heartbeat().now).toBe(now);
    expect(bench.engine.floor.salon).toMatchObject({ uncertainSince: now, lastSure: { aliveAt: NOON + 15 * MINUTE } });
    expect(bench.floorBells()).toEqual(['time-uncertain WARNING #1']);
  });

  it('[R8] revisions count on, and the run has another name', async () => {
    const bench = await salonBench();
    const { revision, run } = bench.engine.heartbeat();
    bench.restart();
    expect(bench.engine.heartbeat().revision).toBe(revision);
    expect(bench.engine.heartbeat().run).not.toBe(run);
  });
});
