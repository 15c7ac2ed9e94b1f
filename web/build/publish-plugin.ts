import { resolve } from 'node:path';
import type { Plugin } from 'vite';
import { buildingFolder, clearAbandoned, publish } from './publish.ts';

/** Builds beside what is served and puts it in place when all of it is there; a build that fails changes nothing. */
export function publishWhenWhole(): Plugin {
  let pages = '';
  let whole = false;
  return {
    name: 'publish-when-whole',
    apply: 'build',
    config: ({ root = '.', build }) => {
      pages = resolve(root, build?.outDir ?? 'dist');
      return { build: { outDir: buildingFolder(pages), emptyOutDir: true } };
    },
    buildStart: () => clearAbandoned(pages),
    writeBundle: () => void (whole = true),
    closeBundle: {
      order: 'post',
      handler: (error?: Error) => (whole && error === undefined ? publish(buildingFolder(pages), pages) : undefined),
    },
  };
}
