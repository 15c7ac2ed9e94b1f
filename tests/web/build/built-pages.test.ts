// @vitest-environment node
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'vite';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const pages = mkdtempSync(join(tmpdir(), 'basinbell-built-'));
const screens = ['wall', 'chair', 'pocket'] as const;

beforeAll(async () => {
  // As `npm run build` has it: tests would get the development form of what is compiled.
  vi.stubEnv('NODE_ENV', 'production');
  await build({
    configFile: join(root, 'web/vite.config.ts'),
    logLevel: 'silent',
    build: { outDir: pages, reportCompressedSize: false },
  });
});
afterAll(() => {
  vi.unstubAllEnvs();
  rmSync(pages, { recursive: true, force: true });
});

const read = (path: string): string => readFileSync(join(pages, path), 'utf8');

/** Everything a page loads, by what its files say themselves. */
function filesOf(page: string): readonly string[] {
  const found = new Set<string>();
  const look = (text: string): void => {
    for (const [, name] of text.matchAll(/(?:\/assets\/|["']\.\/)([\w.-]+\.(?:js|css|woff2))/g)) {
      const path = `assets/${name}`;
      if (found.has(path)) continue;
      found.add(path);
      if (!path.endsWith('.woff2')) look(read(path));
    }
  };
  look(read(`${page}.html`));
  return [...found].sort();
}

describe('the built pages', () => {
  it.each(screens)('[R8] %s has no lazy parts: once it is open, all of it is there', (screen) => {
    const scripts = filesOf(screen).filter((path) => path.endsWith('.js'));
    expect(scripts.length).toBeGreaterThan(1);
    for (const path of scripts) expect([path, /\bimport\s*\(/.exec(read(path))]).toEqual([path, null]);
  });

  it('[R8] the service worker keeps just what the three screens load', () => {
    const worker = read('sw.js');
    const listed = [...worker.matchAll(/\/(assets\/[\w-][\w.-]*\.(?:js|css|woff2))/g)].map(([, path]) => path).sort();
    expect(listed).toEqual([...new Set(screens.flatMap(filesOf))].sort());
    expect(worker).not.toMatch(/\bimport\b/);
  });

  it('[R8] nothing of the build is left beside them', () => {
    expect(readdirSync(pages).filter((name) => name.startsWith('.'))).toEqual([]);
    expect(existsSync(join(pages, 'releases.json'))).toBe(true);
  });

  it('[W3] what each screen weighs on its way, as script, gzip: printed, the wall’s goal is 60 kB', () => {
    for (const screen of screens) {
      const scripts = filesOf(screen).filter((path) => path.endsWith('.js'));
      const bytes = scripts.reduce((sum, path) => sum + gzipSync(readFileSync(join(pages, path))).length, 0);
      console.info(`${screen}: ${(bytes / 1000).toFixed(1)} kB of script, gzip, in ${scripts.length} files`);
      expect(bytes).toBeGreaterThan(10_000);
    }
  });
});
