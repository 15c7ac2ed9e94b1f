import { configOf } from './config.ts';
import { endingFor } from './ending.ts';
import { serve } from './serve.ts';
import { SqliteStore } from './store/sqlite-store.ts';

let port = 0;
try {
  const config = configOf(process.argv.slice(2), process.env);
  port = config.port;
  await serve(config, (folder, wall) => new SqliteStore({ folder, wall }));
} catch (error) {
  const { code, sentence } = endingFor(error, port);
  console.error(sentence === null ? error : `✗ ${sentence}`);
  process.exit(code);
}
