import type { Database } from 'better-sqlite3';
import type { EpochMs } from '../../core/time.ts';
import { configOf } from '../../server/config.ts';
import { serve } from '../../server/serve.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';
import type { Store } from '../../server/store/store.ts';

/*
 * The server as it is, whose file can be made narrow while it runs: SIGUSR2 makes it so, the next one ends it. `NARROW` says how:
 * `full`, no page more than it has now (SQLITE_FULL); `readonly`, nothing is written (SQLITE_READONLY).
 */
const ways = {
  full: (db: Database, narrow: boolean): void => {
    const most = narrow ? Number(db.pragma('page_count', { simple: true })) + 1 : 1_000_000;
    db.pragma(`max_page_count = ${most}`);
  },
  readonly: (db: Database, narrow: boolean): void => void db.pragma(`query_only = ${narrow ? 'ON' : 'OFF'}`),
} as const;

const way = ways[process.env['NARROW'] === 'readonly' ? 'readonly' : 'full'];

function narrowStore(folder: string, wall: () => EpochMs): Store {
  let narrow = false;
  const connection = (db: Database): void => {
    process.on('SIGUSR2', () => {
      narrow = !narrow;
      way(db, narrow);
      process.stdout.write(narrow ? 'narrow\n' : 'wide\n');
    });
  };
  return new SqliteStore({ folder, wall, testOnly: { connection } });
}

await serve(configOf(process.argv.slice(2), process.env), narrowStore);
