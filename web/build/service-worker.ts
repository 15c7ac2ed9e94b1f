import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { build, type Plugin } from 'vite';
import type { Shell } from '../src/shell/shell-files.ts';
import { pagePaths } from '../src/shell/shell-files.ts';

const WORKER = fileURLToPath(new URL('../src/shell/worker.ts', import.meta.url));

/** One output of the build, as far as it matters here. */
interface Built {
  readonly type: 'chunk' | 'asset';
  readonly fileName: string;
  readonly source?: string | Uint8Array;
}

/** Writes `/sw.js`: the service worker with the list of the files that the screens consist of. */
export function serviceWorker(): Plugin {
  return {
    name: 'service-worker',
    apply: 'build',
    generateBundle: {
      order: 'post',
      async handler(_options, bundle) {
        const source = await workerCode(shellOf(Object.values(bundle) as readonly Built[]));
        this.emitFile({ type: 'asset', fileName: 'sw.js', source });
      },
    },
  };
}

/** Pages with their fingerprint and every hashed file: an asset of the set-up costs little, a missing one a screen. */
export function shellOf(bundle: readonly Built[]): Shell {
  const pages = bundle.filter(({ fileName }) => pagePaths.some((path) => fileName === `${path.slice(1)}.html`));
  if (pages.length !== pagePaths.length) throw new Error('a page of the shell was not built');
  const wanted = new Set(pages.flatMap((page) => assetsNamed(textOf(page), bundle)));
  const files = ['/icon.svg', ...[...wanted].sort()];
  const version = createHash('sha256');
  for (const page of [...pages].sort((a, b) => (a.fileName < b.fileName ? -1 : 1))) version.update(textOf(page));
  version.update(files.join('\n'));
  return { version: version.digest('hex').slice(0, 12), files };
}

/** Assets that a text names, and those that these name in turn. */
function assetsNamed(text: string, bundle: readonly Built[], seen = new Set<string>()): readonly string[] {
  for (const one of bundle) {
    const name = one.fileName.split('/').at(-1) ?? '';
    const path = `/${one.fileName}`;
    if (!path.startsWith('/assets/') || seen.has(path) || !text.includes(name)) continue;
    seen.add(path);
    assetsNamed(textOf(one), bundle, seen);
  }
  return [...seen];
}

function textOf(one: Built & { readonly code?: string }): string {
  if (one.code !== undefined) return one.code;
  if (/\.(css|html)$/.test(one.fileName)) return Buffer.from(one.source ?? '').toString('utf8');
  return '';
}

/** A classic script in one piece: workers that are modules are not everywhere. */
async function workerCode(shell: Shell): Promise<string> {
  const result = await build({
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    define: { __SHELL__: JSON.stringify(shell) },
    build: {
      write: false,
      target: 'es2022',
      rolldownOptions: { input: WORKER, output: { format: 'iife', entryFileNames: 'sw.js' } },
    },
  });
  const [output] = (Array.isArray(result) ? result : [result]) as { output: readonly { code: string }[] }[];
  return output?.output[0]?.code ?? '';
}
