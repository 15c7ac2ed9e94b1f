import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const folder = fileURLToPath(new URL('machine/', import.meta.url));

/** Whatever a file loads, types included: static, dynamic, re-exported, required. */
function importsOf(text: string): string[] {
  const loads = /(?:\bfrom\s*|\bimport\s*\(?\s*|\brequire\s*\(\s*)['"]([^'"]+)['"]/g;
  return [...text.matchAll(loads)].map((match) => match[1] ?? '');
}

/** Its own folder's files and the state machine library; nothing of ours can hide behind either. */
const lawful = (path: string) => path === 'xstate' || /^\.\/[a-z-]+\.ts$/.test(path);

describe('the model is independent', () => {
  const files = readdirSync(folder);

  test('its folder holds plain source files only', () => {
    expect(files.length).toBeGreaterThan(3);
    expect(files.filter((name) => !/^[a-z-]+\.ts$/.test(name))).toEqual([]);
  });

  test.each(files)('%s imports nothing from core', (name) => {
    const found = importsOf(readFileSync(folder + name, 'utf8'));
    expect(found.filter((path) => !lawful(path))).toEqual([]);
  });

  test.each([
    ["import { decide } from '../../../core/decide.ts';", '../../../core/decide.ts'],
    ["import type { Stage } from '../../../core/visit/stages/stage.ts';", '../../../core/visit/stages/stage.ts'],
    ["export * from '../core-chair.ts';", '../core-chair.ts'],
    ["const one = await import('../duel.ts');", '../duel.ts'],
  ])('%s would be seen', (text, path) => {
    expect(importsOf(text)).toEqual([path]);
    expect(lawful(path)).toBe(false);
  });
});
