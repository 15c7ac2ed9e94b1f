import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The repository, from this file; `new URL(…, import.meta.url)` would be taken for an asset of the page. */
export const repository = join(dirname(fileURLToPath(import.meta.url)), '../../..');
const source = join(repository, 'web/src');

export function readSource(path: string): string {
  return readFileSync(join(source, path), 'utf8');
}

export function sourcesEnding(ending: RegExp): readonly string[] {
  return readdirSync(source, { recursive: true, encoding: 'utf8' }).filter((name) => ending.test(name));
}
