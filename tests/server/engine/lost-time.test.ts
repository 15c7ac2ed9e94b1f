import { describe, expect, it } from 'vitest';
import { HOUR } from '../../../core/time.ts';
import { MINUTE, NOON, processing, salonBench, SECOND, type Bench } from './kit.ts';

/** Processing since 12:15; the power went at 12:16 and came back with a clock an hour behind. The box has been up for 20 s. */
async function lost(): Promise<{ bench: Bench; visit: string; former: string }> {
  const bench = await salonBench();
  const visit = await processing(bench);
  bench.pass(MINUTE);
  const former = bench.engine.heartbeat().timescale;
  bench.hand.reboot(-HOUR);
  bench.restart();
  return { bench, visit, former };
}

const at = (minutes: number): number => NOON + Math.round(minutes * MINUTE);

describe('after a power cut on a box without a clock of its own', () => {
  it('[T3] asks for the hair to be looked at, and keeps the wrong clock from people', async () => {
    const { bench, visit } = await lost();
    expect(bench.floorBells()).toEqual(['time-uncertain WARNING #1']);
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(bench.engine.heartbeat()).toMatchObject({ civilOffsetMs: 0, awayMs: null });
  });

  it('[T3] is right afterwards, to the millisecond, once somebody says how long it was', async () => {
    const { bench, visit, former } = await lost();
    bench.pass(40 * SECOND);
    const before = bench.engine.heartbeat();
    // Away for 5 min in truth: 20 s of it the box has counted itself.
    await bench.do({ type: 'ConfirmTime', awayMs: 5 * MINUTE }, { by: 'person-ama' });
    const after = bench.engine.heartbeat();
    expect(after.now - before.now).toBe(5 * MINUTE - 20 * SECOND);
    expect(after.now).toBe(at(16) + 5 * MINUTE + 40 * SECOND);
    expect([before.timescale, former]).not.toContain(after.timescale);
    expect(bench.floorBells()).toEqual([]);
    expect(bench.engine.floor.gap).toEqual({ fromAt: at(16), toAt: at(21), why: 'rebooted' });
    bench.pass(at(27) - after.now);
    expect(bench.bells(visit)).toEqual(['rinse WARNING #2']);
    expect(bench.facts(visit).bells[0]).toMatchObject({ dueAt: at(27), rungAt: at(27) });
  });

  it('[T3] people go on reading the time they said, also over a restart, until the wall clock has caught up', async () => {
    const { bench } = await lost();
    await bench.do({ type: 'ConfirmTime', awayMs: 5 * MINUTE });
    bench.pass(MINUTE);
    bench.hand.pass(MINUTE);
    bench.restart();
    bench.pass(0);
    expect(bench.engine.heartbeat().civilOffsetMs).toBe(0);
    bench.hand.stepWall(HOUR + 5 * MINUTE + 20 * SECOND);
    bench.pass(0);
    // The wall clock is right to the minute that people said, and 20 s more precise.
    expect(bench.engine.floor.salon.offsetHeld).toBe(false);
    expect(bench.engine.heartbeat().civilOffsetMs).toBe(20 * SECOND);
    bench.hand.stepWall(-HOUR);
    bench.pass(0);
    expect(bench.engine.heartbeat().civilOffsetMs).toBe(20 * SECOND - HOUR);
  });

  it('[T3, R8] the wake-up, the sign of life and another restart go by the new time', async () => {
    const { bench, visit } = await lost();
    await bench.do({ type: 'ConfirmTime', awayMs: 10.5 * MINUTE });
    expect(bench.engine.heartbeat().now).toBe(at(26.5));
    expect(bench.wakeUpMs).toBe(5 * SECOND);
    expect(bench.disk.open().lastAlive).toMatchObject({ now: at(26.5) });
    bench.hand.pass(MINUTE);
    bench.restart();
    expect(bench.engine.heartbeat().now).toBe(at(27.5));
    // The close is so near by then that the very bell goes on standing.
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(bench.engine.floor.salon.uncertainSince).toBeNull();
  });

  it('[T3] stays uncertain over a restart in the same boot', async () => {
    const { bench } = await lost();
    bench.hand.pass(30 * SECOND);
    bench.restart();
    expect(bench.engine.floor.salon.lastSure).toMatchObject({ aliveAt: at(16) });
    await bench.do({ type: 'ConfirmTime', awayMs: 5 * MINUTE });
    expect(bench.engine.heartbeat().now).toBe(at(16) + 5 * MINUTE + 30 * SECOND);
  });

  it('[S8] a full disk confirms nothing: time stays as it was, and the word can come again', async () => {
    const { bench } = await lost();
    const before = bench.engine.heartbeat();
    bench.disk.full = true;
    const word = bench.request({ type: 'ConfirmTime', awayMs: 5 * MINUTE });
    const [refused] = await bench.together(word);
    expect(refused).toMatchObject({ refused: { code: 'again' } });
    expect(bench.engine.heartbeat()).toMatchObject({ now: before.now, timescale: before.timescale });
    bench.disk.full = false;
    bench.pass(0);
    const [done] = await bench.together(word);
    expect(done).toMatchObject({ accepted: { outcome: 'done' } });
    expect(bench.engine.heartbeat().now).toBe(before.now + 5 * MINUTE - 20 * SECOND);
  });

  it('[T3] a wall clock set right meanwhile is a proposal, and nothing more', async () => {
    const { bench } = await lost();
    bench.pass(30 * SECOND);
    bench.hand.stepWall(HOUR + 6 * MINUTE);
    bench.pass(0);
    expect(bench.engine.heartbeat().awayMs).toBe(6 * MINUTE);
    expect(bench.engine.floor.salon.uncertainSince).not.toBeNull();
  });
});

describe('screens that kept counting', () => {
  const kept = (bench: Bench, device: string, timescale: string, truth: number) => {
    bench.engine.hear({ device, timescale, now: truth });
    bench.timers.runSoon();
  };

  it('[T3] one is a proposal; two that agree within 5 s confirm, by the longer of both', async () => {
    const { bench, former } = await lost();
    const { now } = bench.engine.heartbeat();
    kept(bench, 'device-wall', former, now + 4 * MINUTE);
    expect(bench.engine.floor.salon.uncertainSince).not.toBeNull();
    expect(bench.engine.heartbeat().awayMs).toBe(4 * MINUTE + 20 * SECOND);
    kept(bench, 'device-phone', former, now + 4 * MINUTE + 5 * SECOND);
    expect(bench.engine.floor.salon.uncertainSince).toBeNull();
    expect(bench.engine.heartbeat()).toMatchObject({ now: now + 4 * MINUTE + 5 * SECOND, awayMs: null });
  });

  it('[T3] two that disagree confirm nothing; the same one twice neither', async () => {
    const { bench, former } = await lost();
    const { now } = bench.engine.heartbeat();
    kept(bench, 'device-wall', former, now + 4 * MINUTE);
    kept(bench, 'device-wall', former, now + 4 * MINUTE);
    kept(bench, 'device-phone', former, now + 4 * MINUTE + 5 * SECOND + 1);
    expect(bench.engine.floor.salon.uncertainSince).not.toBeNull();
    expect(bench.engine.heartbeat().awayMs).toBeNull();
  });

  it('[T3] one of another timescale, or behind what the box has counted, is not believed', async () => {
    const { bench, former } = await lost();
    const { now } = bench.engine.heartbeat();
    kept(bench, 'device-wall', 'another-salon', now + 4 * MINUTE);
    kept(bench, 'device-phone', 'another-salon', now + 4 * MINUTE);
    kept(bench, 'device-chair', former, now - 6 * SECOND);
    kept(bench, 'device-other', former, now - 6 * SECOND);
    expect(bench.engine.floor.salon.uncertainSince).not.toBeNull();
  });

  it('[T3] on a floor whose time is certain nobody is asked', async () => {
    const bench = await salonBench();
    await processing(bench);
    const { now, timescale } = bench.engine.heartbeat();
    for (const device of ['device-one', 'device-two']) kept(bench, device, timescale, now + HOUR);
    expect(bench.engine.heartbeat().now).toBe(now);
  });
});

describe('a word about a visit that needs no watching any more', () => {
  it('[S7, X3] is judged like any other, and the visit is forgotten again', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    await bench.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    await bench.do({ type: 'MoveOn', visit, to: 'dry' });
    await bench.do({ type: 'MoveOn', visit, to: 'finished' });
    await bench.do({ type: 'WriteLabel', visit, label: 'x' }).catch(() => undefined);
    bench.pass(30 * HOUR);
    await bench.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
    expect(bench.engine.floor.visits[visit]).toBeUndefined();
    const owed = bench.disk.eventsOf(visit).length;
    expect(await bench.send({ type: 'FinishApplication', visit })).toMatchObject({ refused: { code: 'moved-on' } });
    await bench.do({ type: 'EraseWords', visit });
    expect(bench.disk.eventsOf(visit)).toHaveLength(owed + 1);
    expect(bench.engine.floor.visits[visit]).toBeUndefined();
    expect(await bench.send({ type: 'FinishApplication', visit: 'visit-never' })).toMatchObject({
      refused: { code: 'unknown-visit' },
    });
  });
});
