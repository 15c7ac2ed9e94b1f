import { parentPort, workerData } from 'node:worker_threads';
import SqliteDatabase, { type Database } from 'better-sqlite3';
import { jobs, type Answered, type Asked } from './jobs.ts';

const { file } = workerData as { readonly file: string };

/** The writer never waits for a reader, but a checkpoint at its end may keep us waiting. Milliseconds. */
const BUSY_TIMEOUT = 5_000;

async function done({ id, kind, order }: Asked): Promise<Answered> {
  let db: Database | null = null;
  try {
    db = new SqliteDatabase(file, { readonly: true, fileMustExist: true, timeout: BUSY_TIMEOUT });
    const job = jobs[kind] as (db: Database, order: unknown) => unknown;
    return { id, result: await job(db, order) };
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : null;
    return { id, failed: { code, message: error instanceof Error ? error.message : String(error) } };
  } finally {
    db?.close();
  }
}

// One after another: each job has the disk for itself.
let last: Promise<void> = Promise.resolve();
parentPort?.on('message', (asked: Asked) => {
  last = last.then(async () => parentPort?.postMessage(await done(asked)));
});
