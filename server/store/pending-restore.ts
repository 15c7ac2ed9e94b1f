import { existsSync, renameSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { markerName, syncFolder, writeDurably } from './damage.ts';
import { companions, dataFileName } from './file-names.ts';

/** A checked copy that waits to take the data file's place. */
export const restoredName = `${dataFileName}.restored`;

/** While it lies there, the copy beside it is to be put in place: by whoever opens the folder next. */
const intentName = `${dataFileName}.restore.json`;

/** From here on the copy counts. Everything of the replaced file must be safe under another name by now. */
export function decideRestore(folder: string, backup: string): void {
  writeDurably(join(folder, intentName), JSON.stringify({ backup }));
}

/**
 * Puts a decided copy in place; however often it was begun and killed before, it ends the same. The replaced file's log of
 * writes goes first: SQLite would write it into the copy. Call it holding the folder.
 */
export function finishRestore(folder: string): boolean {
  const intent = join(folder, intentName);
  if (!existsSync(intent)) return false;
  const file = join(folder, dataFileName);
  const copy = join(folder, restoredName);
  if (existsSync(copy)) {
    for (const end of companions) rmSync(file + end, { force: true });
    syncFolder(folder);
    renameSync(copy, file);
  }
  rmSync(join(folder, markerName), { force: true });
  syncFolder(folder);
  rmSync(intent);
  syncFolder(folder);
  return true;
}
