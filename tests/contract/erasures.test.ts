import { appendFileSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { erasuresIn, erasuresOf, noteErasures, shareErasures } from '../../server/store/erasures.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import { StorageError, type Store } from '../../server/store/store.ts';
import type { FloorLife } from '../support/floor-life.ts';
import { storeKinds, type OpenedKind } from '../support/store-kinds.ts';
import { aliveAt, batchOf, storedSalon, turn } from '../support/stored-life.ts';

const WORD = 'Wordtogo';
const NOTE = 'a note that must go';

/** Two visits with a label each, one with a note. */
function twoVisits(life: FloorLife, store: Store): { erased: string; other: string } {
  let erased = '';
  let other = '';
  turn(life, [store], () => {
    erased = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: WORD });
    other = life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: 'Other' });
  });
  turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: erased, service: null }));
  turn(life, [store], () => {
    const test = {
      type: 'TestStrand',
      visit: erased,
      place: 'first',
      result: 'not-yet',
      part: null,
      note: NOTE,
    } as const;
    life.pass(5).do(test);
  });
  return { erased, other };
}

describe.each(storeKinds)('erasing in a store $kind', ({ open }) => {
  let opened: OpenedKind;
  beforeEach(() => (opened = open()));
  afterEach(() => opened.end());

  test('[X5] takes the label and all notes of that visit, of no other, and what happened stays', () => {
    const { store } = opened;
    const life = storedSalon(store);
    const { erased, other } = twoVisits(life, store);
    expect(Object.keys(store.wordsOf(`visit/${erased}/`))).toHaveLength(2);
    const events = store.eventsOf(erased).length;
    turn(life, [store], () => life.do({ type: 'EraseWords', visit: erased }));
    const again = opened.reopen();
    expect(again.wordsOf(`visit/${erased}/`)).toEqual({});
    expect(again.wordsOf(`visit/${other}/`)).toEqual({ [`visit/${other}/label`]: 'Other' });
    expect(again.eventsOf(erased)).toHaveLength(events + 1);
    expect(again.open().floor).toEqual(life.floor);
  });

  test('[X5] takes words that the floor no longer remembered', () => {
    const { store } = opened;
    const life = storedSalon(store);
    const { erased } = twoVisits(life, store);
    const batch = batchOf(life, () => life.do({ type: 'EraseWords', visit: erased }));
    store.write([{ ...batch, words: [] }], aliveAt(life.now));
    expect(store.wordsOf(`visit/${erased}/`)).toEqual({});
  });
});

describe('the list of erasures', () => {
  let folder: string;
  let stores: SqliteStore[] = [];
  const open = () => {
    const store = new SqliteStore({ folder });
    stores.push(store);
    return store;
  };
  const everyByte = () =>
    readdirSync(folder)
      .map((name) => readFileSync(join(folder, name), 'latin1'))
      .join('');
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'floor-'));
    stores = [];
  });
  afterEach(() => {
    for (const store of stores) store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('[X5] names the visit and the instant, and nothing of the words is left in any file', () => {
    const store = open();
    const life = storedSalon(store);
    const { erased } = twoVisits(life, store);
    expect(everyByte()).toContain(WORD);
    turn(life, [store], () => life.do({ type: 'EraseWords', visit: erased }));
    expect(erasuresOf(folder)).toEqual([{ prefix: `visit/${erased}/`, at: life.now }]);
    expect(everyByte()).not.toContain(WORD);
    expect(everyByte()).not.toContain(NOTE);
  });

  test('[X5] while somebody reads, the log of writes is cut by a later write', () => {
    const store = open();
    const life = storedSalon(store);
    const { erased } = twoVisits(life, store);
    const db = new SqliteDatabase(join(folder, 'floor.db'), { readonly: true });
    db.exec('BEGIN; SELECT count(*) FROM word');
    turn(life, [store], () => life.do({ type: 'EraseWords', visit: erased }));
    expect(everyByte()).toContain(WORD);
    db.exec('COMMIT');
    db.close();
    store.keepAlive(aliveAt(life.now + 5_000));
    expect(everyByte()).not.toContain(WORD);
  });

  test('[X5] an erasure that cannot be listed is not stored either', () => {
    const store = open();
    const life = storedSalon(store);
    const { erased } = twoVisits(life, store);
    mkdirSync(join(folder, 'erasures.jsonl'));
    const batch = batchOf(life, () => life.do({ type: 'EraseWords', visit: erased }));
    expect(() => store.write([batch], aliveAt(life.now))).toThrow(StorageError);
    expect(Object.keys(store.wordsOf(`visit/${erased}/`))).toHaveLength(2);
  });

  test('[X5] a line torn by a power cut is passed over, and the next one is whole', () => {
    noteErasures(folder, [{ prefix: 'visit/visit-0001/', at: 1 }]);
    appendFileSync(join(folder, 'erasures.jsonl'), '\n{"prefix":"visit/visit-00');
    noteErasures(folder, [{ prefix: 'visit/visit-0003/', at: 3 }]);
    expect(erasuresOf(folder).map(({ prefix }) => prefix)).toEqual(['visit/visit-0001/', 'visit/visit-0003/']);
  });

  test('[X5] a prefix that would reach further than one visit is not believed', () => {
    const lines = ['visit/', '', 'place/1/', 'visit/a%/', 'visit/visit-1/x'].map((prefix) =>
      JSON.stringify({ prefix, at: 1 }),
    );
    writeFileSync(join(folder, 'erasures.jsonl'), lines.join('\n'));
    expect(erasuresOf(folder)).toEqual([]);
  });

  test('[X5] shared lists grow together, each erasure once', () => {
    const other = join(folder, 'backups');
    mkdirSync(other);
    noteErasures(other, [{ prefix: 'visit/visit-0002/', at: 2 }]);
    shareErasures(
      [
        { prefix: 'visit/visit-0001/', at: 1 },
        { prefix: 'visit/visit-0002/', at: 9 },
      ],
      other,
    );
    expect(erasuresOf(other)).toEqual([
      { prefix: 'visit/visit-0001/', at: 1 },
      { prefix: 'visit/visit-0002/', at: 2 },
    ]);
  });

  test('[X5] an ordinary turn lists nothing', () => {
    const store = open();
    const life = storedSalon(store);
    const batch = batchOf(life, () =>
      life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: WORD }),
    );
    expect(erasuresIn([batch])).toEqual([]);
  });
});
