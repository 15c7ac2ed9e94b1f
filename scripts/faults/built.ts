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
          narrow: `${root}tests/support/narrow-server.ts`,
          screens: `${root}scripts/faults/crowd/screens.ts`,
          // The reader looks for its thread beside itself, under this name.
          thread: `${root}server/reader/reader-thread.ts`,
        },
        output: {
          entryFileNames: ({ name }) => (name === 'thread' ? 'thread.mjs' : `faults-${name}.mjs`),
          chunkFileNames: 'faults-[name].mjs',
        },
      },
    },
  });
  const entry = (name: string): string => `${into}/faults-${name}.mjs`;
  return { server: entry('server'), dying: entry('dying'), narrow: entry('narrow'), screens: entry('screens') };
}
