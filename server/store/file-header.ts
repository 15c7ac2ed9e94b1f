import { closeSync, existsSync, openSync, readSync, statSync } from 'node:fs';
import { losesTurns } from './write-ahead.ts';

/** A log of writes shorter than its own header holds nothing (sqlite.org/fileformat2.html §4.1). */
const WAL_HEADER = 32;
const HEADER = 100;
const MAGIC = 'SQLite format 3\0';

/**
 * What is wrong with a file by its size and its first 100 bytes (sqlite.org/fileformat2.html §1.3), null if nothing is seen.
 * SQLite itself takes an emptied file for a new one and throws its log of writes away, so this is asked before it. No other
 * connection of this process may have the file open: closing ours would drop their locks.
 */
export function wrongAtSight(file: string): string | null {
  const waiting = sizeOf(`${file}-wal`) > WAL_HEADER;
  if (!existsSync(file)) return waiting ? 'it is gone, and only its log of writes is there' : null;
  const size = sizeOf(file);
  if (size === 0) return 'it is empty';
  const head = headOf(file);
  // What the log of writes holds may mend the rest: whoever reads through it sees.
  if (waiting) return losesTurns(`${file}-wal`) ? 'its log of writes cannot be read to its end' : null;
  if (head.length < HEADER || head.toString('latin1', 0, MAGIC.length) !== MAGIC) return 'it does not begin as one';
  const pageSize = head.readUInt16BE(16) === 1 ? 65_536 : head.readUInt16BE(16);
  const pages = head.readUInt32BE(28);
  // The number of pages holds only if the last writer counted them: then both counters are alike.
  const counted = head.readUInt32BE(24) === head.readUInt32BE(92);
  if (counted && size < pages * pageSize) return `it ends after ${size} of ${pages * pageSize} bytes`;
  return null;
}

function sizeOf(file: string): number {
  return statSync(file, { throwIfNoEntry: false })?.size ?? 0;
}

function headOf(file: string): Buffer {
  const fd = openSync(file, 'r');
  try {
    const buffer = Buffer.alloc(HEADER);
    return buffer.subarray(0, readSync(fd, buffer, 0, HEADER, 0));
  } finally {
    closeSync(fd);
  }
}
