import { expect, it } from 'vitest';
import { StreamBook } from '../../../server/live/stream-book.ts';
import { processing, salonBench } from '../engine/kit.ts';

it('[R10] a snapshot is encoded once per revision, with the time as it is when it is sent', async () => {
  const bench = await salonBench();
  const { engine } = bench;
  let encoded = 0;
  const floor = { ...engine.floor, gap: { fromAt: 1, toAt: 2, why: 'slept' as const, toJSON: () => (encoded += 1) } };
  const book = new StreamBook('floor', floor, engine.revision);
  const first = JSON.parse(book.snapshot(engine.heartbeat())) as { now: number };
  bench.hand.pass(500);
  const second = JSON.parse(book.snapshot(engine.heartbeat())) as { now: number };
  expect(second.now).toBe(first.now + 500);
  expect(encoded).toBe(1);
  book.turn({ previous: engine.revision, revision: engine.revision + 1, floor, events: [] });
  book.snapshot(engine.heartbeat());
  expect(encoded).toBe(2);
});

it('[R10] pushes folded onto a snapshot equal the next snapshot', async () => {
  const bench = await salonBench();
  const { engine } = bench;
  const book = new StreamBook('floor', engine.floor, engine.revision);
  const parse = (): { entities: Record<string, unknown> } => JSON.parse(book.snapshot(engine.heartbeat())) as never;
  const mirror = { ...parse().entities };
  const touched: string[][] = [];
  engine.subscribe((change) => {
    const { entities } = book.turn(change);
    touched.push(Object.keys(entities));
    for (const [key, entity] of Object.entries(entities)) {
      if (entity === null) delete mirror[key];
      else mirror[key] = entity;
    }
  });
  const visit = await processing(bench);
  bench.pass(8 * 60_000);
  await bench.do({ type: 'RelabelPlace', number: 3, label: '3b' });
  await bench.do({ type: 'RetirePlace', number: 4 });
  await bench.do({ type: 'WriteLabel', visit, label: 'green scarf' });
  expect(JSON.parse(JSON.stringify(mirror))).toEqual(parse().entities);
  expect(touched.slice(-3)).toEqual([['place/3'], ['place/4'], [`visit/${visit}`]]);
});
