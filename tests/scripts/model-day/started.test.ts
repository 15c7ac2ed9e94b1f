import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync, mkdtempSync, readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, expect, test } from 'vitest';
import { modelDayOf } from '../../../server/model-day/start-model-day.ts';
import type { Snapshot } from '../../../shared/wire.ts';

const program = fileURLToPath(new URL('../../../scripts/model-day.ts', import.meta.url));

let started: ChildProcess | null = null;
afterEach(() => {
  started?.kill('SIGKILL');
  started = null;
});

function start(folder: string): ChildProcess {
  const args = ['--import', 'tsx', program, '--port', '0', '--data', folder, '--seed', '3'];
  started = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe', 'ipc'] });
  return started;
}

const freshFolder = () => join(mkdtempSync(join(tmpdir(), 'basinbell-started-')), 'model-day');

async function floorAt(url: string): Promise<Snapshot> {
  return (await (await fetch(new URL('/api/v1/floor', url))).json()) as Snapshot;
}

/** Asks until nobody answers any more; the test's own time limit is the end of patience. */
async function silenceAt(url: string): Promise<void> {
  for (;;) {
    try {
      await fetch(new URL('/healthz', url));
    } catch {
      return;
    }
  }
}

test('[T2] a real server is driven to a living floor in real time, on a data file of its own, and ends with its parent', async () => {
  const folder = freshFolder();
  const child = start(folder);
  const [{ url }] = (await once(child, 'message')) as [{ url: string }];
  const { entities, now } = await floorAt(url);
  expect(entities['salon']).toMatchObject({ kind: 'salon', facts: { demonstration: true } });
  const visits = Object.values(entities).flatMap((one) => (one.kind === 'visit' ? [one.facts] : []));
  expect(visits.filter((visit) => visit.stage !== 'finished')).toHaveLength(7);
  // The hour was played; from here the clock is the machine's.
  expect(Math.abs(now - Date.now())).toBeLessThan(5_000);
  expect(readdirSync(folder)).toContain('floor.db');
  child.disconnect();
  const [code] = (await once(child, 'exit')) as [number];
  expect(code).toBe(0);
  await silenceAt(url);
}, 60_000);

test('its server ends with it, even when it is killed without a word', async () => {
  const child = start(freshFolder());
  const [{ url }] = (await once(child, 'message')) as [{ url: string }];
  child.kill('SIGKILL');
  await once(child, 'exit');
  await silenceAt(url);
}, 60_000);

test('a folder that is not its own is refused with a sentence, before anything is started or touched', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'basinbell-real-'));
  writeFileSync(join(folder, 'floor.db'), 'a real salon');
  const child = start(folder);
  let said = '';
  child.stderr?.on('data', (chunk: Buffer) => (said += chunk.toString()));
  const [code] = (await once(child, 'exit')) as [number];
  expect(code).toBe(1);
  expect(said).toContain('did not make');
  expect(readdirSync(folder)).toEqual(['floor.db']);
}, 60_000);

test('chosen twice on the first page it is the same day; it lies inside the data folder and stops with the server', async () => {
  const data = mkdtempSync(join(tmpdir(), 'basinbell-data-'));
  const day = modelDayOf({ data, lan: false, log: { warn: () => undefined } });
  const [first, second] = await Promise.all([day.start(), day.start()]);
  expect(second).toEqual(first);
  expect(existsSync(join(data, 'model-day'))).toBe(true);
  expect(readdirSync(data)).toEqual(['model-day']);
  expect((await floorAt(first.url)).revision).toBeGreaterThan(50);
  day.stop();
  await silenceAt(first.url);
}, 60_000);
