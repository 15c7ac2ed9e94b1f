import { openSync, writeSync } from 'node:fs';
import { Worker } from 'node:worker_threads';
import { configOf } from '../../server/config.ts';
import { serve } from '../../server/serve.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import type { Store } from '../../server/store/store.ts';
import type { EpochMs } from '../../core/time.ts';
import type { Death, Whereabouts } from './death.ts';

/*
 * The server as it is, but for one thing: its store knows the moment at which this process is to be killed by SIGKILL, without
 * a goodbye, and keeps in a file of one letter how far it had come. `DEATH` holds the moment, `WHEREABOUTS` the file.
 */
const death = JSON.parse(process.env['DEATH'] ?? '{"point":"never"}') as Death;
const whereabouts = openSync(process.env['WHEREABOUTS'] ?? '/dev/null', 'w');
const at = (where: Whereabouts): void => void writeSync(whereabouts, where, 0);
const die = (): never => {
  process.kill(process.pid, 'SIGKILL');
  // Nothing of this process goes on beyond here, even if the signal takes a moment.
  for (;;) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0);
};

/** A thread that kills the process so many µs after it was told, while the main thread is inside SQLite. */
function executioner(afterUs: number): () => void {
  const bell = new Int32Array(new SharedArrayBuffer(4));
  const text = `
    const { workerData: { bell, afterUs } } = require('node:worker_threads');
    Atomics.wait(bell, 0, 0);
    const end = process.hrtime.bigint() + BigInt(Math.round(afterUs * 1000));
    while (process.hrtime.bigint() < end);
    process.kill(process.pid, 'SIGKILL');`;
  new Worker(text, { eval: true, workerData: { bell, afterUs } }).unref();
  return () => {
    Atomics.store(bell, 0, 1);
    Atomics.notify(bell, 0);
  };
}

const strike = death.point === 'in-commit' ? executioner(death.afterUs) : null;
let writes = 0;
let statements = 0;
let inside = false;
const isNow = (): boolean => death.point !== 'never' && writes >= death.write;

function sawStatement(sql: string): void {
  if (!inside) return;
  statements += 1;
  if (death.point === 'in-transaction' && isNow() && statements >= death.statement) die();
  if (!/^COMMIT/i.test(sql.trim())) return;
  at('c');
  if (isNow()) strike?.();
}

/** A breach planted for the harness to find: what was told as stored is stored a turn later. */
let late: Parameters<Store['write']> | null = null;

function stored(store: SqliteStore, ...turn: Parameters<Store['write']>): void {
  if (death.plant !== 'answers-before-storing') return store.write(...turn);
  if (late !== null) store.write(...late);
  late = turn;
}

/** What a write does besides writing. */
function dyingWrite(store: SqliteStore): Store['write'] {
  return (batches, alive) => {
    writes += 1;
    statements = 0;
    inside = true;
    at('w');
    if (death.point === 'before-store' && isNow()) die();
    stored(store, batches, alive);
    inside = false;
    at('a');
    if (death.point === 'after-commit' && isNow()) die();
    setImmediate(() => at('i'));
  };
}

function dyingStore(folder: string, wall: () => EpochMs): Store {
  const store = new SqliteStore({ folder, wall, testOnly: { statement: sawStatement } });
  const own: Pick<Store, 'write' | 'answerOf'> = {
    write: dyingWrite(store),
    answerOf: (id) => late?.[0].find(({ kept }) => kept?.id === id)?.kept ?? store.answerOf(id),
  };
  return new Proxy<Store>(store, {
    get: (_, name) => {
      const value: unknown = Reflect.get(name in own ? own : store, name, store);
      return typeof value === 'function' ? (value.bind(store) as unknown) : value;
    },
  });
}

await serve(configOf(process.argv.slice(2), process.env), dyingStore);
