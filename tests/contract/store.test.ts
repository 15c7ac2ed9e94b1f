import * as fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Command } from '../../core/command.ts';
import type { Recorded } from '../../core/events.ts';
import { forget } from '../../core/evolve.ts';
import { LogConflict, type Batch, type KeptAnswer } from '../../server/store/store.ts';
import { NOON, type FloorLife } from '../support/floor-life.ts';
import { storeKinds, type CheckedStore, type OpenedKind } from '../support/store-kinds.ts';
import { aliveAt, batchOf, storedSalon, turn } from '../support/stored-life.ts';

const MINUTE = 60_000;
const seat = (chair: number): Command => ({
  type: 'SeatVisit',
  chair,
  service: 'service-1',
  stylist: 'person-ama',
  label: `Client ${chair}`,
});
const begin = (chair: number): Command => ({ type: 'BeginApplication', chair, visit: null, service: null });
const water = (chair: number, basin: number | null = 91): Command => ({
  type: 'BeginRinse',
  chair,
  visit: null,
  basin,
});
const kept = (id: string): KeptAnswer => ({
  id,
  bodyHash: `hash-of-${id}`,
  answer: `{"outcome":"done","visit":"${id}"}`,
});

/** One head from its seat through bells, water, a move and the finishing steps to the door. */
function wholeVisit(life: FloorLife, live: (act: (life: FloorLife) => void) => void): string {
  let visit = '';
  live(() => (visit = life.do(seat(1))));
  live(() => life.pass(2).do(begin(1), { by: 'person-ama' }));
  live(() => life.pass(14).do({ type: 'FinishApplication', visit }));
  live(() => life.pass(11.5));
  live(() => life.send({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: 'person-joss' }));
  live(() => life.pass(4).do(water(1, null), { by: 'person-joss' }));
  live(() => life.pass(0.5).do({ type: 'NameBasin', visit, basin: 92 }));
  live(() => life.pass(6).do({ type: 'ClearAndOff', visit }));
  live(() => life.pass(2).do({ type: 'MarkShampoo', visit, indicator: 'colourless', strip: null }));
  live(() => life.pass(1).do({ type: 'MoveTo', visit, chair: 3 }));
  live(() => life.pass(1).do({ type: 'MoveOn', visit, to: 'dry' }));
  live(() => life.pass(9).do({ type: 'MoveOn', visit, to: 'finished' }));
  return visit;
}

describe.each(storeKinds)('a store $kind', ({ open }) => {
  let opened: OpenedKind;
  let store: CheckedStore;
  beforeEach(() => {
    opened = open();
    store = opened.store;
  });
  afterEach(() => opened.end());

  /** All that a later start could see. */
  const everything = (one: CheckedStore, visits: readonly string[] = []) => ({
    opened: one.open(),
    projected: one.projected(),
    words: one.wordsOf(''),
    events: visits.map((visit) => one.eventsOf(visit)),
  });

  test('an empty one has nothing', () => {
    expect(store.open()).toMatchObject({ seq: 0, versions: { salon: 0, people: 0, directions: 0 }, lastAlive: null });
    expect(store.open().floor.salon.setUpAt).toBeNull();
    expect(store.eventsOf('visit-none')).toEqual([]);
    expect(store.answerOf('command-none')).toBeNull();
    expect(store.wordsOf('')).toEqual({});
  });

  test('gives the events of a visit back as they were, in their order, at most so many', () => {
    const life = storedSalon(store);
    turn(life, [store], () => life.do(seat(2)));
    const visit = wholeVisit(life, (act) => turn(life, [store], act));
    const events = life.log.filter((one) => one.stream === `visit/${visit}`);
    expect(store.eventsOf(visit)).toEqual(events);
    expect(events.map((one) => one.version)).toEqual(events.map((_, i) => i + 1));
    expect(store.eventsOf(visit, 3)).toEqual(events.slice(0, 3));
  });

  test('a later start finds the same floor, the last places and the sign of life', () => {
    const life = storedSalon(store);
    wholeVisit(life, (act) => turn(life, [store], act));
    turn(life, [store], () => life.do(begin(2)));
    turn(life, [store], () => life.pass(20));
    const again = opened.reopen().open();
    expect(again).toEqual({
      floor: life.floor,
      seq: life.log.length,
      versions: versionsIn(life.log),
      lastAlive: aliveAt(life.now),
    });
  });

  test('[T3] the sign of life is replaced by itself', () => {
    storedSalon(store);
    store.keepAlive(aliveAt(NOON + 5_000));
    expect(opened.reopen().open().lastAlive).toEqual(aliveAt(NOON + 5_000));
  });

  test('several batches of one turn follow one another', () => {
    const life = storedSalon(store);
    const one = batchOf(life, () => life.do(seat(1)), kept('command-one'));
    const two = batchOf(life, () => life.do(begin(1)), kept('command-two'));
    const three = batchOf(life, () => undefined, kept('command-three'));
    store.write([one, two, three], aliveAt(life.now));
    expect(opened.reopen().open()).toMatchObject({ floor: life.floor, seq: life.log.length });
  });

  describe('a turn that does not follow from the log leaves nothing', () => {
    const wrong: readonly [string, (batch: Batch) => Batch][] = [
      ['a place in the log used twice', (batch) => shifted(batch, { seq: -1 })],
      ['a place in the log left out', (batch) => shifted(batch, { seq: 1 })],
      ['a version of its stream used twice', (batch) => shifted(batch, { version: -1 })],
      ['a version of its stream left out', (batch) => shifted(batch, { version: 1 })],
      ['the id of a command that has an answer', (batch) => ({ ...batch, kept: kept('command-before') })],
    ];
    test.each(wrong)('%s', (_what, spoil) => {
      const life = storedSalon(store);
      let visit = '';
      const before = batchOf(life, () => (visit = life.do(seat(1))), kept('command-before'));
      store.write([before], aliveAt(life.now));
      const was = everything(store, [visit]);

      const good = batchOf(life, () => life.pass(1).do(begin(1)), kept('command-good'));
      const bad = batchOf(life, () => {
        life.pass(1).do({ type: 'FinishApplication', visit });
        life.do({ type: 'WriteLabel', visit, label: 'Somebody else' });
      });
      const attempt = () => store.write([good, spoil(bad)], aliveAt(life.now));
      expect(attempt).toThrow(LogConflict);
      expect(thrownBy(attempt)).toMatchObject({ batch: 1 });
      expect(everything(store, [visit])).toEqual(was);
      expect(store.answerOf('command-good')).toBeNull();

      store.write([good, bad], aliveAt(life.now));
      expect(opened.reopen().open()).toMatchObject({ floor: life.floor, seq: life.log.length });
    });
  });

  test('an event of a visit that the floor does not hold is a bug, and leaves nothing', () => {
    const life = storedSalon(store);
    const was = everything(store);
    const batch = batchOf(life, () => life.do(seat(1)));
    expect(() => store.write([{ ...batch, floor: { ...batch.floor, visits: {} } }], aliveAt(life.now))).toThrow(
      /does not hold/,
    );
    expect(everything(store)).toEqual(was);
  });

  test('[S8] an answer is kept with its command, refused ones too, and given again', () => {
    const life = storedSalon(store);
    const refused = { ...kept('command-refused'), answer: '{"outcome":"refused","code":"wrong-stage"}' };
    store.write([batchOf(life, () => life.do(seat(1)), kept('command-one'))], aliveAt(life.now));
    store.write([{ events: [], words: [], kept: refused, floor: life.floor }], aliveAt(life.now));
    const again = opened.reopen();
    expect(again.answerOf('command-one')).toEqual(kept('command-one'));
    expect(again.answerOf('command-refused')).toEqual(refused);
    expect(again.answerOf('command-other')).toBeNull();
  });

  test('words are found by the beginning of their key, changed, and erased', () => {
    const life = storedSalon(store);
    let visit = '';
    turn(life, [store], () => (visit = life.do(seat(1))));
    turn(life, [store], () => life.do({ type: 'AddPlace', kind: 'chair', number: 10, label: 'Ten' }));
    expect(store.wordsOf(`visit/${visit}/`)).toEqual({ [`visit/${visit}/label`]: 'Client 1' });
    expect(store.wordsOf('place/1/')).toEqual({ 'place/1/label': '1' });
    turn(life, [store], () => life.do({ type: 'RelabelPlace', number: 1, label: 'Window ÿ 椅' }));
    expect(store.wordsOf('place/1/')).toEqual({ 'place/1/label': 'Window ÿ 椅' });
    turn(life, [store], () => life.do({ type: 'WriteLabel', visit, label: null }));
    expect(store.wordsOf('visit/')).toEqual({});
    expect(opened.reopen().open().floor.words).toEqual(life.floor.words);
  });

  test('a start folds what is open, what ended within the hour, what owes a reason for a day, and what still rings', () => {
    const life = storedSalon(store);
    const finish = (chair: number, owing: boolean) => {
      const visit = life.do(seat(chair));
      if (owing) life.do({ type: 'MoveOn', visit, to: 'dry' });
      life.do({ type: 'Abandon', visit });
      return visit;
    };
    let ended = '';
    turn(life, [store], () => (ended = finish(1, false)));
    const owing = storedOwing(life, store);
    const left = storedLeft(life, store);
    const open = storedOpen(life, store);
    const at = (ms: number) => {
      store.keepAlive(aliveAt(NOON + ms));
      const { floor } = store.open();
      // The same rule as the floor at work keeps to.
      expect(floor.visits).toEqual(forget(life.floor, NOON + ms).visits);
      return Object.keys(floor.visits).sort();
    };
    expect(life.now).toBe(NOON);
    expect(at(60 * MINUTE)).toEqual([ended, owing, left, open].sort());
    expect(at(60 * MINUTE + 1)).toEqual([owing, left, open].sort());
    expect(at(24 * 60 * MINUTE)).toEqual([owing, left, open].sort());
    expect(at(24 * 60 * MINUTE + 1)).toEqual([left, open].sort());
    expect(
      Object.keys(store.open().floor.words)
        .filter((key) => key.startsWith('visit/'))
        .sort(),
    ).toEqual([left, open].map((visit) => `visit/${visit}/label`).sort());
    expect(store.eventsOf(ended).length).toBeGreaterThan(0);
  });

  test('what was given and what is read share nothing', () => {
    const life = storedSalon(store);
    let visit = '';
    const batch = batchOf(life, () => (visit = life.do(seat(1))));
    store.write([batch], aliveAt(life.now));
    const [first] = store.eventsOf(visit);
    expect(first).toEqual(batch.events[0]);
    expect(first?.event).not.toBe(batch.events[0]?.event);
  });
});

function storedOwing(life: FloorLife, store: CheckedStore): string {
  let visit = '';
  turn(life, [store], () => {
    visit = life.do(seat(2));
    life.do(begin(2));
    life.do(water(2));
    life.do({ type: 'ClearAndOff', visit });
    life.do({ type: 'MoveOn', visit, to: 'finished' });
  });
  expect(life.facts(visit).owed.length).toBeGreaterThan(0);
  return visit;
}

function storedLeft(life: FloorLife, store: CheckedStore): string {
  let visit = '';
  turn(life, [store], () => {
    visit = life.do(seat(3));
    life.do(begin(3));
    life.do({ type: 'Abandon', visit });
  });
  expect(life.facts(visit).bells.map((bell) => bell.kind)).toEqual(['abandoned']);
  return visit;
}

function storedOpen(life: FloorLife, store: CheckedStore): string {
  let visit = '';
  turn(life, [store], () => (visit = life.do(seat(4))));
  return visit;
}

function shifted(batch: Batch, by: { readonly seq?: number; readonly version?: number }): Batch {
  const move = (one: Recorded): Recorded => ({
    ...one,
    seq: one.seq + (by.seq ?? 0),
    version: one.version + (by.version ?? 0),
  });
  return { ...batch, events: batch.events.map(move) };
}

function versionsIn(log: readonly Recorded[]): Record<string, number> {
  const last = (stream: string) => log.filter((one) => one.stream === stream).length;
  return { salon: last('salon'), people: last('people'), directions: last('directions') };
}

function thrownBy(act: () => void): unknown {
  try {
    act();
  } catch (error) {
    return error;
  }
  return null;
}

describe('what is computed from the log', () => {
  const both = storeKinds.map(({ open }) => open);
  let all: OpenedKind[] = [];
  const openBoth = (): CheckedStore[] => {
    all = both.map((open) => open());
    return all.map(({ store }) => store);
  };
  const endBoth = () => all.splice(0).forEach((one) => one.end());
  afterEach(endBoth);

  /** Rebuilding equals living, the two stores are alike, and the bells that stand are those of the facts. */
  function agree(stores: readonly CheckedStore[], life: FloorLife): void {
    const living = stores.map((store) => store.projected());
    for (const store of stores) store.rebuild();
    expect(stores.map((store) => store.projected())).toEqual(living);
    expect(living[1]).toEqual(living[0]);
    expect(stores[1]?.open()).toEqual(stores[0]?.open());
    const standing = (living[0]?.bells ?? [])
      .filter((row) => row.endedAt === null)
      .map((row) => `${row.subject} ${row.kind} ${row.level} ${row.episode}`);
    const inFacts = Object.values(life.floor.visits).flatMap(({ facts }) =>
      facts.bells.map((bell) => `${facts.id} ${bell.kind} ${bell.level} ${bell.episode}`),
    );
    expect(standing.sort()).toEqual(inFacts.sort());
  }

  test('[R1] rebuilding equals living over a whole visit, in both stores', () => {
    const stores = openBoth();
    const life = storedSalon(...stores);
    wholeVisit(life, (act) => turn(life, stores, act));
    agree(stores, life);
    expect(stores[0]?.projected().bells.length).toBeGreaterThan(3);
  });

  type Step = readonly [number, number, number, number];
  const step: fc.Arbitrary<Step> = fc.tuple(
    fc.integer({ min: 0, max: 15 }),
    fc.integer({ min: 1, max: 4 }),
    fc.integer({ min: 0, max: 12 }),
    fc.integer({ min: 0, max: 9 }),
  );

  function take(life: FloorLife, [what, chair, minutes, more]: Step): void {
    life.pass(minutes * 0.7);
    const visit =
      Object.values(life.floor.visits).find(({ facts }) => facts.chair === chair && facts.end === null)?.facts.id ??
      'visit-none';
    const commands: readonly Command[] = [
      seat(chair),
      begin(chair),
      { type: 'FinishApplication', visit },
      water(chair, [null, 91, 92][more % 3] ?? null),
      { type: 'NameBasin', visit, basin: 92 },
      { type: 'ClearAndOff', visit },
      { type: 'MarkShampoo', visit, indicator: more % 2 === 0 ? 'coloured' : 'colourless', strip: null },
      {
        type: 'MoveOn',
        visit,
        to: (['prep', 'neutralize', 'condition', 'dry', 'finished'] as const)[more % 5] ?? 'dry',
      },
      { type: 'MoveTo', visit, chair: (more % 4) + 1 },
      { type: 'Abandon', visit },
      { type: 'SettleAbandoned', visit },
      { type: 'ReportBurns', chair, visit: null, place: more % 2 === 0 ? 'eye' : 'skin' },
      { type: 'CloseBurns', visit, done: 'eased' },
      { type: 'TakeBell', visit, chair: null, cause: life.floor.visits[visit]?.facts.bells[0]?.cause ?? 'off' },
      { type: 'CorrectTime', visit, of: more + 1, to: life.now - minutes * MINUTE, reason: 'late' },
      { type: 'TakeBack', visit },
    ];
    const late = more > 6 && what !== 14 ? life.now - minutes * 20_000 : null;
    const command = commands[what];
    // Only who has seen the last move takes it back (X2).
    const seen = command?.type === 'TakeBack' ? (life.floor.visits[visit]?.facts.version ?? null) : null;
    if (command !== undefined) life.send(command, { by: more % 2 === 0 ? 'person-ama' : null, happenedAt: late, seen });
  }

  test('[R1] rebuilding equals living whatever is done, and no span is negative', () => {
    const bells = new Set<string>();
    const events = new Set<string>();
    fc.assert(
      fc.property(fc.array(step, { minLength: 20, maxLength: 80 }), (steps) => {
        const stores = openBoth();
        try {
          const life = storedSalon(...stores);
          for (const one of steps) turn(life, stores, () => take(life, one));
          agree(stores, life);
          const { spans, bells: rows } = stores[0]?.projected() ?? { spans: [], bells: [] };
          expect(spans.filter((span) => span.toAt !== null && span.toAt < span.fromAt)).toEqual([]);
          for (const row of rows) bells.add(row.why ?? 'standing');
          for (const { event } of life.log) events.add(event.type);
        } finally {
          endBoth();
        }
      }),
      { numRuns: 60, seed: 20_260_310 },
    );
    // Otherwise the runs would show little.
    expect([...bells]).toEqual(expect.arrayContaining(['standing', 'replaced', 'deed-done', 'taken-back']));
    expect([...events]).toEqual(
      expect.arrayContaining(['TimeCorrected', 'MoveTakenBack', 'MovedTo', 'BurnsReported', 'BellTaken']),
    );
  });
});
