import { accessSync, closeSync, constants, existsSync, mkdirSync, openSync, renameSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import SqliteDatabase, { type Database, type Options } from 'better-sqlite3';
import { markedDamage, syncFolder, tryToMark } from './damage.ts';
import { DataFileError } from './data-file-error.ts';
import { wrongAtSight } from './file-header.ts';
import { companions, dataFileName } from './file-names.ts';
import { holdFolder } from './hold-folder.ts';
import { migrate, stepsFor } from './migrations/migrate.ts';
import type { Migration } from './migrations/migration.ts';
import { migrations } from './migrations/migrations.ts';
import { finishRestore } from './pending-restore.ts';
import { sqliteCode, troubleOf } from './storage-trouble.ts';

export { dataFileName };

/** Before it, two connections that write and checkpoint at once can lose committed pages (sqlite.org/wal.html). */
const LEAST_SQLITE = [3, 51, 3] as const;

/** Nobody else writes, so waiting longer would only block the floor. Milliseconds. */
const BUSY_TIMEOUT = 200;

/** `PRAGMA synchronous` as a number: FULL syncs the log at each commit. */
const FULL = 2;

export interface FileOptions {
  /** Folder of the data; made if missing. */
  readonly folder: string;
  /** The wall clock, to say when a damage was found. */
  readonly wall?: () => number;
  /** For tests alone: sees each statement, gets the connection (to limit its pages, say), brings own migrations. */
  readonly testOnly?: {
    readonly statement?: (sql: string) => void;
    readonly connection?: (db: Database) => void;
    readonly migrations?: readonly Migration[];
  };
}

/**
 * The file open twice: to write, and to read alone. The reader stays open as long as the writer: SQLite copies the log of
 * writes into the file when its last connection closes, and a damaged file must be left as it was found.
 */
export interface OpenedFile {
  readonly file: string;
  readonly writer: Database;
  readonly reader: Database;
  /** Closes the writer, without a checkpoint; reading goes on. */
  closeWriter(): void;
  /** Closes both, the writer last and so with a checkpoint if it is still open, and lets go of the folder. */
  close(): void;
}

/** Opens `floor.db` for writing, in its latest shape and durable, or throws a DataFileError with a sentence. */
export function openFile({ folder, wall = Date.now, testOnly }: FileOptions): OpenedFile {
  prepareFolder(folder);
  const file = join(folder, dataFileName);
  const all = testOnly?.migrations ?? migrations;
  const connect = (options: Options): Database =>
    new SqliteDatabase(file, {
      timeout: BUSY_TIMEOUT,
      fileMustExist: true,
      ...watched(testOnly?.statement),
      ...options,
    });
  let release = (): void => undefined;
  const open: Database[] = [];
  try {
    release = holdFolder(folder);
    finishRestore(folder);
    refuseDamaged(folder, file);
    if (existsSync(file)) refuseReadOnly(file);
    else makeFile(file, all);
    // Read first: somebody else's file and a damaged one are left as they were found.
    const reader = connect({ readonly: true });
    open.push(reader);
    assertLibrary(reader.prepare('SELECT sqlite_version()').pluck().get() as string);
    const steps = stepsFor(reader, all);
    const writer = connect({});
    // Closed first when this fails, and so without a checkpoint.
    open.unshift(writer);
    makeDurable(writer);
    migrate(writer, steps);
    // Once it has read in WAL mode, the reader keeps its share of the file: the writer then never closes it last.
    reader.prepare('SELECT count(*) FROM sqlite_schema').get();
    testOnly?.connection?.(writer);
    return new TwoConnections(file, writer, reader, release);
  } catch (error) {
    for (const db of open) db.close();
    if (sqliteCode(error)?.startsWith('SQLITE_CORRUPT') === true) {
      tryToMark(folder, { foundAt: wall(), what: String(error), by: 'start' });
    }
    release();
    throw sentenceFor(error, file);
  }
}

class TwoConnections implements OpenedFile {
  readonly file: string;
  readonly writer: Database;
  readonly reader: Database;
  readonly #release: () => void;

  constructor(file: string, writer: Database, reader: Database, release: () => void) {
    this.file = file;
    this.writer = writer;
    this.reader = reader;
    this.#release = release;
  }

  closeWriter(): void {
    this.writer.close();
  }

  close(): void {
    this.reader.close();
    this.writer.close();
    this.#release();
  }
}

function watched(statement: ((sql: string) => void) | undefined): { verbose?: (sql: unknown) => void } {
  return statement === undefined ? {} : { verbose: (sql) => statement(String(sql)) };
}

function prepareFolder(folder: string): void {
  try {
    mkdirSync(folder, { recursive: true });
    accessSync(folder, constants.W_OK | constants.X_OK);
  } catch (error) {
    throw new DataFileError('folder', `The data folder ${folder} cannot be written to. Choose another one.`, error);
  }
}

/** What an earlier run found, or what is seen at once. */
function refuseDamaged(folder: string, file: string): void {
  const damage = markedDamage(folder);
  const what = damage?.what ?? wrongAtSight(file);
  if (what === null) return;
  const since = damage === null || damage.foundAt === 0 ? '' : ` at ${new Date(damage.foundAt).toISOString()}`;
  const found = damage === null ? '' : `, as was found${since}`;
  throw new DataFileError('damaged', `${file} is damaged or not a data file${found} (${what}). It was left as it is.`);
}

/** SQLite would open it to read alone, without a word. */
function refuseReadOnly(file: string): void {
  try {
    closeSync(openSync(file, 'r+'));
  } catch (error) {
    throw new DataFileError('folder', `${file} cannot be written to (${String(error)}).`, error);
  }
}

/** In its whole shape under another name, then renamed: an empty `floor.db` is never one that we had begun. */
function makeFile(file: string, steps: readonly Migration[]): void {
  const beside = `${file}.new`;
  for (const name of [beside, ...companions.map((end) => beside + end)]) rmSync(name, { force: true });
  const db = new SqliteDatabase(beside);
  try {
    makeDurable(db);
    migrate(db, steps);
  } finally {
    db.close();
  }
  renameSync(beside, file);
  syncFolder(dirname(file));
}

/** A version below the one in which the write-ahead log is safe is refused. */
export function assertLibrary(version: string): void {
  const parts = version.split('.').map(Number);
  const at = LEAST_SQLITE.findIndex((least, i) => (parts[i] ?? 0) !== least);
  if (at === -1 || (parts[at] ?? 0) > (LEAST_SQLITE[at] ?? 0)) return;
  throw new DataFileError(
    'library',
    `SQLite ${version} is too old: ${LEAST_SQLITE.join('.')} is the least. Install anew.`,
  );
}

/**
 * Later opens of a WAL file come up as NORMAL in this build, and the setting is not stored in the file:
 * FULL is set and read back on every open. `secure_delete` overwrites erased words.
 */
function makeDurable(db: Database): void {
  const mode = db.pragma('journal_mode = WAL', { simple: true });
  db.pragma('synchronous = FULL');
  db.pragma('foreign_keys = ON');
  db.pragma('secure_delete = ON');
  const level = db.pragma('synchronous', { simple: true });
  if (mode !== 'wal' || level !== FULL) {
    throw new DataFileError(
      'folder',
      `${db.name} cannot be kept safe here (journal ${String(mode)}, synchronous ${String(level)}).`,
    );
  }
}

function sentenceFor(error: unknown, file: string): unknown {
  const trouble = troubleOf(error);
  switch (trouble) {
    case 'corrupt':
      return damagedFile(file, error);
    case 'busy':
      return new DataFileError('in-use', `${file} is in use by another program. Stop that one first.`, error);
    case 'readonly':
    case 'failing':
    case 'full':
      return new DataFileError('folder', `${file} cannot be written to (${String(error)}).`, error);
    case null:
      return error;
    default:
      return trouble satisfies never;
  }
}

export function damagedFile(file: string, cause: unknown): DataFileError {
  const what = cause instanceof Error ? cause.message : String(cause);
  return new DataFileError('damaged', `${file} is damaged or not a data file (${what}). It was left as it is.`, cause);
}
