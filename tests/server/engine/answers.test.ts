import { describe, expect, it } from 'vitest';
import type { Reply } from '../../../server/engine/reply.ts';
import { MINUTE, processing, salonBench } from './kit.ts';

const code = (reply: Reply | undefined): string =>
  reply === undefined ? 'none' : 'refused' in reply ? reply.refused.code : reply.accepted.outcome;

describe('what a sender is told', () => {
  it('[S8] repeats the answer of an id that was done, and does nothing twice', async () => {
    const bench = await salonBench();
    const request = bench.request({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    const [first] = await bench.together(request);
    bench.pass(MINUTE);
    const { revision } = bench.engine;
    const [again] = await bench.together(request);
    expect(again).toEqual(first);
    expect(bench.engine.revision).toBe(revision);
    expect(bench.disk.eventsOf(request.id)).toHaveLength(2);
  });

  it('[S8] repeats a refusal of the rules, though it would now be done', async () => {
    const bench = await salonBench();
    const request = bench.request({ type: 'FinishApplication', visit: 'visit-to-come' });
    const [first] = await bench.together(request);
    expect(code(first)).toBe('unknown-visit');
    await bench.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { id: 'visit-to-come' });
    const [again] = await bench.together(request);
    expect(again).toEqual(first);
    expect(bench.facts('visit-to-come').stage).toBe('apply');
  });

  it('[S8] refuses an id that was used with another body, before and after a restart', async () => {
    const bench = await salonBench();
    const request = bench.request({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    await bench.together(request);
    const other = { ...request, chair: 3 } as typeof request;
    expect(code((await bench.together(other))[0])).toBe('id-reused');
    bench.restart();
    expect(code((await bench.together(other))[0])).toBe('id-reused');
    expect(code((await bench.together(request))[0])).toBe('done');
    expect(Object.keys(bench.engine.floor.visits)).toEqual([request.id]);
  });

  it('[S8] the same body is the same, in whatever order its fields were written', async () => {
    const bench = await salonBench();
    const request = bench.request({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    await bench.together(request);
    const turned = Object.fromEntries(Object.entries(request).reverse()) as unknown as typeof request;
    expect(code((await bench.together(turned))[0])).toBe('done');
  });

  it('[S8] the same id twice in one turn is done once, and both hear of it', async () => {
    const bench = await salonBench();
    const request = bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const [one, two, other] = await bench.together(request, request, { ...request, chair: 3 } as typeof request);
    expect(code(one)).toBe('done');
    expect(two).toEqual(one);
    expect(code(other)).toBe('id-reused');
    expect(bench.disk.eventsOf(request.id)).toHaveLength(1);
  });

  it('[S7] commands of one turn are decided one after another on the provisional floor, stored at once', async () => {
    const bench = await salonBench();
    const before = bench.disk.writes.length;
    const seat = bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const begin = bench.request({ type: 'BeginApplication', chair: 2, visit: seat.id, service: null }, { seen: 1 });
    const water = bench.request({ type: 'BeginRinse', chair: 2, visit: seat.id, basin: 91 });
    const repeat = bench.request({ type: 'BeginRinse', chair: 2, visit: seat.id, basin: 92 }, { seen: 1 });
    const replies = await bench.together(seat, begin, water, repeat);
    expect(replies.map(code)).toEqual(['done', 'done', 'done', 'already-done']);
    expect(bench.disk.writes).toHaveLength(before + 1);
    expect(replies.map((reply) => ('accepted' in reply ? reply.accepted.version : null))).toEqual([1, 3, 4, null]);
    expect(bench.facts(seat.id).passes[0]?.water?.basin).toBe(91);
    expect(bench.changes.at(-1)?.revision).toBe(bench.engine.revision);
  });

  it('[S7] answers leave after the turn was stored and told, with its revision', async () => {
    const bench = await salonBench();
    const seen: string[] = [];
    bench.engine.subscribe(() => seen.push(`told after ${bench.disk.writes.length} writes`));
    const writes = bench.disk.writes.length;
    const reply = await bench.send({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    expect(seen).toEqual([`told after ${writes + 1} writes`]);
    expect('accepted' in reply && reply.accepted.revision).toBe(bench.engine.revision);
  });

  it('[S7] names nobody as the doer of what an unknown person sent to the water', async () => {
    const bench = await salonBench();
    const visit = await bench.do({ type: 'BeginRinse', chair: 2, visit: null, basin: 91 }, { by: 'person-nobody' });
    expect(bench.disk.eventsOf(visit).map(({ by }) => by)).toEqual([null, null]);
  });

  it('[S8] a command that the rules cannot judge fails alone', async () => {
    const bench = await salonBench();
    const broken = bench.request({ type: 'FinishApplication', visit: 'visit-0001' });
    Object.defineProperty(broken, 'type', { value: 'Unheard', enumerable: true });
    const seat = bench.request({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: null });
    const replies = await bench.together(broken, seat);
    expect(replies.map(code)).toEqual(['failed', 'done']);
    expect(bench.faults).toHaveLength(1);
  });
});

describe('a visit at rest', () => {
  it('[S9] is forgotten an hour after it ended, and stays in the log', async () => {
    const bench = await salonBench();
    const visit = await bench.do({ type: 'SeatVisit', chair: 2, service: null, stylist: null, label: 'red hat' });
    await bench.do({ type: 'Discard', visit });
    bench.pass(61 * MINUTE);
    await processing(bench, 1, 1);
    expect(bench.engine.floor.visits[visit]).toBeUndefined();
    expect(Object.keys(bench.engine.floor.words).filter((key) => key.includes(visit))).toEqual([]);
    expect(bench.disk.eventsOf(visit).length).toBeGreaterThan(0);
  });
});
