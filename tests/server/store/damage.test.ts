import { createHash } from 'node:crypto';
import {
  chmodSync,
  copyFileSync,
  existsSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { markedDamage } from '../../../server/store/damage.ts';
import { DataFileError } from '../../../server/store/data-file-error.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import { StorageError } from '../../../server/store/store.ts';
import { losesTurns } from '../../../server/store/write-ahead.ts';
import type { FloorLife } from '../../support/floor-life.ts';
import { aliveAt, storedSalon, turn } from '../../support/stored-life.ts';

const FOUND_AT = Date.UTC(2026, 2, 10, 14);
let folder: string;
let opened: SqliteStore[] = [];
const file = (end = '') => join(folder, `floor.db${end}`);
const open = () => {
  const store = new SqliteStore({ folder, wall: () => FOUND_AT });
  opened.push(store);
  return store;
};
const refusal = (): DataFileError => {
  try {
    open().open();
  } catch (error) {
    if (error instanceof DataFileError) return error;
    throw error;
  } finally {
    for (const store of opened.splice(0)) store.close();
  }
  throw new Error('it was opened');
};
const trouble = (act: () => unknown): string | null => {
  try {
    act();
  } catch (error) {
    return error instanceof StorageError ? error.trouble : String(error);
  }
  return null;
};
/** What lies in the folder, but for the lock, markers and what SQLite keeps in memory; empty files say nothing. */
const bytes = () =>
  Object.fromEntries(
    readdirSync(folder)
      .filter((name) => /^floor\.db(-wal)?$/.test(name) && statSync(join(folder, name)).size > 0)
      .map((name) => [
        name,
        createHash('sha256')
          .update(readFileSync(join(folder, name)))
          .digest('hex'),
      ]),
  );

/** Where the pages of a table begin. */
function pagesOf(table: string): { readonly page: number; readonly size: number } {
  const db = new SqliteDatabase(file(), { readonly: true });
  try {
    const size = db.pragma('page_size', { simple: true }) as number;
    const page = db.prepare<[string], number>('SELECT rootpage FROM sqlite_schema WHERE name = ?').pluck().get(table);
    return { page: page ?? 0, size };
  } finally {
    db.close();
  }
}

function flip(name: string, at: number, count = 64): void {
  const data = readFileSync(name);
  for (let i = at; i < at + count; i += 1) data[i] = (data[i] ?? 0) ^ 0xff;
  writeFileSync(name, data);
}

const spoil = (table: string) => {
  const { page, size } = pagesOf(table);
  flip(file(), (page - 1) * size);
};

/** A salon with a head in process, closed in good order. */
function salon(more: (life: FloorLife, store: SqliteStore) => void = () => undefined): FloorLife {
  const store = open();
  const life = storedSalon(store);
  turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
  more(life, store);
  store.close();
  return life;
}

/** What a killed server leaves: the same salon, with its last turns in the log of writes alone. */
function killed(): void {
  const other = mkdtempSync(join(tmpdir(), 'floor-'));
  salon((life, store) => {
    store.close();
    const again = open();
    for (let i = 0; i < 5; i += 1)
      turn(life, [again], () => life.pass(1).do({ type: 'SetWall', wall: { diagonalIn: 40 + i, distanceM: 5 } }));
    for (const end of ['', '-wal']) copyFileSync(file(end), join(other, `floor.db${end}`));
    again.close();
  });
  rmSync(folder, { recursive: true });
  folder = other;
}

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'floor-'));
  opened = [];
});
afterEach(() => {
  for (const store of opened) store.close();
  rmSync(folder, { recursive: true, force: true });
});

describe('a file that is found damaged while it is in use', () => {
  test('[R8] is written no more, not even at the end, and is marked so that no later start takes it', () => {
    const life = salon();
    spoil('answer');
    const store = open();
    expect(store.open().floor).toEqual(life.floor);
    const next = () =>
      turn(life, [store], () => life.pass(1).do({ type: 'SetWall', wall: { diagonalIn: 50, distanceM: 5 } }));
    next();
    expect(store.damage).toBeNull();
    const was = bytes();
    expect(trouble(() => store.answerOf('command-none'))).toBe('corrupt');
    expect(store.damage).toMatchObject({ foundAt: FOUND_AT, by: 'work' });
    expect(trouble(next)).toBe('corrupt');
    expect(trouble(() => store.keepAlive(aliveAt(life.now)))).toBe('corrupt');
    expect(store.open().floor.places).toEqual(life.floor.places);
    store.close();
    expect(bytes()).toEqual(was);
    expect(markedDamage(folder)).toEqual(store.damage);

    const again = refusal();
    expect(again.fault).toBe('damaged');
    expect(again.message).toContain(`${file()} is damaged`);
    expect(again.message).toContain('2026-03-10T14:00');
    expect(bytes()).toEqual(was);
  });

  test('[R8] is written no more even if it had just been put in place by a restore', () => {
    const life = salon();
    const db = new SqliteDatabase(file());
    db.pragma('journal_mode = DELETE');
    db.close();
    const store = open();
    turn(life, [store], () => life.pass(1).do({ type: 'SetWall', wall: { diagonalIn: 50, distanceM: 5 } }));
    const was = bytes();
    expect(Object.keys(was)).toContain('floor.db-wal');
    store.declareDamaged('planted', 'check');
    store.close();
    expect(bytes()).toEqual(was);
  });

  test('[R8] fails closed as well when somebody else saw it', () => {
    const life = salon();
    const store = open();
    store.declareDamaged('row 7 missing from index', 'check');
    store.declareDamaged('later findings change nothing', 'work');
    expect(store.damage).toEqual({ foundAt: FOUND_AT, what: 'row 7 missing from index', by: 'check' });
    expect(trouble(() => store.keepAlive(aliveAt(life.now)))).toBe('corrupt');
    expect(store.wordsOf('place/1/')).toEqual({ 'place/1/label': '1' });
  });
});

describe('a damaged file at a start: said, marked by its place or a marker, and left as it was', () => {
  const damages: readonly [string, () => void, RegExp][] = [
    ['its first bytes flipped', () => flip(file(), 0), /does not begin/],
    ['truncated to a half', () => truncateSync(file(), Math.floor(readFileSync(file()).length / 2)), /ends after/],
    ['truncated within a page', () => truncateSync(file(), readFileSync(file()).length - 100), /ends after/],
    ['emptied', () => truncateSync(file(), 0), /empty/],
    ['the table of its tables flipped', () => flip(file(), 100, 400), /malformed|not a database/],
    ['a page of the log flipped', () => spoil('event'), /malformed/],
    ['a page of what is computed flipped', () => spoil('visit'), /malformed/],
  ];
  test.each(damages)('[R8] %s', (_how, harm, message) => {
    salon();
    harm();
    const was = bytes();
    for (let start = 0; start < 2; start += 1) {
      const error = refusal();
      expect(error.fault).toBe('damaged');
      expect(error.message).toMatch(message);
      expect(error.message).toContain('It was left as it is.');
    }
    expect(bytes()).toEqual(was);
  });

  test('[R8] emptied or gone, with turns in its log of writes: these are kept', () => {
    killed();
    const wal = readFileSync(file('-wal'));
    truncateSync(file(), 0);
    expect(refusal().message).toMatch(/empty/);
    rmSync(file());
    expect(refusal().message).toMatch(/gone/);
    expect(readFileSync(file('-wal'))).toEqual(wal);
  });

  test('[R8] after a kill the log of writes is read to its end', () => {
    killed();
    expect(losesTurns(file('-wal'))).toBe(false);
    expect(open().open().floor.salon.wall.diagonalIn).toBe(44);
  });

  test('[R8] turns that lie behind a flipped byte in the log of writes are not dropped without a word', () => {
    killed();
    flip(file('-wal'), 32 + 24 + 200, 1);
    const was = bytes();
    expect(refusal().message).toMatch(/log of writes/);
    expect(bytes()).toEqual(was);
  });

  test('[R8] a last turn torn by a power cut is no damage', () => {
    killed();
    const whole = readFileSync(file('-wal')).length;
    truncateSync(file('-wal'), whole - 500);
    expect(losesTurns(file('-wal'))).toBe(false);
    expect(open().open().floor.salon.wall.diagonalIn).toBe(43);
  });

  test('[R8] a marker that is not understood marks all the same', () => {
    salon();
    writeFileSync(file('.damaged.json'), 'half a mark');
    expect(refusal().fault).toBe('damaged');
  });

  test('[R8] a first start that was killed leaves nothing in the way of the next', () => {
    for (const end of ['.new', '.new-wal', '.new-shm']) writeFileSync(file(end), 'half of what was begun');
    expect(open().open().seq).toBe(0);
    expect(existsSync(file('.new'))).toBe(false);
  });
});

test('[R8] a read-only file is refused before anybody relies on it', () => {
  salon();
  // Root may write anywhere, so it steps down for this.
  const root = process.getuid?.() === 0;
  rmSync(file('.lock'), { force: true });
  chmodSync(folder, 0o777);
  chmodSync(file(), 0o444);
  if (root) process.seteuid?.(65_534);
  try {
    const error = refusal();
    expect(error.fault).toBe('folder');
    expect(error.message).toContain('cannot be written to');
  } finally {
    if (root) process.seteuid?.(0);
  }
});
