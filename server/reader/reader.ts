import { Worker } from 'node:worker_threads';
import type { Answered, Asked, JobKind, OrderOf, ResultOf } from './jobs.ts';

/** A job that could not be done: trouble with a disk, or a reader that ended. */
export class ReaderFault extends Error {
  /** SQLite's or the system's code; null for anything else. */
  readonly code: string | null;
  constructor(message: string, code: string | null) {
    super(message);
    this.code = code;
  }
}

interface Waiting {
  readonly resolve: (result: unknown) => void;
  readonly reject: (fault: ReaderFault) => void;
}

/**
 * A thread that reads the data file by a connection of its own, so that checks, backups and long reports never hold up the
 * floor. It begins with its first job: ask only once the server listens. If it dies, the next job begins another one.
 */
export class Reader {
  readonly #file: string;
  readonly #waiting = new Map<number, Waiting>();
  #thread: Worker | null = null;
  #closed = false;
  #asked = 0;

  constructor(file: string) {
    this.#file = file;
  }

  ask<K extends JobKind>(kind: K, order: OrderOf<K>): Promise<ResultOf<K>> {
    if (this.#closed) return Promise.reject(new ReaderFault('the reader is closed', null));
    this.#asked += 1;
    const asked: Asked = { id: this.#asked, kind, order };
    return new Promise((resolve, reject) => {
      this.#waiting.set(asked.id, { resolve: resolve as (result: unknown) => void, reject });
      this.#running().postMessage(asked);
    });
  }

  async close(): Promise<void> {
    this.#closed = true;
    await this.#thread?.terminate();
  }

  #running(): Worker {
    if (this.#thread !== null) return this.#thread;
    const thread = new Worker(new URL('./thread.mjs', import.meta.url), { workerData: { file: this.#file } });
    this.#thread = thread;
    // Nothing here keeps a process alive that has nothing else to do.
    thread.unref();
    thread.on('message', (answered: Answered) => this.#settle(answered));
    thread.on('error', (error) => this.#lost(thread, error.message));
    thread.on('exit', () => this.#lost(thread, 'the reader ended'));
    return thread;
  }

  #settle(answered: Answered): void {
    const waiting = this.#waiting.get(answered.id);
    this.#waiting.delete(answered.id);
    if (waiting === undefined) return;
    if ('result' in answered) waiting.resolve(answered.result);
    else waiting.reject(new ReaderFault(answered.failed.message, answered.failed.code));
  }

  #lost(thread: Worker, why: string): void {
    if (this.#thread !== thread) return;
    this.#thread = null;
    const lost = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const { reject } of lost) reject(new ReaderFault(why, null));
  }
}
