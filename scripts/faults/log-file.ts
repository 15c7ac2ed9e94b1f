import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import type { Recorded } from '../../core/events.ts';
import { eventColumns, recordedOf, type EventRow } from '../../server/store/event-rows.ts';
import { dataFileName } from '../../server/store/open-file.ts';
import type { Stored } from './judge/lost.ts';

export interface Read extends Stored {
  readonly log: readonly Recorded[];
  /** What SQLite's own check says: `ok` for a file without fault. */
  readonly integrity: string;
}

/** Reads a data file beside the server that holds it, and has SQLite check all of it. */
export function readLog(folder: string): Read {
  const db = new SqliteDatabase(join(folder, dataFileName), { readonly: true, timeout: 2_000 });
  try {
    const rows = db.prepare<[], EventRow>(`SELECT ${eventColumns} FROM event ORDER BY seq`).all();
    const kept = db.prepare<[], { command: string; answer: string }>('SELECT command, answer FROM answer').all();
    const integrity = (db.pragma('integrity_check') as { integrity_check: string }[])
      .map((one) => one.integrity_check)
      .join('; ');
    return {
      rows,
      log: rows.map(recordedOf),
      answers: new Map(kept.map(({ command, answer }) => [command, answer])),
      integrity,
    };
  } finally {
    db.close();
  }
}

/** A copy of a data file as it is now, in a folder of its own; whoever writes may go on. */
export async function copyOf(folder: string, into: string): Promise<void> {
  const db = new SqliteDatabase(join(folder, dataFileName), { readonly: true });
  try {
    await db.backup(join(into, dataFileName));
  } finally {
    db.close();
  }
}
