import { existsSync, rmSync, writeSync } from 'node:fs';
import { configOf } from '../../server/config.ts';
import { serve } from '../../server/serve.ts';
import { SqliteStore } from '../../server/store/sqlite-store.ts';

/**
 * The server as it is, but on SIGUSR2 its event loop stands still for as long as the file named first exists, as a loop
 * that never ends would make it.
 */
const [held = '', ...args] = process.argv.slice(2);
process.on('SIGUSR2', () => {
  // Straight to the file descriptor: nothing that waits for the loop would get out.
  writeSync(1, 'standing still\n');
  while (existsSync(held));
  rmSync(held, { force: true });
});
await serve(configOf(args, process.env), (folder) => new SqliteStore({ folder }));
