import { chmodSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import SqliteDatabase, { type Database } from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { DataFileError } from '../../../server/store/data-file-error.ts';
import { applicationId } from '../../../server/store/migrations/migrate.ts';
import type { Migration } from '../../../server/store/migrations/migration.ts';
import { migrations } from '../../../server/store/migrations/migrations.ts';
import { assertLibrary } from '../../../server/store/open-file.ts';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import { troubleOf } from '../../../server/store/storage-trouble.ts';
import { StorageError } from '../../../server/store/store.ts';
import { toFirstShape } from '../../support/first-shape.ts';
import type { FloorLife } from '../../support/floor-life.ts';
import { dataFolder } from '../../support/store-kinds.ts';
import { aliveAt, batchOf, storedSalon, turn } from '../../support/stored-life.ts';

/** The shape after the latest. */
const next = migrations.length + 1;
let data: ReturnType<typeof dataFolder>;
let raw: Database | null = null;
const file = () => join(data.folder, 'floor.db');
/** The store's own connection, to look at and to limit. */
const connection = (): Database => {
  if (raw === null) throw new Error('no store is open');
  return raw;
};
const open = (more: { statement?: (sql: string) => void; migrations?: readonly Migration[] } = {}) =>
  data.open({ connection: (db) => (raw = db), ...more });
/** The file as another program sees it. */
const outside = <T>(look: (db: Database) => T): T => {
  const db = new SqliteDatabase(file());
  try {
    return look(db);
  } finally {
    db.close();
  }
};
const fault = (act: () => unknown): DataFileError => {
  try {
    act();
  } catch (error) {
    if (error instanceof DataFileError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
};

beforeEach(() => {
  data = dataFolder();
  raw = null;
});
afterEach(() => data.end());

describe('every open', () => {
  const durable = () => ({
    synchronous: connection().pragma('synchronous', { simple: true }),
    journal: connection().pragma('journal_mode', { simple: true }),
    foreignKeys: connection().pragma('foreign_keys', { simple: true }),
    busy: connection().pragma('busy_timeout', { simple: true }),
  });

  test('syncs the log at each commit, the first as well as later ones', () => {
    open().close();
    for (let i = 0; i < 3; i += 1) {
      const store = open();
      expect(durable()).toEqual({ synchronous: 2, journal: 'wal', foreignKeys: 1, busy: 200 });
      store.close();
    }
  });

  test('finds the file marked as ours and in the latest shape', () => {
    open().close();
    outside((db) => {
      expect(db.pragma('application_id', { simple: true })).toBe(applicationId);
      expect(db.pragma('user_version', { simple: true })).toBe(migrations.length);
      const loose = db.prepare(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND strict = 0 AND name NOT LIKE 'sqlite_%'",
      );
      expect(loose.all()).toEqual([]);
    });
  });

  test.each(['3.51.2', '3.50.9', '2.99.99', ''])('refuses SQLite %s', (version) => {
    expect(fault(() => assertLibrary(version)).fault).toBe('library');
  });

  test.each(['3.51.3', '3.51.10', '3.52.0', '4.0.0'])('takes SQLite %s', (version) => {
    expect(() => assertLibrary(version)).not.toThrow();
  });
});

describe('the log', () => {
  test.each([
    ['edited', "UPDATE event SET body = '{}' WHERE seq = 1", /never edited/],
    ['deleted', 'DELETE FROM event WHERE seq = 1', /never deleted/],
    [
      'replaced',
      "REPLACE INTO event SELECT seq, stream, version, type, at, recorded_at, by_person, device, command, '{}' FROM event WHERE seq = 1",
      /next place/,
    ],
    [
      'put in out of order',
      "INSERT INTO event VALUES (99, 'salon', 1, 'PlaceAdded', 0, 0, NULL, NULL, NULL, '{}')",
      /next place/,
    ],
  ])('is not %s, by whatever program', (_how, sql, message) => {
    storedSalon(open());
    const was = outside((db) => db.prepare('SELECT * FROM event').all());
    expect(() => outside((db) => db.exec(sql))).toThrow(message);
    expect(outside((db) => db.prepare('SELECT * FROM event').all())).toEqual(was);
  });

  test('takes only JSON', () => {
    const life = storedSalon(open());
    const place = `${life.log.length + 1}, 'visit/visit-new', 1, 'LabelWritten', 0, 0, NULL, NULL, NULL`;
    expect(() => outside((db) => db.exec(`INSERT INTO event VALUES (${place}, '{"a":')`))).toThrow(/CHECK/);
  });

  test('an erased word is not left in the file', () => {
    const store = open();
    const life = storedSalon(store);
    let visit = '';
    const label = 'Wordthatmustgo';
    turn(life, [store], () => (visit = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label })));
    connection().pragma('wal_checkpoint(TRUNCATE)');
    expect(readFileSync(file(), 'latin1')).toContain(label);
    turn(life, [store], () => life.do({ type: 'WriteLabel', visit, label: null }));
    connection().pragma('wal_checkpoint(TRUNCATE)');
    expect(readFileSync(file(), 'latin1')).not.toContain(label);
  });
});

describe('a start', () => {
  /** A finished client long ago, one still in the chair. */
  function history(store: SqliteStore): { life: FloorLife; old: string; now: string } {
    const life = storedSalon(store);
    let old = '';
    let now = '';
    turn(
      life,
      [store],
      () => (old = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: 'Old' })),
    );
    turn(life, [store], () => life.do({ type: 'Discard', visit: old }));
    turn(life, [store], () => life.pass(120));
    turn(
      life,
      [store],
      () => (now = life.do({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: 'New' })),
    );
    return { life, old, now };
  }

  test('reads no event of a visit that is over', () => {
    const store = open();
    const { life, old, now } = history(store);
    const seq = life.log.length + 1;
    // An event that cannot be folded: a start that touched this visit would stop at it.
    const version = life.facts(old).version + 1;
    outside((db) =>
      db.exec(
        `INSERT INTO event VALUES (${seq}, 'visit/${old}', ${version}, 'NeverHeardOf', 0, 0, NULL, NULL, NULL, '{}')`,
      ),
    );
    const opened = store.open();
    expect(Object.keys(opened.floor.visits)).toEqual([now]);
    expect(opened.seq).toBe(seq);
    expect(Object.keys(opened.floor.words).filter((key) => key.startsWith('visit/'))).toEqual([`visit/${now}/label`]);
    expect(() => store.eventsOf(old)).toThrow(/unknown kind: NeverHeardOf/);
  });

  test('goes through no table but by an index', () => {
    const statements: string[] = [];
    const store = open({ statement: (sql) => statements.push(sql) });
    history(store);
    statements.length = 0;
    store.open();
    const reads = statements.filter((sql) => sql.startsWith('SELECT') || sql.trimStart().startsWith('SELECT'));
    expect(reads.length).toBeGreaterThan(4);
    const plans = reads.flatMap((sql) =>
      outside((db) =>
        db
          .prepare<[], { detail: string }>(`EXPLAIN QUERY PLAN ${sql}`)
          .all()
          .map(({ detail }) => detail),
      ),
    );
    const whole = plans.filter((detail) => /^SCAN (event|visit|word|answer|span|rinse|bell)\b/.test(detail));
    // That index holds open visits alone.
    expect(
      whole.filter(
        (detail) =>
          !detail.includes('USING INDEX visit_running') && !detail.includes('USING COVERING INDEX visit_running'),
      ),
    ).toEqual([]);
    expect(plans.join('\n')).toMatch(/SEARCH event USING INDEX/);
  });
});

describe('files that cannot be used', () => {
  test('a newer version wrote it: said, and left as it was', () => {
    open().close();
    outside((db) => db.pragma(`user_version = ${migrations.length + 1}`));
    const was = readFileSync(file());
    const error = fault(open);
    expect(error.fault).toBe('newer');
    expect(error.message).toMatch(/newer version/);
    expect(readFileSync(file())).toEqual(was);
  });

  test("somebody else's database: said, and left as it was", () => {
    outside((db) => db.exec('CREATE TABLE theirs (x)'));
    const was = readFileSync(file());
    expect(fault(open).fault).toBe('not-ours');
    expect(readFileSync(file())).toEqual(was);
  });

  test('no database at all, or a damaged one', () => {
    writeFileSync(file(), 'a shopping list, long enough to be read as a header of a file '.repeat(40));
    const error = fault(open);
    expect(error.fault).toBe('damaged');
    expect(error.message).toContain(file());
  });

  test('the folder is a file', () => {
    const path = join(data.folder, 'plain');
    writeFileSync(path, '');
    expect(fault(() => new SqliteStore({ folder: path })).fault).toBe('folder');
    expect(fault(() => new SqliteStore({ folder: join(path, 'below') })).fault).toBe('folder');
  });

  test('the folder may not be written to', () => {
    chmodSync(data.folder, 0o555);
    // Root may write anywhere, so it steps down for this.
    const root = process.getuid?.() === 0;
    if (root) process.seteuid?.(65_534);
    try {
      const error = fault(open);
      expect(error.fault).toBe('folder');
      expect(error.message).toContain(data.folder);
    } finally {
      if (root) process.seteuid?.(0);
      chmodSync(data.folder, 0o755);
    }
  });

  test('a server that runs already holds the folder; once it ends, the next one has it', () => {
    const first = open();
    const life = storedSalon(first);
    const error = fault(() => new SqliteStore({ folder: data.folder }));
    expect(error.fault).toBe('in-use');
    expect(error.message).toContain(data.folder);
    first.close();
    expect(open().open().floor).toEqual(life.floor);
  });

  test('a refused file does not keep the folder held', () => {
    outside((db) => db.exec('CREATE TABLE theirs (x)'));
    expect(fault(open).fault).toBe('not-ours');
    outside((db) => db.exec('DROP TABLE theirs'));
    expect(open().open().seq).toBe(0);
  });

  test('another program holds the file', () => {
    open().close();
    const other = new SqliteDatabase(file());
    other.exec('BEGIN EXCLUSIVE');
    try {
      const error = fault(() =>
        open({ migrations: [...migrations, { version: next, sql: 'CREATE TABLE later (x)', rebuilds: false }] }),
      );
      expect(error.fault).toBe('in-use');
    } finally {
      other.close();
    }
  });
});

describe('migrations', () => {
  const later: Migration = { version: next, sql: 'CREATE TABLE later (x INTEGER) STRICT', rebuilds: true };

  test('count from 1 without a hole', () => {
    expect(migrations.map(({ version }) => version)).toEqual(migrations.map((_, i) => i + 1));
  });

  test('bring an older file forward, with its data, and compute what they say anew', () => {
    const store = open();
    const life = storedSalon(store);
    turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
    turn(life, [store], () => life.pass(12));
    const was = { opened: store.open(), projected: store.projected() };
    store.close();
    outside((db) => db.exec('DELETE FROM span; DELETE FROM bell'));
    const again = open({ migrations: [...migrations, later] });
    expect({ opened: again.open(), projected: again.projected() }).toEqual(was);
    expect(connection().pragma('user_version', { simple: true })).toBe(next);
    again.close();
    expect(fault(open).fault).toBe('newer');
  });

  test('a file of the first shape keeps its data and gains the tables of reach and how far bells were carried', () => {
    const store = open();
    const life = storedSalon(store);
    turn(life, [store], () => life.do({ type: 'BeginShift', person: 'person-joss' }));
    turn(life, [store], () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
    turn(life, [store], () => life.at(29));
    const was = { opened: store.open(), projected: store.projected() };
    expect(was.projected.bells.map(({ circle }) => circle)).toContain(2);
    store.close();
    outside(toFirstShape);
    const again = open();
    expect({ opened: again.open(), projected: again.projected() }).toEqual(was);
    again.reach.keepSecret('a-name', 'a value');
    expect(again.reach.secret('a-name')).toBe('a value');
  });

  test('a step that fails leaves the shape before it', () => {
    const store = open();
    storedSalon(store);
    store.close();
    const broken: Migration = {
      version: next + 1,
      sql: 'CREATE TABLE half (x); CREATE TABLE half (x)',
      rebuilds: false,
    };
    expect(() => open({ migrations: [...migrations, later, broken] })).toThrow(/half/);
    outside((db) => {
      expect(db.pragma('user_version', { simple: true })).toBe(next);
      expect(db.prepare("SELECT count(*) FROM sqlite_schema WHERE name = 'half'").pluck().get()).toBe(0);
    });
  });
});

describe('trouble with the disk', () => {
  const trouble = (act: () => void): string | null => {
    try {
      act();
    } catch (error) {
      return error instanceof StorageError ? error.trouble : `not a StorageError: ${String(error)}`;
    }
    return null;
  };
  const pages = (most: number) => connection().pragma(`max_page_count = ${most}`);

  test('full: nothing of the turn is kept, nothing is corrupt, reading goes on, and it works again with space', () => {
    const store = open();
    const life = storedSalon(store);
    let visit = '';
    turn(life, [store], () => (visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null })));
    const before = { opened: store.open(), projected: store.projected() };
    pages(connection().pragma('page_count', { simple: true }) as number);

    const batches = Array.from({ length: 200 }, (_, i) =>
      batchOf(life, () => life.do({ type: 'WriteLabel', visit, label: `${i} ${'long '.repeat(20)}` }), {
        id: `command-${i}-of-many`,
        bodyHash: 'x'.repeat(64),
        answer: '{}',
      }),
    );
    for (let i = 0; i < 3; i += 1) expect(trouble(() => store.write(batches, aliveAt(life.now)))).toBe('full');
    expect({ opened: store.open(), projected: store.projected() }).toEqual(before);
    expect(store.answerOf('command-0-of-many')).toBeNull();
    expect(connection().pragma('integrity_check', { simple: true })).toBe('ok');

    pages(1_000_000);
    store.write(batches, aliveAt(life.now));
    store.close();
    const again = open();
    expect(again.open().floor).toEqual(life.floor);
    expect(again.answerOf('command-199-of-many')).not.toBeNull();
    expect(connection().pragma('integrity_check', { simple: true })).toBe('ok');
  });

  test('read-only: told as such, for a turn and for the sign of life', () => {
    const store = open();
    const life = storedSalon(store);
    const batch = batchOf(life, () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
    connection().pragma('query_only = ON');
    expect(trouble(() => store.write([batch], aliveAt(life.now)))).toBe('readonly');
    expect(trouble(() => store.keepAlive(aliveAt(life.now)))).toBe('readonly');
    connection().pragma('query_only = OFF');
    store.write([batch], aliveAt(life.now));
    expect(store.open().floor).toEqual(life.floor);
  });

  test('busy: another program writes', () => {
    const store = open();
    const life = storedSalon(store);
    const batch = batchOf(life, () => life.do({ type: 'BeginApplication', chair: 1, visit: null, service: null }));
    const other = new SqliteDatabase(file());
    other.exec('BEGIN IMMEDIATE');
    expect(trouble(() => store.write([batch], aliveAt(life.now)))).toBe('busy');
    other.close();
    store.write([batch], aliveAt(life.now));
  });

  test.each([
    ['SQLITE_FULL', 'full'],
    ['SQLITE_IOERR_WRITE', 'failing'],
    ['SQLITE_IOERR_FSYNC', 'failing'],
    ['SQLITE_CANTOPEN', 'failing'],
    ['SQLITE_READONLY_DBMOVED', 'readonly'],
    ['SQLITE_CORRUPT_INDEX', 'corrupt'],
    ['SQLITE_NOTADB', 'corrupt'],
    ['SQLITE_BUSY_SNAPSHOT', 'busy'],
    ['SQLITE_CONSTRAINT_CHECK', null],
    ['ENOSPC', null],
  ])('%s is %s', (code, told) => {
    expect(troubleOf(Object.assign(new Error('planted'), { code }))).toBe(told);
    expect(troubleOf({ code })).toBeNull();
  });
});
