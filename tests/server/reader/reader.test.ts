import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { inspect } from '../../../server/backup/inspect.ts';
import { Reader, ReaderFault } from '../../../server/reader/reader.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import type { FloorLife } from '../../support/floor-life.ts';
import { aliveAt, storedSalon, turn } from '../../support/stored-life.ts';

let folder: string;
let backups: string;
let store: SqliteStore;
let life: FloorLife;
let reader: Reader;
const file = () => join(folder, 'floor.db');
const order = (name = 'floor-20260310T120000Z-salon-1300-r4.db') => ({ folder: backups, name });

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'floor-'));
  backups = join(folder, 'backups');
  mkdirSync(backups);
  store = new SqliteStore({ folder });
  life = storedSalon(store);
  turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
  reader = new Reader(file());
});
afterEach(async () => {
  await reader.close();
  store.close();
  rmSync(folder, { recursive: true, force: true });
});

/** One page of a table turned into noise, by another process's hand as it were. */
function spoil(table: string): void {
  store.close();
  const db = new SqliteDatabase(file());
  const size = db.pragma('page_size', { simple: true }) as number;
  const page =
    db.prepare<[string], number>('SELECT rootpage FROM sqlite_schema WHERE name = ?').pluck().get(table) ?? 0;
  db.close();
  const data = readFileSync(file());
  data.fill(0x5a, (page - 1) * size, (page - 1) * size + 200);
  writeFileSync(file(), data);
}

describe('the reader', () => {
  test('[R8] finds nothing wrong with a sound file that is being written', async () => {
    expect(await reader.ask('quick-check', null)).toEqual([]);
  });

  test('[R8] finds a page that is noise, in words that hold none of the contents', async () => {
    spoil('bell');
    const findings = await reader.ask('quick-check', null);
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.join()).not.toContain('{');
  });

  test('[R8] finds an event whose text was harmed though the page stands', async () => {
    store.close();
    const data = readFileSync(file());
    const at = data.indexOf('{"zone"');
    expect(at).toBeGreaterThan(0);
    data[at] = 0x7e;
    writeFileSync(file(), data);
    expect((await reader.ask('quick-check', null)).join()).toBe('1 events that are not JSON');
  });

  test('[R8] a backup made between two turns holds all of the first and stands alone', async () => {
    const asked = reader.ask('back-up', order());
    turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }));
    const made = await asked;
    expect(made).toMatchObject({ verified: true });
    expect(readdirSync(backups)).toEqual([order().name]);
    const found = inspect(join(backups, order().name));
    expect(found).toMatchObject({ usable: true, contents: { aliveAt: aliveAt(life.now).wall } });
    expect(readdirSync(backups)).toEqual([order().name]);
  });

  test('[R8] what an earlier attempt left behind is cleared, and never taken for a backup', async () => {
    writeFileSync(join(backups, 'floor-20260310T110000Z-salon-1200-r2.db.part'), 'half');
    await reader.ask('back-up', order());
    expect(readdirSync(backups)).toEqual([order().name]);
  });

  test('[R8] a copy of a damaged file does not pass, and is gone', async () => {
    spoil('bell');
    expect(await reader.ask('back-up', order())).toMatchObject({ verified: false });
    expect(readdirSync(backups)).toEqual([]);
  });

  test('[R8] a job that fails says why by its code, and the next one is done', async () => {
    const nowhere = { folder: join(folder, 'nowhere'), name: order().name };
    await expect(reader.ask('back-up', nowhere)).rejects.toMatchObject({ code: 'ENOENT' });
    expect(await reader.ask('quick-check', null)).toEqual([]);
  });

  test('[R8] takes no job once it is closed', async () => {
    await reader.ask('quick-check', null);
    await reader.close();
    await expect(reader.ask('quick-check', null)).rejects.toBeInstanceOf(ReaderFault);
  });
});
