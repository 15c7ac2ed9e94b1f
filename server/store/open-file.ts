import { accessSync, constants, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import SqliteDatabase, { type Database } from 'better-sqlite3';
import { DataFileError } from './data-file-error.ts';
import { holdFolder } from './hold-folder.ts';
import { migrate, stepsFor } from './migrations/migrate.ts';
import type { Migration } from './migrations/migration.ts';
import { migrations } from './migrations/migrations.ts';
import { troubleOf } from './storage-trouble.ts';

export const dataFileName = 'floor.db';

/** Before it, two connections that write and checkpoint at once can lose committed pages (sqlite.org/wal.html). */
const LEAST_SQLITE = [3, 51, 3] as const;

/** Nobody else writes, so waiting longer would only block the floor. Milliseconds. */
const BUSY_TIMEOUT = 200;

/** `PRAGMA synchronous` as a number: FULL syncs the log at each commit. */
const FULL = 2;

export interface FileOptions {
  /** Folder of the data; made if missing. */
  readonly folder: string;
  /** For tests alone: sees each statement, gets the connection (to limit its pages, say), brings own migrations. */
  readonly testOnly?: {
    readonly statement?: (sql: string) => void;
    readonly connection?: (db: Database) => void;
    readonly migrations?: readonly Migration[];
  };
}

export interface OpenedFile {
  readonly db: Database;
  /** Closes it and lets go of the folder. */
  close(): void;
}

/** Opens `floor.db` for writing, in its latest shape and durable, or throws a DataFileError with a sentence. */
export function openFile({ folder, testOnly }: FileOptions): OpenedFile {
  prepareFolder(folder);
  const file = join(folder, dataFileName);
  const ends: (() => void)[] = [];
  const close = (): void => {
    for (const end of ends.splice(0)) end();
  };
  try {
    ends.unshift(holdFolder(folder));
    const db = new SqliteDatabase(file, { timeout: BUSY_TIMEOUT, ...watched(testOnly?.statement) });
    ends.unshift(() => db.close());
    assertLibrary(db.prepare('SELECT sqlite_version()').pluck().get() as string);
    // Before the first write: somebody else's file is left as it was found.
    const steps = stepsFor(db, testOnly?.migrations ?? migrations);
    makeDurable(db);
    migrate(db, steps);
    testOnly?.connection?.(db);
    return { db, close };
  } catch (error) {
    close();
    throw sentenceFor(error, file);
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
      return new DataFileError(
        'damaged',
        `${file} is damaged or not a data file. Restore a backup, or move it away.`,
        error,
      );
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
