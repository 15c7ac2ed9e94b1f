import { spawnSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));
const trees: string[] = [];

interface Breach {
  rule: string;
  from: string;
  to: string;
}

/** What `npm run imports` finds in a tree of these files, with our packages and our rules. */
function cruise(files: Record<string, string>): Breach[] {
  const tree = mkdtempSync(join(tmpdir(), 'basinbell-laws-'));
  trees.push(tree);
  for (const name of ['.dependency-cruiser.cjs', 'package.json']) copyFileSync(join(root, name), join(tree, name));
  symlinkSync(join(root, 'node_modules'), join(tree, 'node_modules'));
  const folders = ['core', 'shared', 'server', 'web', 'tests', 'scripts'];
  for (const folder of folders) mkdirSync(join(tree, folder));
  for (const [path, text] of Object.entries(files)) {
    mkdirSync(dirname(join(tree, path)), { recursive: true });
    writeFileSync(join(tree, path), text);
  }
  const program = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = [program, '--config', '.dependency-cruiser.cjs', '--output-type', 'json', ...folders];
  const answer = spawnSync(process.execPath, args, { cwd: tree, encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
  const { summary } = JSON.parse(answer.stdout) as {
    summary: { violations: { rule: { name: string }; from: string; to: string }[] };
  };
  return summary.violations.map(({ rule, from, to }) => ({ rule: rule.name, from, to }));
}

const lawful = {
  'core/time.ts': 'export type Ms = number;\nexport const minute: Ms = 60_000;\n',
  'core/window.ts': "import { minute } from './time.ts';\nexport const room = minute;\n",
  'shared/wire.ts':
    "import { z } from 'zod';\nimport type { Ms } from '../core/time.ts';\nexport const ms: z.ZodType<Ms> = z.number();\n",
  'server/app.ts':
    "import fastify from 'fastify';\nimport { room } from '../core/window.ts';\nimport { ms } from '../shared/wire.ts';\nexport const app = [fastify, room, ms];\n",
  'web/src/wall/Wall.svelte':
    "<script lang=\"ts\">\n  import { room } from '../../../core/window.ts';\n  import { second } from '../state/second.svelte.ts';\n</script>\n\n<p>{room}{second}</p>\n",
  'web/src/state/second.svelte.ts': "import { ms } from '../../../shared/wire.ts';\nexport const second = ms;\n",
  'tests/core/window.test.ts':
    "import { test } from 'vitest';\nimport { room } from '../../core/window.ts';\ntest('room', () => void room);\n",
};

/** One file, one import, one law each. */
const breaches: { law: string; rule: string; from: string; imports: string; to: RegExp }[] = [
  {
    law: 'core imports core only',
    rule: 'core-only-core',
    from: 'core/a.ts',
    imports: '../server/app.ts',
    to: /^server\/app/,
  },
  {
    law: 'core imports no shared',
    rule: 'core-only-core',
    from: 'core/b.ts',
    imports: '../shared/wire.ts',
    to: /^shared\//,
  },
  { law: 'core imports no package', rule: 'core-only-core', from: 'core/c.ts', imports: 'zod', to: /zod/ },
  { law: 'core imports no part of Node', rule: 'core-only-core', from: 'core/d.ts', imports: 'node:fs', to: /fs$/ },
  {
    law: 'shared imports no server',
    rule: 'shared-only-core-and-zod',
    from: 'shared/a.ts',
    imports: '../server/app.ts',
    to: /^server\//,
  },
  {
    law: 'shared imports no package but zod',
    rule: 'shared-only-core-and-zod',
    from: 'shared/b.ts',
    imports: 'fastify',
    to: /fastify/,
  },
  {
    law: 'shared takes types of core only',
    rule: 'shared-types-of-core',
    from: 'shared/c.ts',
    imports: '../core/time.ts',
    to: /^core\//,
  },
  {
    law: 'server imports no web',
    rule: 'server-not-web',
    from: 'server/a.ts',
    imports: '../web/src/state/second.svelte.ts',
    to: /^web\//,
  },
  {
    law: 'web imports no server',
    rule: 'web-not-server',
    from: 'web/src/a.ts',
    imports: '../../server/app.ts',
    to: /^server\//,
  },
  {
    law: 'a component imports no server',
    rule: 'web-not-server',
    from: 'web/src/wall/A.svelte',
    imports: '../../../server/app.ts',
    to: /^server\//,
  },
  { law: 'a page has no Node', rule: 'web-no-node', from: 'web/src/b.ts', imports: 'node:fs', to: /fs$/ },
  {
    law: 'nothing imports tests: server',
    rule: 'nothing-imports-tests',
    from: 'server/b.ts',
    imports: '../tests/support/clock.ts',
    to: /^tests\//,
  },
  {
    law: 'nothing imports tests: scripts',
    rule: 'nothing-imports-tests',
    from: 'scripts/a.ts',
    imports: '../tests/support/clock.ts',
    to: /^tests\//,
  },
  {
    law: 'nothing but tests imports scripts',
    rule: 'nothing-imports-scripts',
    from: 'server/c.ts',
    imports: '../scripts/a.ts',
    to: /^scripts\//,
  },
  {
    law: 'server runs without development tools',
    rule: 'no-dev-packages-in-the-product',
    from: 'server/d.ts',
    imports: 'luxon',
    to: /luxon/,
  },
  { law: 'no drawer folders', rule: 'no-drawers', from: 'server/e.ts', imports: './utils/any.ts', to: /utils/ },
  {
    law: 'every import leads somewhere',
    rule: 'all-resolve',
    from: 'web/src/c.ts',
    imports: './nowhere.ts',
    to: /nowhere/,
  },
];

const importOf = (path: string, from: string) =>
  from.endsWith('.svelte')
    ? `<script lang="ts">\n  import * as it from '${path}';\n</script>\n\n<p>{it}</p>\n`
    : `import * as it from '${path}';\nexport const taken = it;\n`;

const planted = {
  ...lawful,
  ...Object.fromEntries(breaches.map(({ from, imports }) => [from, importOf(imports, from)])),
  'tests/support/clock.ts': 'export const clock = 1;\n',
  'server/utils/any.ts': 'export const any = 1;\n',
  // Two types in a ring: no program notices, the next reader does.
  'core/hen.ts': "import type { Egg } from './egg.ts';\nexport type Hen = { lays: Egg };\n",
  'core/egg.ts': "import type { Hen } from './hen.ts';\nexport type Egg = { of: Hen };\n",
};

afterAll(() => trees.forEach((tree) => rmSync(tree, { recursive: true, force: true })));

describe('laws of who imports whom', () => {
  let found: Breach[] = [];
  beforeAll(() => {
    found = cruise(planted);
  });

  test('a lawful tree has no breach', () => {
    expect(cruise(lawful)).toEqual([]);
  });

  test.each(breaches)('$law', ({ rule, from, to }) => {
    const caught = found.filter((one) => one.rule === rule && one.from === from);
    expect(caught.map((one) => one.to)).toEqual([expect.stringMatching(to)]);
  });

  test('no cycles, not even of types', () => {
    expect(found.filter((one) => one.rule === 'no-cycles').map((one) => one.from)).toEqual(['core/egg.ts']);
  });

  test('nothing but what was planted is caught', () => {
    const from = new Set([...breaches.map((one) => one.from), 'core/egg.ts']);
    expect(found.filter((one) => !from.has(one.from))).toEqual([]);
  });
});
