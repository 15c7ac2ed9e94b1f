import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { backUp } from '../../../server/backup/back-up.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import { aliveAt, storedSalon, turn } from '../../support/stored-life.ts';

describe('a backup of a file that is written all the while', () => {
  let folder: string;
  let store: SqliteStore;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'floor-'));
    mkdirSync(join(folder, 'backups'));
    store = new SqliteStore({ folder });
  });
  afterEach(() => {
    store.close();
    rmSync(folder, { recursive: true, force: true });
  });

  test('[R8] does not begin anew with every write, and holds the state at which it began', async () => {
    const life = storedSalon(store);
    let visit = '';
    turn(life, [store], () => (visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null })));
    const words = Array.from({ length: 4_000 }, (_, i) => ({ key: `visit/${visit}/${i}`, text: 'long '.repeat(800) }));
    store.write([{ events: [], words, kept: null, floor: life.floor }], aliveAt(life.now));

    const db = new SqliteDatabase(join(folder, 'floor.db'), { readonly: true });
    let running = true;
    let writes = 0;
    const write = (): void => {
      if (!running) return;
      writes += 1;
      store.keepAlive(aliveAt(life.now + writes));
      setImmediate(write);
    };
    const order = { folder: join(folder, 'backups'), name: 'floor-20260310T120000Z-salon-1300-r4.db' };
    const made = backUp(db, order);
    setImmediate(write);
    const { verified, ...rest } = await made;
    running = false;
    db.close();
    expect(verified).toBe(true);
    expect(writes).toBeGreaterThan(3);
    expect(rest).toMatchObject({ contents: { aliveAt: life.now, openVisits: 1 } });
  });
});
