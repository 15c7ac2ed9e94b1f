import { existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { beforeEach, describe, expect, test } from 'vitest';
import { FolderRefused, makeAnew, MARK } from '../../../scripts/model-day/folder.ts';
import { OptionRefused, optionsOf } from '../../../scripts/model-day/options.ts';

let parent: string;
beforeEach(() => {
  parent = mkdtempSync(join(tmpdir(), 'basinbell-model-day-'));
});

describe("the model day's folder", () => {
  test('is made where there is none, and made anew at the next start', () => {
    const folder = join(parent, 'data', 'model-day');
    makeAnew(folder);
    writeFileSync(join(folder, 'floor.db'), 'yesterday');
    mkdirSync(join(folder, 'deeper'));
    writeFileSync(join(folder, 'deeper', 'file'), 'yesterday');
    makeAnew(folder);
    expect(readdirSync(folder)).toEqual([MARK]);
  });

  test('an empty folder will do', () => {
    makeAnew(parent);
    expect(readdirSync(parent)).toEqual([MARK]);
  });

  test("a folder without the mark is refused and nothing in it is touched: it may be a real salon's", () => {
    writeFileSync(join(parent, 'floor.db'), 'a real salon');
    expect(() => makeAnew(parent)).toThrow(FolderRefused);
    expect(readdirSync(parent)).toEqual(['floor.db']);
    expect(readFileSync(join(parent, 'floor.db'), 'utf8')).toBe('a real salon');
  });

  test('a link to a folder is refused, whatever lies behind it', () => {
    const real = join(parent, 'real');
    makeAnew(real);
    writeFileSync(join(real, 'kept'), '');
    symlinkSync(real, join(parent, 'link'));
    expect(() => makeAnew(join(parent, 'link'))).toThrow(FolderRefused);
    expect(existsSync(join(real, 'kept'))).toBe(true);
  });

  test('a folder in which another model day is running is refused; one whose process is gone is not', () => {
    makeAnew(parent);
    const mark = JSON.parse(readFileSync(join(parent, MARK), 'utf8')) as object;
    // The process that started this test is there for as long as the test is.
    writeFileSync(join(parent, MARK), JSON.stringify({ ...mark, pid: process.ppid }));
    expect(() => makeAnew(parent)).toThrow(/running/);
    writeFileSync(join(parent, MARK), JSON.stringify({ ...mark, pid: process.ppid, boot: 'another boot' }));
    expect(() => makeAnew(parent)).not.toThrow();
  });
});

describe('what can be asked for', () => {
  test('a folder of its own beside the data of the salon, unless another is named', () => {
    expect(optionsOf([])).toMatchObject({ folder: resolve('data', 'model-day'), lan: false });
    expect(optionsOf(['--data', '/x', '--seed', '5', '--port', '0', '--lan'])).toEqual({
      folder: '/x',
      seed: 5,
      port: 0,
      lan: true,
    });
  });

  test.each([['--seed', 'five'], ['--port', '70000'], ['--port', '-1'], ['--colour'], ['elsewhere']])(
    '%s %s is refused',
    (...args) => {
      expect(() => optionsOf(args.filter((arg) => arg !== undefined))).toThrow(OptionRefused);
    },
  );
});
