import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import type { Built } from './trial.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
/** One folder below the root, as the server's own entry is: it finds the pages from where it lies. */
const into = `${root}reports`;

/** Bundles the server as it is and the one that dies on demand; a start takes half a second then instead of three. */
export async function buildServers(): Promise<Built> {
  await build({
    configFile: false,
    root,
    logLevel: 'error',
    ssr: { noExternal: true, external: ['better-sqlite3'] },
    build: {
      ssr: true,
      outDir: into,
      emptyOutDir: false,
      minify: false,
      target: 'node20',
      rolldownOptions: {
        input: {
          server: `${root}server/main.ts`,
          dying: `${root}tests/support/dying-server.ts`,
          screens: `${root}scripts/faults/crowd/screens.ts`,
        },
        output: { entryFileNames: 'faults-[name].mjs', chunkFileNames: 'faults-[name].mjs' },
      },
    },
  });
  return {
    server: `${into}/faults-server.mjs`,
    dying: `${into}/faults-dying.mjs`,
    screens: `${into}/faults-screens.mjs`,
  };
}
