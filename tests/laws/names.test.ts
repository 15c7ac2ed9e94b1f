import { execFileSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { describe, expect, test } from 'vitest';

const root = fileURLToPath(new URL('../..', import.meta.url));

const folders = ['server', 'web', 'core', 'tests', 'shared', 'scripts', '.ci'];
const files = [
  'README.md',
  'DEVELOPERS.md',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'eslint.config.js',
  'vitest.config.ts',
  'stryker.config.js',
];
const drawers = /(^|\/)(utils?|helpers?|commons?|managers?|misc)(\/|$|\.)/;
const kebab = /^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9-]+)*$/;
const pascal = /^[A-Z][A-Za-z0-9]*\.svelte$/;
const capitalDocument = /^[A-Z]+\.md$/;

/** What is wrong with a path of the repository, or null. */
function complaint(path: string): string | null {
  const [top = '', ...rest] = path.split('/');
  const name = rest.at(-1);
  if (name === undefined) return files.includes(top) || top.startsWith('.') ? null : 'stray at the top';
  if (!folders.includes(top)) return 'stray at the top';
  if (drawers.test(path)) return 'a drawer';
  if (name.startsWith('.')) return null;
  if (name.endsWith('.svelte')) return pascal.test(name) ? null : 'a component is PascalCase';
  return kebab.test(name) || capitalDocument.test(name) ? null : 'a file is kebab-case';
}

const faults = (paths: string[]) =>
  paths.flatMap((path) => (complaint(path) ? [`${path}: ${complaint(path) ?? ''}`] : []));

/** The repository as committed and about to be; what is ignored is nobody's business. */
const ours = () =>
  execFileSync('git', ['-c', 'safe.directory=*', 'ls-files', '--cached', '--others', '--exclude-standard'], {
    cwd: root,
    encoding: 'utf8',
  })
    .split('\n')
    .filter((path) => path !== '');

describe('laws of names', () => {
  test('the repository keeps them', () => {
    expect(ours().length).toBeGreaterThan(10);
    expect(faults(ours())).toEqual([]);
  });

  test.each([
    ['notes.md', 'stray at the top'],
    ['lib/a.ts', 'stray at the top'],
    ['src/main.ts', 'stray at the top'],
    ['core/utils/a.ts', 'a drawer'],
    ['server/helpers/a.ts', 'a drawer'],
    ['web/src/common/a.ts', 'a drawer'],
    ['server/manager/a.ts', 'a drawer'],
    ['shared/utils.ts', 'a drawer'],
    ['core/clearStart.ts', 'a file is kebab-case'],
    ['core/clear_start.ts', 'a file is kebab-case'],
    ['web/src/wall/lane.svelte', 'a component is PascalCase'],
  ])('%s is caught', (path, fault) => {
    expect(faults([path])).toEqual([`${path}: ${fault}`]);
  });

  test('lawful names pass', () => {
    const lawful = [
      'core/RULES.md',
      'web/src/wall/Lane.svelte',
      'web/src/state/second.svelte.ts',
      'core/basins/clear-start.ts',
    ];
    expect(faults([...lawful, '.ci/run', '.gitignore', 'server/store/migrations/0001-start.sql'])).toEqual([]);
  });
});
