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
/** All pages in one step: a step after somebody wrote would begin anew, and the floor writes all day. */
const ALL_PAGES = 0x7fffffff;

/**
 * Copies the log as it is at this moment by SQLite's own backup, checks the copy whole, and only then gives it its name.
 * Killed at any point it leaves the folder's backups as they were, or one more.
 */
export async function backUp(db: Database, { folder, name }: BackupOrder): Promise<BackupMade> {
  const place = join(folder, name);
  const copy = `${place}${UNDER_WAY}`;
  for (const left of readdirSync(folder)) if (isUnderWay(left)) rmSync(join(folder, left), { force: true });
  try {
    await db.backup(copy, { progress: () => ALL_PAGES });
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
