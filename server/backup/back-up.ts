import { closeSync, fsyncSync, openSync, readdirSync, renameSync, rmSync, statSync } from 'node:fs';
import { join } from 'node:path';
import SqliteDatabase, { type Database } from 'better-sqlite3';
import { syncFolder } from '../store/damage.ts';
import { companions } from '../store/file-names.ts';
import { inspect, type Contents } from './inspect.ts';

export interface BackupOrder {
  /** An existing folder, best on another medium. */
  readonly folder: string;
  readonly name: string;
}

export type BackupMade =
  | { readonly verified: true; readonly bytes: number; readonly contents: Contents }
  /** The copy did not pass its check and is gone again. */
  | { readonly verified: false; readonly what: string };

/** Ends the names of copies under way: none of these is ever taken for a backup. */
const UNDER_WAY = '.part';
/** Pages copied, and put on the disk, at a time: the floor's own commits wait for the disk no longer than for these, about 4 MiB. */
const PAGES_AT_A_TIME = 1_024;

/**
 * Copies the log as it is at this moment by SQLite's own backup, checks the copy whole, and only then gives it its name.
 * Killed at any point it leaves the folder's backups as they were, or one more.
 */
export async function backUp(db: Database, { folder, name }: BackupOrder): Promise<BackupMade> {
  const place = join(folder, name);
  const copy = `${place}${UNDER_WAY}`;
  for (const left of readdirSync(folder)) if (isUnderWay(left)) rmSync(join(folder, left), { force: true });
  try {
    await copied(db, copy);
    standAlone(copy);
    const found = inspect(copy);
    if (!found.usable) return { verified: false, what: found.what };
    syncFile(copy);
    renameSync(copy, place);
    syncFolder(folder);
    return { verified: true, bytes: statSync(place).size, contents: found.contents };
  } finally {
    for (const end of ['', ...companions, '-journal']) rmSync(copy + end, { force: true });
  }
}

/** Within one reading: else each step after somebody wrote would begin anew, and the floor writes all day. */
async function copied(db: Database, copy: string): Promise<void> {
  db.exec('BEGIN');
  try {
    db.prepare('SELECT count(*) FROM sqlite_schema').get();
    await db.backup(copy, {
      progress: () => {
        syncFile(copy);
        return PAGES_AT_A_TIME;
      },
    });
  } finally {
    db.exec('COMMIT');
  }
}

function isUnderWay(name: string): boolean {
  return name.startsWith('floor-') && name.includes(UNDER_WAY);
}

/** Out of the log's mode, so that a backup is one file that can be read from a medium that takes no writing. */
export function standAlone(file: string): void {
  const db = new SqliteDatabase(file, { fileMustExist: true });
  try {
    db.pragma('journal_mode = DELETE');
  } finally {
    db.close();
  }
}

export function syncFile(file: string): void {
  const fd = openSync(file, 'r+');
  try {
    fsyncSync(fd);
  } finally {
    closeSync(fd);
  }
}
