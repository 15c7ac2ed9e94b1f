import { copyFileSync, existsSync, linkSync, mkdirSync, rmSync } from 'node:fs';
import { dirname, join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import type { EpochMs } from '../../core/time.ts';
import { syncFolder } from '../store/damage.ts';
import { DataFileError } from '../store/data-file-error.ts';
import { erasuresOf, joined, shareErasures, type Erasure } from '../store/erasures.ts';
import { wrongAtSight } from '../store/file-header.ts';
import { companions, dataFileName } from '../store/file-names.ts';
import { holdFolder } from '../store/hold-folder.ts';
import { decideRestore, finishRestore, restoredName } from '../store/pending-restore.ts';
import { LAST } from '../store/reads.ts';
import { standAlone, syncFile } from './back-up.ts';
import { inspect, type Contents, type Unusable } from './inspect.ts';

export interface RestoreOrder {
  readonly data: string;
  readonly backups: string;
  /** The file to put in place. */
  readonly from: string;
  /** Wall clock, to name what is set aside. */
  readonly now: EpochMs;
}

export interface Restored {
  readonly contents: Contents;
  /** Under which name the replaced file stays; null if there was none. */
  readonly aside: string | null;
  /** What the replaced file told of itself; null if it could not be read. */
  readonly replaced: Contents | null;
  readonly erased: number;
}

const reasons: Readonly<Record<Unusable, string>> = {
  missing: 'is not there or not a file',
  'not-ours': "is not a floor's data file",
  newer: 'was written by a newer version',
  damaged: 'is damaged',
  unreadable: 'cannot be read',
};

/**
 * Puts a backup in the data file's place. Refuses with a DataFileError and leaves everything as it was, while a server runs
 * too; killed at any point it leaves the old file or the new one for the next start. What is replaced stays beside.
 */
export async function restore({ data, backups, from, now }: RestoreOrder): Promise<Restored> {
  mkdirSync(data, { recursive: true });
  const release = holdFolder(data);
  try {
    // One that was decided before and killed comes first: its copy is the data now.
    finishRestore(data);
    const found = inspect(from);
    if (!found.usable) {
      const fault = found.why === 'newer' || found.why === 'not-ours' ? found.why : 'damaged';
      throw new DataFileError(fault, `${from} ${reasons[found.why]} (${found.what}). Nothing was changed.`);
    }
    const replaced = toldBy(join(data, dataFileName));
    const erasures = joined([data, backups, dirname(from)].map(erasuresOf));
    await copy(from, join(data, restoredName), erasures);
    const aside = setAside(data, now);
    decideRestore(data, from);
    finishRestore(data);
    for (const folder of [data, backups]) if (existsSync(folder)) shareErasures(erasures, folder);
    return { contents: found.contents, aside, replaced, erased: erasures.length };
  } finally {
    release();
  }
}

/** A copy of its own by SQLite's backup, which also takes what stands in a log of writes beside the source. */
async function copy(from: string, to: string, erasures: readonly Erasure[]): Promise<void> {
  discard(to);
  const source = new SqliteDatabase(from, { readonly: true, fileMustExist: true });
  try {
    await source.backup(to);
  } finally {
    source.close();
  }
  standAlone(to);
  erase(to, erasures);
  const found = inspect(to);
  if (!found.usable) {
    discard(to);
    throw new DataFileError(
      'damaged',
      `The copy of ${from} did not pass its check (${found.what}). Nothing was changed.`,
    );
  }
  syncFile(to);
}

function discard(file: string): void {
  for (const end of ['', ...companions, '-journal']) rmSync(file + end, { force: true });
}

function erase(file: string, erasures: readonly Erasure[]): void {
  const db = new SqliteDatabase(file, { fileMustExist: true });
  try {
    db.pragma('secure_delete = ON');
    const drop = db.prepare('DELETE FROM word WHERE key >= ? AND key < ?');
    db.transaction(() => erasures.forEach(({ prefix }) => drop.run(prefix, prefix + LAST))).immediate();
  } finally {
    db.close();
  }
}

/** What can still be learnt of the file to be replaced; it is only read, and one that SQLite would empty not even that. */
function toldBy(file: string): Contents | null {
  if (!existsSync(file) || wrongAtSight(file) !== null) return null;
  const found = inspect(file, 'glance');
  return found.usable ? found.contents : null;
}

/** Gives the replaced file, and what belongs to it, a second name each; the first ones stay until the copy takes them. */
function setAside(data: string, now: EpochMs): string | null {
  const stamp = new Date(now).toISOString().slice(0, 19).replaceAll(/[-:]/g, '');
  const name = `${dataFileName}.replaced-${stamp}Z`;
  const there = ['', ...companions].filter((end) => existsSync(join(data, dataFileName + end)));
  for (const end of there) second(join(data, dataFileName + end), join(data, name + end));
  syncFolder(data);
  return there.length === 0 ? null : name;
}

function second(from: string, to: string): void {
  rmSync(to, { force: true });
  try {
    linkSync(from, to);
  } catch {
    // Some media have no second names: then a copy.
    copyFileSync(from, to);
    syncFile(to);
  }
}
