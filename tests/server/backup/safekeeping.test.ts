import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { backupHint, backupPlace, Safekeeping } from '../../../server/backup/safekeeping.ts';
import { Engine, type EngineLog } from '../../../server/engine/engine.ts';
import { noBackups } from '../../../server/engine/storage-facts.ts';
import { markedDamage } from '../../../server/store/damage.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import { storedSalon } from '../../support/stored-life.ts';
import { Hand, HeldTimers } from '../engine/kit.ts';

let data: string;
beforeEach(() => (data = mkdtempSync(join(tmpdir(), 'floor-'))));
afterEach(() => rmSync(data, { recursive: true, force: true }));

describe('looking after the file beside the floor', () => {
  const hand = new Hand();
  let store: SqliteStore;
  let keeping: Safekeeping | null = null;
  let engine: Engine;
  let told: string[];
  const begin = (): void => {
    const timers = new HeldTimers();
    told = [];
    keeping = null;
    const log: EngineLog = {
      error: (_, text) => told.push(text),
      warn: (_, text) => told.push(text),
      info: () => undefined,
    };
    store = new SqliteStore({ folder: data, wall: () => hand.at.wall });
    let ids = 0;
    const backups = () => keeping?.state ?? noBackups;
    engine = new Engine({ store, clock: hand, timers, log, freshId: () => `name-${(ids += 1)}`, backups });
    keeping = new Safekeeping({ engine, store, timers, log, data, backups: backupPlace(data, null, '/') });
  };
  beforeEach(() => {
    const first = new SqliteStore({ folder: data });
    storedSalon(first);
    first.close();
  });
  afterEach(async () => {
    await keeping?.end();
    store.close();
  });

  it('[R8] a sound file is checked without a word', async () => {
    begin();
    await keeping?.check();
    expect(told).toEqual([]);
    expect(engine.heartbeat().storage).toMatchObject({ trouble: null, damageFoundAt: null, backupTrouble: 'none-yet' });
    expect(keeping?.told).toEqual({
      folder: join(data, 'backups'),
      sameDisk: true,
      kept: 0,
      flags: `--data ${data} --backups ${join(data, 'backups')}`,
    });
  });

  it('[R8] damage that the start did not see ends all writing, is told to the screens and marked', async () => {
    const file = join(data, 'floor.db');
    const db = new SqliteDatabase(file);
    const size = db.pragma('page_size', { simple: true }) as number;
    const page = db.prepare<[], number>("SELECT rootpage FROM sqlite_schema WHERE name = 'rinse'").pluck().get() ?? 0;
    db.close();
    writeFileSync(file, readFileSync(file).fill(0x5a, (page - 1) * size, (page - 1) * size + 200));
    begin();
    expect(engine.heartbeat().storage.damageFoundAt).toBeNull();
    await keeping?.check();
    expect(engine.heartbeat().storage).toMatchObject({ trouble: 'corrupt', damageFoundAt: hand.at.wall });
    expect(markedDamage(data)).toMatchObject({ by: 'check' });
    expect(told[0]).toContain('nothing more is written');
  });
});

describe('where backups go', () => {
  it('[R8] within the data unless a place is named, relative to where the server lies', () => {
    expect(backupPlace('/d', null, '/root')).toEqual({ folder: '/d/backups', own: true });
    expect(backupPlace('/d', 'b', '/root')).toEqual({ folder: '/root/b', own: false });
    expect(backupPlace('/d', '/mnt/stick', '/root')).toEqual({ folder: '/mnt/stick', own: false });
  });

  it('[R8] says that one disk is no backup, and that a named place is missing', () => {
    expect(backupHint(backupPlace(data, null, '/'), data).join()).toContain('Another disk is safer');
    const named = backupPlace(data, join(data, 'stick'), '/');
    expect(backupHint(named, data).join()).toContain('is missing');
    mkdirSync(named.folder);
    expect(backupHint(named, data).join()).toContain('Another disk is safer');
  });
});
