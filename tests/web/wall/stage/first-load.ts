/** Prints the script of each page's first load, gzip, from a built `web/dist`: `node --import tsx …/first-load.ts [dist]`. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';

const dist = process.argv[2] ?? 'web/dist';

/** What the page names, and what those name by a static import. */
function scriptsOf(page: string): Set<string> {
  const named = [...readFileSync(join(dist, page), 'utf8').matchAll(/(?:src|href)="(\/assets\/[^"]+\.js)"/g)];
  const found = new Set<string>();
  const todo = named.map(([, path]) => path ?? '');
  for (let path = todo.pop(); path !== undefined; path = todo.pop()) {
    if (found.has(path)) continue;
    found.add(path);
    const text = readFileSync(join(dist, path), 'utf8');
    for (const [, name] of text.matchAll(/from\s*"\.\/([^"]+\.js)"|import\s*"\.\/([^"]+\.js)"/g)) {
      if (name !== undefined) todo.push(`/assets/${name}`);
    }
  }
  return found;
}

for (const page of ['wall', 'index', 'chair', 'pocket', 'salon']) {
  const files = [...scriptsOf(`${page}.html`)].map((path) => gzipSync(readFileSync(join(dist, path))).length);
  const bytes = files.reduce((sum, one) => sum + one, 0);
  console.log(`${page}: ${(bytes / 1000).toFixed(1)} kB gzip in ${files.length} files`);
}
