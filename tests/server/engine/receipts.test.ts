import { beforeEach, describe, expect, it } from 'vitest';
import type { Receipt } from '../../../core/bells/receipts.ts';
import type { Recorded } from '../../../core/events.ts';
import { MINUTE, processing, salonBench, SECOND, type Bench } from './kit.ts';

const AMA = 'person-ama';
const JOSS = 'person-joss';
let bench: Bench;
let visit: string;
const receipt = (person: string, changes: Partial<Receipt['bell']> = {}): Receipt => ({
  person,
  bell: { visit, chair: null, cause: 'off', episode: 1, level: 'WARNING', ...changes },
});
const bell = () => bench.facts(visit).bells.find(({ cause }) => cause === 'off');
const shown = () => bell()?.shown.map(({ person }) => person);
const types = (events: readonly Recorded[] = []) => events.map(({ event }) => event.type);

beforeEach(async () => {
  bench = await salonBench();
  for (const person of [AMA, JOSS]) await bench.do({ type: 'BeginShift', person });
  visit = await processing(bench);
  await bench.do({ type: 'NameStylist', visit, stylist: AMA });
  bench.pass(12 * MINUTE);
  expect(bench.bells(visit)).toContain('rinse WARNING #1');
});

describe('receipts of devices', () => {
  it('[R7] are recorded in the next turn, and not before', () => {
    bench.engine.confirm([receipt(AMA)]);
    expect(shown()).toEqual([]);
    bench.timers.runSoon();
    expect(shown()).toEqual([AMA]);
    const last = bench.disk.eventsOf(visit).at(-1);
    expect(last).toMatchObject({ by: null, command: null, event: { type: 'BellShown', person: AMA } });
  });

  it('[R7] many of one turn are one write, each counted once', () => {
    const writes = bench.disk.writes.length;
    bench.engine.confirm([receipt(AMA), receipt(AMA)]);
    bench.engine.confirm([receipt(JOSS)]);
    bench.timers.runSoon();
    expect(shown()).toEqual([AMA, JOSS]);
    expect(bench.disk.writes).toHaveLength(writes + 1);
  });

  it('[R7] replayed or meant for what is gone change nothing and are told to nobody', () => {
    bench.engine.confirm([receipt(AMA)]);
    bench.timers.runSoon();
    const { revision } = bench.engine;
    const told = bench.changes.length;
    bench.engine.confirm([receipt(AMA), receipt(JOSS, { level: 'DANGER' }), receipt(JOSS, { episode: 9 })]);
    bench.timers.runSoon();
    expect([bench.engine.revision, bench.changes.length]).toEqual([revision, told]);
  });

  it('[R8] are kept in memory while the disk is full, and stored after', () => {
    bench.disk.full = true;
    bench.engine.confirm([receipt(AMA)]);
    bench.timers.runSoon();
    expect(shown()).toEqual([AMA]);
    expect(bench.floorBells()).toContain('not-saved WARNING #1');
    bench.engine.confirm([receipt(JOSS)]);
    bench.timers.runSoon();
    expect(shown()).toEqual([AMA, JOSS]);
    expect(bench.disk.eventsOf(visit).filter(({ event }) => event.type === 'BellShown')).toEqual([]);
    bench.disk.full = false;
    bench.pass(2 * SECOND);
    const stored = bench.disk
      .eventsOf(visit)
      .flatMap(({ event }) => (event.type === 'BellShown' ? [event.person] : []));
    expect(stored).toEqual([AMA, JOSS]);
    bench.restart();
    expect(shown()).toEqual([AMA, JOSS]);
  });

  it('[R7] of somebody playing are not heaped up without end', () => {
    bench.engine.confirm(Array.from({ length: 2_001 }, () => receipt(AMA)));
    bench.timers.runSoon();
    expect(shown()).toEqual([]);
    bench.engine.confirm([receipt(AMA)]);
    bench.timers.runSoon();
    expect(shown()).toEqual([AMA]);
  });

  it('[S6] never stand before the water: a turn with both does both', async () => {
    bench.engine.confirm([receipt(AMA)]);
    await bench.do({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect(bench.facts(visit).stage).toBe('rinse');
    expect(bell()).toBeUndefined();
  });
});

describe('what a turn tells those who listen', () => {
  it('[R9] all that was recorded in it, in order, as it stands in the log', async () => {
    const before = bench.engine.revision;
    await bench.do({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: AMA });
    const change = bench.changes.at(-1);
    expect(types(change?.events)).toEqual(['BellTaken']);
    expect(change?.events.map(({ seq }) => seq)).toEqual([before + 1]);
    bench.engine.confirm([receipt(JOSS)]);
    await bench.do({ type: 'ReportTingles', visit }, { by: JOSS });
    const both = bench.changes.at(-1);
    expect(types(both?.events)).toEqual(['TinglesReported', 'BellShown', 'BellRung']);
    expect(both?.events).toEqual(bench.disk.eventsOf(visit).slice(-3));
    expect(both?.previous).toBe((both?.events[0]?.seq ?? 0) - 1);
    expect(both?.revision).toBe(both?.events.at(-1)?.seq);
  });

  it('[R8] also of a turn that only memory holds, and once', () => {
    bench.disk.full = true;
    bench.engine.confirm([receipt(AMA)]);
    bench.timers.runSoon();
    expect(types(bench.changes.at(-1)?.events)).toEqual(['BellShown', 'FloorBellRung']);
    const told = bench.changes.length;
    bench.disk.full = false;
    bench.pass(2 * SECOND);
    const later = bench.changes.slice(told).flatMap(({ events }) => types(events));
    expect(later).not.toContain('BellShown');
    expect(later).toContain('FloorBellEnded');
  });

  it('[R9] events of all turns together are the log', async () => {
    await bench.do({ type: 'AskHelp', chair: 2 }, { by: AMA });
    bench.pass(3 * MINUTE);
    const seqs = bench.changes.flatMap(({ events }) => events.map(({ seq }) => seq));
    expect(seqs).toEqual(Array.from({ length: bench.engine.revision }, (_, i) => i + 1));
  });
});
