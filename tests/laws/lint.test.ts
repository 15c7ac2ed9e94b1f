import { fileURLToPath } from 'node:url';
import { ESLint } from 'eslint';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const eslint = new ESLint({ cwd: root });

/** What lint says about a text as if it lay at that path: `rule: message` each. */
async function complaints(filePath: string, text: string): Promise<string[]> {
  const [result] = await eslint.lintText(text, { filePath: `${root}/${filePath}` });
  return (result?.messages ?? []).map(({ ruleId, message }) => `${ruleId ?? 'parse'}: ${message}`);
}

/** `lines` lines, the function or the file around them included. */
const fileOf = (lines: number) =>
  `${Array.from({ length: lines }, (_, n) => `export const n${n} = ${n};`).join('\n')}\n`;
const functionOf = (lines: number) =>
  `export function long(): void {\n${Array.from({ length: lines - 2 }, () => '  void 0;').join('\n')}\n}\n`;
const padded = (lines: number, filler: string) =>
  `export const first = 1;\n${Array.from({ length: lines - 1 }, () => filler).join('\n')}\n`;

interface Law {
  law: string;
  at: string;
  breach: string;
  rule: string;
  /** The nearest text that keeps the law: a check that refuses everything would pass its breach too. */
  kept: string;
}

const inCore = (what: string, breach: string, kept: string, rule = 'no-restricted-globals'): Law => ({
  law: `core has no ${what}`,
  at: 'core/planted.ts',
  breach,
  rule,
  kept,
});

const laws: Law[] = [
  {
    law: 'a file has 300 lines at most',
    at: 'server/planted.ts',
    breach: fileOf(301),
    rule: 'max-lines',
    kept: fileOf(300),
  },
  {
    law: 'blank lines count',
    at: 'core/planted.ts',
    breach: padded(301, ''),
    rule: 'max-lines',
    kept: padded(300, ''),
  },
  {
    law: 'lines of comment count',
    at: 'web/src/planted.ts',
    breach: padded(301, '// why'),
    rule: 'max-lines',
    kept: padded(300, '// why'),
  },
  {
    law: 'a component has 300 lines at most',
    at: 'web/src/wall/Planted.svelte',
    breach: `<p>${'\n'.repeat(300)}</p>\n`,
    rule: 'max-lines',
    kept: `<p>${'\n'.repeat(299)}</p>\n`,
  },
  {
    law: 'a function has 60 lines at most',
    at: 'shared/planted.ts',
    breach: functionOf(61),
    rule: 'max-lines-per-function',
    kept: functionOf(60),
  },
  {
    law: 'exports are named',
    at: 'server/planted.ts',
    breach: 'const a = 1;\nexport default a;\n',
    rule: 'no-restricted-syntax',
    kept: 'export const a = 1;\n',
  },
  {
    law: 'exports are not renamed to default',
    at: 'web/src/planted.ts',
    breach: 'const a = 1;\nexport { a as default };\n',
    rule: 'no-restricted-syntax',
    kept: 'const a = 1;\nexport { a };\n',
  },
  {
    law: 'fixed sets are no enums',
    at: 'shared/planted.ts',
    breach: 'export enum Level {\n  NOTICE,\n}\n',
    rule: 'no-restricted-syntax',
    kept: "export const levels = ['NOTICE'] as const;\n",
  },
  {
    law: 'a switch does not take whatever comes',
    at: 'core/planted.ts',
    breach:
      "export const f = (a: 'x' | 'y') => {\n  switch (a) {\n    case 'x':\n      return 1;\n    default:\n      return 2;\n  }\n};\n",
    rule: 'no-restricted-syntax',
    kept: "export const f = (a: 'x') => {\n  switch (a) {\n    case 'x':\n      return 1;\n    default:\n      return a satisfies never;\n  }\n};\n",
  },
  {
    law: 'a switch has an end',
    at: 'server/planted.ts',
    breach: "export const f = (a: 'x') => {\n  switch (a) {\n    case 'x':\n      return 1;\n  }\n};\n",
    rule: 'no-restricted-syntax',
    kept: "export const f = (a: 'x') => {\n  switch (a) {\n    case 'x':\n      return 1;\n    default:\n      return a satisfies never;\n  }\n};\n",
  },
  {
    law: 'nothing on the wire is optional in a schema',
    at: 'shared/planted.ts',
    breach: "import { z } from 'zod';\nexport const a = z.object({ by: z.string().optional() });\n",
    rule: 'no-restricted-syntax',
    kept: "import { z } from 'zod';\nexport const a = z.object({ by: z.string().nullable() });\n",
  },
  {
    law: 'nothing on the wire is optional in a type',
    at: 'shared/planted.ts',
    breach: 'export interface A {\n  by?: string;\n}\n',
    rule: 'no-restricted-syntax',
    kept: 'export interface A {\n  by: string | null;\n}\n',
  },
  {
    law: "a page does not even take server's types",
    at: 'web/src/wall/Planted.svelte',
    breach:
      '<script lang="ts">\n  import type { Deps } from \'../../../server/app.ts\';\n  const deps: Deps | null = null;\n</script>\n\n<p>{deps}</p>\n',
    rule: 'no-restricted-imports',
    kept: '<script lang="ts">\n  import type { Ms } from \'../../../core/time.ts\';\n  const deps: Ms | null = null;\n</script>\n\n<p>{deps}</p>\n',
  },
  inCore('clock', 'export const now = Date.now();\n', 'export const next = (now: number) => now + 1;\n'),
  inCore('dates', 'export const now = new Date();\n', 'export const day = (date: string) => date;\n'),
  inCore(
    'randomness',
    'export const dice = Math.random();\n',
    'export const top = Math.max(1, 2);\n',
    'no-restricted-properties',
  ),
  inCore(
    'randomness under another name',
    'const { random } = Math;\nexport const dice = random();\n',
    'const { max } = Math;\nexport const top = max(1, 2);\n',
    'no-restricted-syntax',
  ),
  inCore(
    'zones',
    'export const zone = new Intl.DateTimeFormat();\n',
    'export const zone = (port: { zone: string }) => port.zone;\n',
  ),
  inCore(
    'locale',
    'export const text = (n: number) => n.toLocaleString();\n',
    'export const text = (n: number) => n.toString();\n',
    'no-restricted-syntax',
  ),
  inCore('timers', 'setTimeout(() => undefined, 1);\n', 'export const dueAt = 1;\n'),
  inCore('intervals', 'setInterval(() => undefined, 1);\n', 'export const dueAt = 1;\n'),
  inCore('process', 'export const env = process.env;\n', 'export const env = (of: { env: string }) => of.env;\n'),
  inCore('console', "console.log('a');\n", "export const reason = 'a';\n"),
  inCore('stopwatch', 'export const t = performance.now();\n', 'export const t = 1;\n'),
  inCore('network', "void fetch('/');\n", "export const path = '/';\n"),
  inCore('made-up ids', 'export const id = crypto.randomUUID();\n', 'export const withId = (id: string) => id;\n'),
  inCore('back door', 'export const now = globalThis.Date.now();\n', 'export const next = (now: number) => now;\n'),
  inCore(
    'late loading',
    "export const later = import('./a.ts');\n",
    "export { later } from './a.ts';\n",
    'no-restricted-syntax',
  ),
];

describe('laws that lint enforces: each breach is caught, its lawful neighbour is not', () => {
  test.each(laws)('$law', async ({ at, breach, kept, rule }) => {
    expect((await complaints(at, breach)).map((one) => one.split(':')[0])).toContain(rule);
    expect(await complaints(at, kept)).toEqual([]);
  });

  test('no comment switches a law off', async () => {
    const excused = '/* eslint-disable */\nexport const now = Date.now(); // eslint-disable-line\n';
    expect((await complaints('core/planted.ts', excused)).join()).toContain('no-restricted-globals');
  });

  test('tests and message catalogues may be long', async () => {
    expect(await complaints('tests/core/planted.ts', fileOf(301) + functionOf(61))).toEqual([]);
    expect(await complaints('web/src/words/planted.ts', fileOf(301) + functionOf(61))).toEqual([]);
  });
});

const title = "'[E3] closes at the ceiling'";
const body = '() => undefined';
const unrun = [
  `test.skip(${title}, ${body});`,
  `test.only(${title}, ${body});`,
  `it.todo(${title});`,
  `describe.only('a', ${body});`,
  `test.describe.skip('a', ${body});`,
  `test.fixme(${title}, ${body});`,
  `test.skipIf(true)(${title}, ${body});`,
  `test(${title}, { skip: true }, ${body});`,
  `test(${title}, (ctx) => ctx.skip());`,
  `xit(${title}, ${body});`,
];
const sleeping = [
  'await page.waitForTimeout(500);',
  'await new Promise((resolve) => setTimeout(resolve, 500));',
  "import { setTimeout as sleep } from 'node:timers/promises';\nawait sleep(500);",
];

describe('laws on tests', () => {
  test.each(unrun)('every test runs: %s', async (text) => {
    expect((await complaints('tests/core/planted.test.ts', `${text}\n`)).join()).toContain('No test is skipped');
    expect((await complaints('tests/e2e/planted.spec.ts', `${text}\n`)).join()).toContain('No test is skipped');
  });

  test.each(sleeping)('nothing sleeps: %s', async (text) => {
    expect((await complaints('tests/e2e/planted.spec.ts', `${text}\n`)).join()).toContain('No sleeps');
  });

  test('a title leads with its rule', async () => {
    const titled = (words: string) => complaints('tests/core/planted.test.ts', `test('${words}', ${body});\n`);
    expect((await titled('closes at the ceiling')).join()).toContain('leads with its rule');
    expect(await titled('[E3] closes at the ceiling')).toEqual([]);
    expect(await titled('[E3, X1] closes at the ceiling')).toEqual([]);
  });
});
