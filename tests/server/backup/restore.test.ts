import { createHash } from 'node:crypto';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { backUp } from '../../../server/backup/back-up.ts';
import { newestUsable } from '../../../server/backup/backups.ts';
import { restore, type Restored } from '../../../server/backup/restore.ts';
import { markDamage } from '../../../server/store/damage.ts';
import { DataFileError } from '../../../server/store/data-file-error.ts';
import { erasuresOf } from '../../../server/store/erasures.ts';
import { migrations } from '../../../server/store/migrations/migrations.ts';
import { decideRestore } from '../../../server/store/pending-restore.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import { toFirstShape } from '../../support/first-shape.ts';
import type { FloorLife } from '../../support/floor-life.ts';
import { storedSalon, turn } from '../../support/stored-life.ts';

const NOW = Date.UTC(2026, 2, 10, 14, 30);
const NAME = 'floor-20260310T120000Z-salon-1300-r11.db';
const WORD = 'Wordtogo';
let data: string;
let backups: string;
const stores: SqliteStore[] = [];
const open = () => {
  const store = new SqliteStore({ folder: data });
  stores.push(store);
  return store;
};
const endAll = () => {
  for (const store of stores.splice(0)) store.close();
};
const file = (name = 'floor.db') => join(data, name);
const again = (from = join(backups, NAME)): Promise<Restored> => restore({ data, backups, from, now: NOW });
const refused = async (from?: string): Promise<DataFileError> => {
  const error: unknown = await again(from).then(
    () => null,
    (why: unknown) => why,
  );
  if (error instanceof DataFileError) return error;
  throw new Error(`not refused in words: ${String(error)}`);
};
const everything = () =>
  Object.fromEntries(
    readdirSync(data, { withFileTypes: true })
      .filter((entry) => entry.isFile() && !/shm$|lock$/.test(entry.name))
      .map(({ name }) => [name, readFileSync(file(name))] as const)
      .filter(([, content]) => content.length > 0)
      .map(([name, content]) => [name, createHash('sha256').update(content).digest('hex')]),
  );

async function copyNow(name = NAME): Promise<void> {
  const db = new SqliteDatabase(file(), { readonly: true });
  expect(await backUp(db, { folder: backups, name })).toMatchObject({ verified: true });
  db.close();
}

let life: FloorLife;
let labelled: string;
let folded: unknown;

/** A salon backed up with a labelled visit in process, then twenty minutes of further work. */
beforeEach(async () => {
  data = mkdtempSync(join(tmpdir(), 'floor-'));
  backups = join(data, 'backups');
  mkdirSync(backups);
  const store = open();
  life = storedSalon(store);
  turn(life, [store], () => {
    labelled = life.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: WORD });
  });
  turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: labelled, service: null }));
  await copyNow();
  folded = store.open();
  turn(life, [store], () => life.pass(20).do({ type: 'BeginApplication', chair: 2, visit: null, service: null }));
  endAll();
});
afterEach(() => {
  endAll();
  rmSync(data, { recursive: true, force: true });
});

describe('a restore', () => {
  test('[R8] folds to the state of the backup, keeps what it replaced, and tells what is lost', async () => {
    const replaced = readFileSync(file());
    const done = await again();
    expect(done.aside).toBe('floor.db.replaced-20260310T143000Z');
    expect(readFileSync(file(done.aside ?? '')).equals(replaced)).toBe(true);
    expect((done.replaced?.events ?? 0) - done.contents.events).toBeGreaterThan(0);
    expect((done.replaced?.aliveAt ?? 0) - (done.contents.aliveAt ?? 0)).toBe(20 * 60_000);
    const store = open();
    expect(store.open()).toEqual(folded);
  });

  test('[R8] ends the refusal of a damaged file, which stays beside with its log of writes', async () => {
    markDamage(data, { foundAt: NOW, what: 'planted', by: 'check' });
    writeFileSync(file(), 'noise '.repeat(2_000));
    writeFileSync(file('floor.db-wal'), 'more noise '.repeat(20));
    expect(() => open()).toThrow(DataFileError);
    const { replaced } = await again();
    expect(replaced).toBeNull();
    expect(readFileSync(file('floor.db.replaced-20260310T143000Z'), 'latin1')).toContain('noise noise');
    expect(readFileSync(file('floor.db.replaced-20260310T143000Z-wal'), 'latin1')).toContain('more noise');
    expect(open().open()).toEqual(folded);
  });

  test('[R8] puts a backup into an empty folder', async () => {
    const from = join(mkdtempSync(join(tmpdir(), 'floor-')), NAME);
    copyFileSync(join(backups, NAME), from);
    rmSync(data, { recursive: true });
    expect(await again(from)).toMatchObject({ aside: null, replaced: null });
    expect(open().open()).toEqual(folded);
  });

  test('[R8] a backup of the first shape is brought to the latest, and gains the tables of reach', async () => {
    const old = new SqliteDatabase(join(backups, NAME));
    toFirstShape(old);
    old.close();
    expect((await again()).contents.shape).toBe(1);
    const store = open();
    expect([store.open(), store.reach.hooks()]).toEqual([folded, []]);
  });

  test('[R8] keys and addresses of reach come back with their backup', async () => {
    const store = open();
    store.reach.keepSecret('one', 'first');
    endAll();
    rmSync(join(backups, NAME));
    await copyNow();
    const later = open();
    later.reach.keepSecret('one', 'second');
    endAll();
    await again();
    expect(open().reach.secret('one')).toBe('first');
  });

  test('[X5] erases again what was erased since, from the folder of the data or of the backups', async () => {
    const store = open();
    turn(life, [store], () => life.do({ type: 'EraseWords', visit: labelled }));
    endAll();
    expect(readFileSync(join(backups, NAME), 'latin1')).toContain(WORD);
    copyFileSync(file('erasures.jsonl'), join(backups, 'erasures.jsonl'));
    rmSync(file('erasures.jsonl'));
    expect(await again()).toMatchObject({ erased: 1 });
    expect(readFileSync(file(), 'latin1')).not.toContain(WORD);
    expect(open().wordsOf(`visit/${labelled}/`)).toEqual({});
    expect(erasuresOf(data)).toHaveLength(1);
  });
});

describe('a restore that is refused changes nothing', () => {
  test('[R8] while a server holds the folder', async () => {
    open();
    expect((await refused()).fault).toBe('in-use');
  });

  const harms: readonly [string, string, (from: string) => void][] = [
    ['from a foreign file', 'not-ours', (from) => outside(from, 'PRAGMA application_id = 7')],
    ['from what is no database', 'not-ours', (from) => writeFileSync(from, 'a shopping list '.repeat(400))],
    ['from a newer version', 'newer', (from) => outside(from, `PRAGMA user_version = ${migrations.length + 1}`)],
    ['from a truncated one', 'damaged', (from) => writeFileSync(from, readFileSync(from).subarray(0, 9_000))],
    ['from a flipped one', 'damaged', (from) => writeFileSync(from, readFileSync(from).fill(0x5a, 8_200, 8_400))],
    ['from one that is not there', 'damaged', (from) => rmSync(from)],
  ];
  test.each(harms)('[R8] %s', async (_what, fault, harm) => {
    harm(join(backups, NAME));
    const was = everything();
    const error = await refused();
    expect(error.fault).toBe(fault);
    expect(error.message).toMatch(/Nothing was changed\.$/);
    expect(everything()).toEqual(was);
    expect(open().open().seq).toBe(life.log.length);
  });

  test('[R8] the newest usable one is found behind those that are harmed', async () => {
    const later = 'floor-20260310T130000Z-salon-1400-r12.db';
    await copyNow(later);
    expect(newestUsable(backups)?.backup.name).toBe(later);
    writeFileSync(join(backups, later), readFileSync(join(backups, later)).fill(0x5a, 8_200, 8_400));
    expect(newestUsable(backups)?.backup.name).toBe(NAME);
    rmSync(join(backups, NAME));
    expect(newestUsable(backups)).toBeNull();
  });
});

describe('a restore that is killed', () => {
  const copyInFolder = () => copyFileSync(join(backups, NAME), file('floor.db.restored'));

  test('[R8] before it was decided leaves the old file', () => {
    copyInFolder();
    expect(open().open().seq).toBe(life.log.length);
  });

  test('[R8] once decided is finished by the next start, whatever log of writes lay beside', () => {
    const other = mkdtempSync(join(tmpdir(), 'floor-'));
    const store = open();
    turn(life, [store], () => life.do({ type: 'SetWall', wall: { diagonalIn: 50, distanceM: 5 } }));
    for (const end of ['', '-wal']) copyFileSync(file(`floor.db${end}`), join(other, `floor.db${end}`));
    endAll();
    for (const end of ['', '-wal']) copyFileSync(join(other, `floor.db${end}`), file(`floor.db${end}`));
    copyInFolder();
    decideRestore(data, NAME);
    expect(open().open()).toEqual(folded);
    expect(existsSync(file('floor.db.restored'))).toBe(false);
  });

  test('[R8] after the copy took its place only tidies up', () => {
    markDamage(data, { foundAt: NOW, what: 'planted', by: 'check' });
    copyFileSync(join(backups, NAME), file());
    decideRestore(data, NAME);
    expect(open().open()).toEqual(folded);
    endAll();
    expect(open().open()).toEqual(folded);
  });
});

function outside(from: string, sql: string): void {
  const db = new SqliteDatabase(from);
  db.exec(sql);
  db.close();
}
