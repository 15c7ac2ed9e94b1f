import { describe, expect, it } from 'vitest';
import type { Reply } from '../../../server/engine/reply.ts';
import { MINUTE, NOON, processing, salonBench, SECOND } from './kit.ts';

const code = (reply: Reply | undefined): string =>
  reply === undefined ? 'none' : 'refused' in reply ? reply.refused.code : reply.accepted.outcome;

describe('a full disk', () => {
  it('[S2] takes water on in memory, says so, and asks everything else to come again', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    const water = bench.request({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    const seat = bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const empty = bench.request({ type: 'BeginRinse', chair: 3, visit: null, basin: null });
    const burns = bench.request({ type: 'ReportBurns', chair: 4, visit: null, place: 'eye' });
    const replies = await bench.together(water, seat, empty, burns);
    expect(replies.map(code)).toEqual(['kept-unsaved', 'again', 'kept-unsaved', 'kept-unsaved']);
    expect(bench.facts(visit).stage).toBe('rinse');
    expect(bench.facts(burns.id).burns).toMatchObject({ place: 'eye' });
    expect(bench.bells(burns.id)).toEqual(['burns DANGER #1']);
    expect(bench.engine.heartbeat().unsaved).toBe(true);
    expect(bench.floorBells()).toEqual(['not-saved WARNING #1']);
    expect(bench.disk.eventsOf(empty.id)).toEqual([]);
    expect(Object.keys(bench.engine.floor.visits)).not.toContain(seat.id);
  });

  it('[R8] bells ring from memory, and are stored later under the same identity and place', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    bench.pass(12 * MINUTE);
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(bench.floorBells()).toEqual(['not-saved WARNING #1']);
    await bench.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    const told = bench.changes.at(-1)?.revision;
    const facts = bench.facts(visit);
    expect(facts.bells).toEqual([]);
    bench.disk.full = false;
    bench.pass(2 * SECOND);
    expect(bench.engine.heartbeat().unsaved).toBe(false);
    expect(bench.floorBells()).toEqual([]);
    expect(bench.rung(visit)).toEqual(['BellRung off', 'BellEnded off']);
    expect(bench.facts(visit)).toEqual(facts);
    expect(bench.engine.revision).toBe((told ?? 0) + 1);
    bench.restart();
    expect(bench.facts(visit)).toEqual(facts);
    expect(bench.floorBells()).toEqual([]);
  });

  it('[R8] is tried again after 2 s, and at every turn before', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    await bench.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect(bench.wakeUpMs).toBe(2 * SECOND);
    bench.disk.full = false;
    bench.hand.pass(2 * SECOND);
    bench.timers.waiting[0]?.task();
    expect(bench.engine.heartbeat().unsaved).toBe(false);
    expect(bench.disk.eventsOf(visit).some(({ event }) => event.type === 'RinseBegun')).toBe(true);
  });

  it('[S8] an unsaved answer is repeated while unsaved, and told as done once it is stored', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    const water = bench.request({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    const [first] = await bench.together(water);
    expect((await bench.together(water))[0]).toEqual(first);
    expect(code((await bench.together({ ...water, basin: 92 } as typeof water))[0])).toBe('id-reused');
    bench.disk.full = false;
    expect(code((await bench.together(water))[0])).toBe('done');
    expect(bench.disk.eventsOf(visit).filter(({ event }) => event.type === 'RinseBegun')).toHaveLength(1);
  });

  it('[S8] what was asked to come again is done when it comes, under the same id', async () => {
    const bench = await salonBench();
    bench.disk.full = true;
    const seat = bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    expect(code((await bench.together(seat))[0])).toBe('again');
    expect(bench.engine.heartbeat().unsaved).toBe(false);
    expect(bench.floorBells()).toEqual([]);
    bench.disk.full = false;
    expect(code((await bench.together(seat))[0])).toBe('done');
  });

  it('[S7] a second person at the water is told so without a disk, too', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    const { version } = bench.facts(visit);
    const one = bench.request({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { seen: version, by: 'person-ama' });
    const two = bench.request({ type: 'BeginRinse', chair: 1, visit, basin: 92 }, { seen: version, by: 'person-joss' });
    const [, second] = await bench.together(one, two);
    expect(code(second)).toBe('already-done');
    expect(second).toMatchObject({
      refused: { since: [{ type: 'RinseBegun', at: NOON + 15 * MINUTE, by: 'person-ama' }] },
    });
  });

  it('[R8] a refusal alone is nothing unsaved', async () => {
    const bench = await salonBench();
    bench.disk.full = true;
    expect(code(await bench.send({ type: 'BeginRinse', chair: 77, visit: null, basin: null }))).toBe('unknown-place');
    expect(bench.engine.heartbeat().unsaved).toBe(false);
    expect(bench.floorBells()).toEqual([]);
  });

  it('[R8] readiness tells the trouble and its end', async () => {
    const bench = await salonBench();
    expect(bench.engine.probe()).toBeNull();
    bench.disk.full = true;
    expect(bench.engine.probe()).toBe('full');
    bench.disk.full = false;
    expect(bench.engine.probe()).toBeNull();
  });

  it('[S2] a store that breaks in another way does not stand before the water either', async () => {
    const bench = await salonBench();
    bench.disk.write = () => {
      throw new Error('a fault of ours');
    };
    expect(code(await bench.send({ type: 'BeginRinse', chair: 3, visit: null, basin: 91 }))).toBe('kept-unsaved');
    expect(bench.engine.trouble).toBe('failing');
  });
});

describe('the end', () => {
  it('[S7] finishes what waits and then asks to come again', async () => {
    const bench = await salonBench();
    const seat = bench.engine.submit(
      bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null }),
    );
    bench.engine.stop();
    expect(code(await seat)).toBe('done');
    expect(bench.timers.waiting).toEqual([]);
    expect(
      code(await bench.engine.submit(bench.request({ type: 'SetWall', wall: { diagonalIn: 43, distanceM: 5 } }))),
    ).toBe('again');
  });
});
