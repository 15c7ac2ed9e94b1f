import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { optionsOf, OptionRefused } from '../../scripts/backup/options.ts';
import { lasting } from '../../scripts/backup/words.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

interface Ended {
  readonly code: number;
  readonly said: string;
}

function run(script: string, ...args: readonly string[]): Promise<Ended> {
  return new Promise((resolve) => {
    execFile(process.execPath, ['--import', 'tsx', `scripts/${script}.ts`, ...args], { cwd: root }, (error, out, err) =>
      resolve({ code: error === null ? 0 : Number(error.code), said: `${out}${err}` }),
    );
  });
}

describe('backup and restore, as somebody types them', () => {
  let data: string;
  let server: ServerProcess;
  beforeEach(() => {
    data = mkdtempSync(join(tmpdir(), 'floor-'));
    server = new ServerProcess(new HandClock(), data);
  });
  afterEach(async () => {
    await server.stop();
    rmSync(data, { recursive: true, force: true });
  });

  it('[R8] a damaged file ends the start with the very command that mends it', async () => {
    await server.start();
    await setUpSalon(server, relaxer(), 2);
    const visit = await server.do({ type: 'BeginApplication', chair: 1, visit: null, service: null });
    const backup = await run('backup', '--data', data);
    expect(backup).toMatchObject({ code: 0 });
    expect(backup.said).toMatch(/floor-\d{8}T\d{6}Z-salon-\d{4}-r\d+\.db: \d+ events, 1 visit, 1 open, checked\./);
    await server.do({ type: 'FinishApplication', visit });

    const early = await run('restore', 'newest', '--data', data);
    expect(early.code).toBe(1);
    expect(early.said).toContain('in use by a server');
    await server.stop();
    writeFileSync(join(data, 'floor.db'), readFileSync(join(data, 'floor.db')).fill(0x5a, 0, 100));

    const sentence = await server.start().then(
      () => '',
      (error: unknown) => String(error),
    );
    expect(sentence).toContain('ended with 5');
    const [, typed = ''] = /npm run restore -- (.*?) – then start again\./.exec(sentence) ?? [];
    expect(typed).toContain(data);
    const mended = await run('restore', ...typed.split(' '));
    expect(mended).toMatchObject({ code: 0 });
    expect(mended.said).toMatch(/is in place, as it was at .*: \d+ events, 1 visit, 1 open\./);
    expect(mended.said).toContain('is lost');
    await server.start();
    expect(await server.facts(visit)).toMatchObject({ stage: 'apply' });
  });

  it('[R8] lists nothing, backs up nothing and restores nothing where there is nothing, and says so', async () => {
    const [list, backup, newest] = await Promise.all([
      run('restore', '--data', data),
      run('backup', '--data', data),
      run('restore', 'newest', '--data', data),
    ]);
    expect(list).toMatchObject({ code: 0, said: `· There is no backup in ${join(data, 'backups')}.\n` });
    expect(backup).toMatchObject({ code: 1, said: `✗ There is no data in ${data} yet.\n` });
    expect(newest.code).toBe(1);
    expect(newest.said).toContain('Nothing was changed.');
  });

  it('[W3] takes folders as the server does, and refuses what it does not know in words', () => {
    expect(optionsOf(['newest'], { BASINBELL_DATA: '/d' })).toEqual({
      data: '/d',
      backups: '/d/backups',
      own: true,
      named: 'newest',
    });
    expect(optionsOf(['--backups', '/b'], { BASINBELL_BACKUPS: '/c' })).toMatchObject({ backups: '/b', own: false });
    expect(() => optionsOf(['--date', 'x'], {})).toThrow(OptionRefused);
    expect(() => optionsOf(['a', 'b'], {})).toThrow(/One name/);
  });

  it.each([
    [59_999, 'less than a minute'],
    [60_000, '1 minute'],
    [2 * 3_600_000 - 1, '1 hour'],
    [26 * 3_600_000, '1 day'],
  ])('[R8] %i ms are told as %s', (ms, told) => expect(lasting(ms)).toBe(told));
});
