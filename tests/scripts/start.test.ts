import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { dataFolder, newestChange } from '../../scripts/before-start.mjs';
import { missingPackages, nodeComplaint } from '../../scripts/setting-up.mjs';

const root = fileURLToPath(new URL('../..', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'basinbell-start-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

describe('before the server starts', () => {
  test('a Node that is too old is told so, with what to do', () => {
    expect(nodeComplaint('18.20.4')).toContain('too old');
    expect(nodeComplaint('20.18.9')).toContain('20.19');
    expect([nodeComplaint('20.19.0'), nodeComplaint('22.0.0'), nodeComplaint('24.1.0')]).toEqual([null, null, null]);
  });

  test('packages are compared by version, optional ones left out', () => {
    const wanted = {
      '': { version: '0.1.0' },
      'node_modules/a': { version: '1.0.0' },
      'node_modules/b': { version: '1.0.0' },
      'node_modules/b/node_modules/c': { version: '2.0.0' },
      'node_modules/for-another-system': { version: '1.0.0', optional: true },
    };
    const present = { 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '0.9.0' } };
    expect(missingPackages(wanted, present)).toEqual(['b', 'c']);
    expect(missingPackages(wanted, null)).toEqual(['a', 'b', 'c']);
  });

  test('the data folder is the one named last, then the environment, then data/', () => {
    expect(dataFolder(['--port', '1', '--data', '/a'], '/b')).toBe('/a');
    expect(dataFolder(['--data=/a=1'], undefined)).toBe('/a=1');
    expect(dataFolder([], '/b')).toBe('/b');
    expect(dataFolder([], undefined)).toBe(join(root, 'data'));
  });

  test('pages are as old as their youngest source; the build itself is none', () => {
    const at = (path: string, seconds: number) => {
      mkdirSync(join(scratch, path, '..'), { recursive: true });
      writeFileSync(join(scratch, path), '');
      utimesSync(join(scratch, path), seconds, seconds);
    };
    at('src/wall/a.ts', 1000);
    at('index.html', 2000);
    at('dist/index.html', 9000);
    for (const folder of ['src/wall', 'src']) utimesSync(join(scratch, folder), 500, 500);
    expect(newestChange(scratch)).toBe(2_000_000);
    // A file taken away shows in its folder only.
    utimesSync(join(scratch, 'src/wall'), 3000, 3000);
    expect(newestChange(scratch)).toBe(3_000_000);
  });

  test('a data folder that cannot be made is named in a sentence, without a stack trace', () => {
    writeFileSync(join(scratch, 'a-file'), '');
    const folder = join(scratch, 'a-file/data');
    const answer = spawnSync(process.execPath, ['scripts/start.mjs', '--data', folder], {
      cwd: root,
      encoding: 'utf8',
    });
    expect(answer.status).toBe(1);
    expect(answer.stderr).toContain(`The data folder ${folder} cannot be written`);
    expect(answer.stderr).not.toContain('    at ');
  });
});
