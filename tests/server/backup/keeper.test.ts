import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { BackupMade, BackupOrder } from '../../../server/backup/back-up.ts';
import { backupDue } from '../../../server/backup/when-due.ts';
import { BackupKeeper } from '../../../server/backup/keeper.ts';
import { noteErasures, erasuresOf } from '../../../server/store/erasures.ts';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const NOON = Date.UTC(2026, 2, 10, 12);

describe('when a backup is due', () => {
  const usual = {
    now: NOON,
    revision: 8,
    openVisits: true,
    changedAt: NOON,
    last: { at: NOON - 30 * MINUTE, revision: 7 },
    failedAt: null,
  };
  it.each([
    ['nothing was ever stored', { revision: 0, last: null }, null],
    ['there is none yet', { last: null }, 'first'],
    ['the last one is half an hour old', {}, null],
    ['the last one is an hour old', { last: { at: NOON - HOUR, revision: 7 } }, 'hourly'],
    ['nothing changed since the last one', { last: { at: NOON - 5 * HOUR, revision: 8 } }, null],
    ['the salon is quiet', { openVisits: false, changedAt: NOON - 20 * MINUTE }, 'quiet'],
    ['the salon has just become quiet', { openVisits: false, changedAt: NOON - 19 * MINUTE }, null],
    ['a visit is open', { changedAt: NOON - 50 * MINUTE }, null],
    ['the last attempt failed just now', { last: null, failedAt: NOON - MINUTE }, null],
    ['the last attempt failed five minutes ago', { last: null, failedAt: NOON - 5 * MINUTE }, 'first'],
    ['the clock went back a day', { last: { at: NOON + 24 * HOUR, revision: 7 } }, 'hourly'],
  ] as const)('[R8] %s', (_when, how, due) => {
    expect(backupDue({ ...usual, ...how })).toBe(due);
  });
});

describe('who keeps the backups', () => {
  let data: string;
  let folder: string;
  let floor: { now: number; revision: number; openVisits: boolean; zone: string; damaged: boolean };
  let take: (order: BackupOrder) => Promise<BackupMade>;
  let said: string[];
  beforeEach(() => {
    data = mkdtempSync(join(tmpdir(), 'floor-'));
    folder = join(data, 'backups');
    floor = { now: NOON, revision: 4, openVisits: true, zone: 'Europe/Berlin', damaged: false };
    said = [];
    take = async ({ folder: where, name }) => {
      writeFileSync(join(where, name), 'a copy');
      const contents = { shape: 1, events: floor.revision, visits: 0, openVisits: 0, aliveAt: floor.now };
      return { verified: true, bytes: 6, contents };
    };
  });
  afterEach(() => rmSync(data, { recursive: true, force: true }));

  const keeper = (ownFolder = true) =>
    new BackupKeeper({
      data,
      folder,
      ownFolder,
      floor: () => floor,
      take: (order) => take(order),
      dateOf: (at) => new Date(at).toISOString().slice(0, 10),
      timers: { soon: () => undefined, after: () => () => undefined, every: () => () => undefined },
      log: { error: () => undefined, warn: (_, text) => said.push(text), info: (_, text) => said.push(text) },
    });
  const fails = (code: string) => async (): Promise<BackupMade> => {
    throw Object.assign(new Error('planted'), { code });
  };

  it('[R8] makes the first at once, then one an hour while something changes', async () => {
    const one = keeper();
    expect(one.state).toEqual({ madeAt: null, trouble: 'none-yet' });
    await one.look();
    expect(one.state).toEqual({ madeAt: NOON, trouble: null });
    floor = { ...floor, now: NOON + 90 * MINUTE };
    await one.look();
    expect(readdirSync(folder)).toHaveLength(1);
    floor = { ...floor, revision: 5 };
    await one.look();
    expect(readdirSync(folder)).toEqual([
      'floor-20260310T120000Z-salon-1300-r4.db',
      'floor-20260310T133000Z-salon-1430-r5.db',
    ]);
  });

  it('[R8] a later start knows the newest by its name', () => {
    mkdirSync(folder);
    writeFileSync(join(folder, 'floor-20260310T110000Z-salon-1200-r4.db'), '');
    expect(keeper().state).toEqual({ madeAt: NOON - HOUR, trouble: null });
  });

  it('[R8] deletes what is old only after a new one stands', async () => {
    mkdirSync(folder);
    const old = ['floor-20260101T080000Z-salon-0900-r1.db', 'floor-20260101T090000Z-salon-1000-r2.db', 'other.txt'];
    for (const name of old) writeFileSync(join(folder, name), '');
    take = fails('ENOSPC');
    const one = keeper();
    await one.look();
    expect(readdirSync(folder)).toHaveLength(3);
    expect(one.state.trouble).toBe('full');
  });

  it.each([
    ['ENOSPC', 'full'],
    ['SQLITE_FULL', 'full'],
    ['ENOENT', 'folder'],
    ['EROFS', 'folder'],
    ['SQLITE_CANTOPEN', 'folder'],
    ['SQLITE_IOERR_WRITE', 'failing'],
    ['none', 'failing'],
  ] as const)(
    '[R8] %s is told as %s, tried again after five minutes, and cleared by the next success',
    async (code, told) => {
      const works = take;
      const one = keeper();
      take = fails(code);
      await one.look();
      expect(one.state).toEqual({ madeAt: null, trouble: told });
      take = works;
      floor = { ...floor, now: NOON + 4 * MINUTE };
      await one.look();
      expect(one.state.trouble).toBe(told);
      floor = { ...floor, now: NOON + 5 * MINUTE };
      await one.look();
      expect(one.state).toEqual({ madeAt: NOON + 5 * MINUTE, trouble: null });
      expect(said).toEqual(['no backup could be made', 'backups are made again']);
    },
  );

  it('[R8] a named folder that vanished is not made anew on the wrong disk', async () => {
    const one = keeper(false);
    await one.look();
    expect(one.state.trouble).toBe('folder');
    expect(existsSync(folder)).toBe(false);
  });

  it('[R8] a copy that does not pass its check is told, and the one before still counts', async () => {
    const one = keeper();
    await one.look();
    take = async () => ({ verified: false, what: 'planted' });
    floor = { ...floor, now: NOON + HOUR, revision: 9 };
    await one.look();
    expect(one.state).toEqual({ madeAt: NOON, trouble: 'unverified' });
  });

  it('[R8] a damaged file is not backed up', async () => {
    floor = { ...floor, damaged: true };
    await keeper().look();
    expect(existsSync(folder)).toBe(false);
  });

  it('[X5] erasures lie beside the backups within a look', async () => {
    const one = keeper();
    await one.look();
    noteErasures(data, [{ prefix: 'visit/visit-0001/', at: NOON }]);
    await one.look();
    expect(erasuresOf(folder)).toEqual([{ prefix: 'visit/visit-0001/', at: NOON }]);
    expect(readFileSync(join(folder, 'erasures.jsonl'), 'utf8')).not.toContain('label');
  });
});
