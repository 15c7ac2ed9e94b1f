import { LogConflict, StorageError, type StorageTrouble } from './store.ts';

/** SQLite's extended result code of an error, such as SQLITE_IOERR_WRITE; null for anything else. */
export function sqliteCode(error: unknown): string | null {
  if (!(error instanceof Error) || !('code' in error) || typeof error.code !== 'string') return null;
  return error.code.startsWith('SQLITE_') ? error.code : null;
}

/** By the beginning of the code, for each has many extended forms. SQLite's own list: sqlite.org/rescode.html. */
const troubles: readonly (readonly [string, StorageTrouble])[] = [
  ['SQLITE_FULL', 'full'],
  ['SQLITE_IOERR', 'failing'],
  ['SQLITE_CANTOPEN', 'failing'],
  ['SQLITE_NOMEM', 'failing'],
  ['SQLITE_READONLY', 'readonly'],
  ['SQLITE_PERM', 'readonly'],
  ['SQLITE_CORRUPT', 'corrupt'],
  ['SQLITE_NOTADB', 'corrupt'],
  ['SQLITE_BUSY', 'busy'],
  ['SQLITE_LOCKED', 'busy'],
];

/** What is wrong with the disk or the file; null when the error is not about them and therefore a bug. */
export function troubleOf(error: unknown): StorageTrouble | null {
  const code = sqliteCode(error);
  if (code === null) return null;
  return troubles.find(([start]) => code.startsWith(start))?.[1] ?? null;
}

/** Runs something on the file, and turns trouble with the disk into a StorageError. */
export function onDisk<T>(work: () => T): T {
  try {
    return work();
  } catch (error) {
    const trouble = troubleOf(error);
    throw trouble === null ? error : new StorageError(trouble, error);
  }
}

const folderTroubles: Readonly<Record<string, StorageTrouble>> = {
  ENOSPC: 'full',
  EDQUOT: 'full',
  EROFS: 'readonly',
  EACCES: 'readonly',
  EPERM: 'readonly',
};

/** Runs something on a plain file beside the data, and turns the system's trouble into a StorageError. */
export function onFolder(work: () => void): void {
  try {
    work();
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    throw new StorageError(folderTroubles[code] ?? 'failing', error);
  }
}

/** Runs the storing of one batch, and says which one does not follow from the log. */
export function inOrder(batch: number, work: () => void): void {
  try {
    work();
  } catch (error) {
    if (sqliteCode(error)?.startsWith('SQLITE_CONSTRAINT') === true) throw new LogConflict(batch, error);
    throw error;
  }
}
