import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { DataFileError } from './data-file-error.ts';
import { troubleOf } from './storage-trouble.ts';

/**
 * Takes a data folder for this process alone, so that two servers never write one log. The lock is SQLite's on an empty
 * file beside the data: the system lets go of it however the process ends. Returns what lets go of it.
 */
export function holdFolder(folder: string): () => void {
  const lock = new SqliteDatabase(join(folder, 'floor.lock'), { timeout: 0 });
  try {
    lock.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    lock.close();
    if (troubleOf(error) !== 'busy') throw error;
    throw new DataFileError(
      'in-use',
      `The data folder ${folder} is in use by a server that runs already. Stop that one first.`,
      error,
    );
  }
  return () => lock.close();
}
