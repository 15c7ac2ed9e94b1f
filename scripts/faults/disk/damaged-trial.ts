import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { dataFileName } from '../../../server/store/open-file.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { readLog } from '../log-file.ts';
import { pause } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { seenOf } from './seen.ts';

/** A damage that is not seen at the start is looked for by the reader; the floor must have been told within so much, real ms. */
const TOLD_WITHIN = 8_000;
const LABELS = 400;

interface Damage {
  readonly name: string;
  /** What is done to a folder whose server was killed. */
  readonly harm: (folder: string) => void;
  /** Whether the floor must say that the file is damaged; the others are mended without a word. */
  readonly seen: boolean;
  /** Tried in the short form too. */
  readonly often: boolean;
}

const fileIn = (folder: string): string => join(folder, dataFileName);

/** Overwrites the beginning of a page, counted from 0: its b-tree header, so that the page is no page any more. */
function spoil(folder: string, page: (pages: number) => number): void {
  const file = fileIn(folder);
  const bytes = readFileSync(file);
  const size = bytes.readUInt16BE(16);
  const at = page(Math.floor(bytes.length / size)) * size;
  for (let i = at; i < at + 64; i++) bytes[i] = 0xff ^ (bytes[i] ?? 0);
  writeFileSync(file, bytes);
}

const damages: readonly Damage[] = [
  {
    name: 'truncated to half',
    seen: true,
    often: true,
    harm: (folder) => truncateSync(fileIn(folder), readFileSync(fileIn(folder)).length >> 1),
  },
  { name: 'bytes flipped in the header', seen: true, often: false, harm: (folder) => spoil(folder, () => 0) },
  {
    name: 'bytes flipped in an old page',
    seen: true,
    often: true,
    harm: (folder) => spoil(folder, (pages) => pages >> 2),
  },
  {
    name: 'bytes flipped in the newest page',
    seen: true,
    often: false,
    harm: (folder) => spoil(folder, (pages) => pages - 1),
  },
  { name: 'zero-length -wal', seen: false, often: false, harm: (folder) => writeFileSync(`${fileIn(folder)}-wal`, '') },
  {
    name: 'missing -shm',
    seen: false,
    often: true,
    harm: (folder) => rmSync(`${fileIn(folder)}-shm`, { force: true }),
  },
];

interface History {
  /** As a goodbye leaves it: all in the file. */
  readonly whole: string;
  /** As a kill leaves it: the last event is in the -wal alone. */
  readonly killed: string;
  readonly head: string;
  /** Events that were acknowledged. */
  readonly events: number;
}

/** A floor with a history of many pages and a head with product on. */
async function history(built: TrialContext['built'], clock: HandClock): Promise<History> {
  const server = new ServerProcess(clock, undefined, ['--log-level', 'fatal'], { run: [built.server] });
  await server.start();
  await setUpSalon(server, relaxer(), 3);
  const visit = await server.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
  const labels = Array.from({ length: LABELS }, (_, n) => server.do({ type: 'WriteLabel', visit, label: `n${n}` }));
  await Promise.all(labels);
  const head = await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  await server.stop();
  const whole = copied(server.data);
  await server.start();
  await server.do({ type: 'WriteLabel', visit, label: 'last' });
  const { revision } = await server.floor();
  await server.kill();
  return { whole, killed: server.data, head, events: revision };
}

function copied(folder: string): string {
  const copy = mkdtempSync(join(tmpdir(), 'basinbell-damaged-'));
  cpSync(folder, copy, { recursive: true });
  return copy;
}

const digest = (folder: string): string =>
  createHash('sha256')
    .update(readFileSync(fileIn(folder)))
    .digest('hex');

async function damaged(damage: Damage, from: History, clock: HandClock, told: TrialContext): Promise<void> {
  const { built, say, claim } = told;
  const folder = copied(damage.seen ? from.whole : from.killed);
  damage.harm(folder);
  const before = digest(folder);
  const server = new ServerProcess(clock, folder, ['--log-level', 'fatal'], { run: [built.server] });
  const sentence = await server.start().then(
    () => null,
    () => server.output.trim().split('\n').at(-1) ?? '',
  );
  if (sentence !== null) {
    say(`${damage.name}: it does not start: ${sentence.replaceAll(folder, '…')}`);
    claim(
      `${damage.name}: refused in a sentence`,
      damage.seen && sentence.startsWith('✗ ') && sentence.includes('damaged'),
    );
    claim(`${damage.name}: the file is left as it was`, digest(folder) === before);
    return;
  }
  const begun = performance.now();
  while (damage.seen && !(await seenOf(server)).damaged && performance.now() - begun < TOLD_WITHIN) await pause(50);
  const seen = await seenOf(server);
  const took = Math.round(performance.now() - begun);
  const add = { type: 'AddPlace', kind: 'chair', number: 50, label: '50' } as const;
  const other = await server.send(add, { id: 'another-command' });
  const wash = { type: 'BeginRinse', chair: 2, visit: from.head, basin: 91 } as const;
  const water = await server.send(wash, { id: 'water-on-damaged' });
  say(
    `${damage.name}: it starts; screens: ${seen.told}${damage.seen ? ` after ${took} ms` : ''}; /readyz ${seen.ready}`,
  );
  say(
    `  another command: ${other.status} ${String(other.body['detail'] ?? 'done')}; water on: ${water.status} ${String(water.body['outcome'])}`,
  );
  if (damage.seen) await afterwards(damage, server, { folder, before, seen: seen.damaged }, { other, water }, claim);
  else await mended(damage, server, from.events, { other, water }, told);
}

interface Answers {
  readonly other: { readonly status: number };
  readonly water: { readonly status: number };
}

async function afterwards(
  { name }: Damage,
  server: ServerProcess,
  { folder, before, seen }: { readonly folder: string; readonly before: string; readonly seen: boolean },
  { other, water }: Answers,
  claim: TrialContext['claim'],
): Promise<void> {
  claim(`${name}: told to every screen`, seen);
  claim(`${name}: water on is taken, all else refused`, water.status === 202 && other.status === 503);
  await server.stop();
  claim(`${name}: the file is left as it was`, digest(folder) === before);
  const again = await server.start().then(
    () => null,
    () => server.output.trim().split('\n').at(-1) ?? '',
  );
  claim(
    `${name}: no later start writes to it`,
    again !== null && again.includes('damaged') && digest(folder) === before,
  );
  await server.stop();
}

async function mended(
  { name }: Damage,
  server: ServerProcess,
  before: number,
  { other, water }: Answers,
  { say, claim }: TrialContext,
): Promise<void> {
  claim(`${name}: goes on as before`, other.status === 200 && water.status === 200);
  await server.stop();
  const { integrity, rows } = readLog(server.data);
  const lost = rows.findIndex((row) => row.command === 'another-command');
  say(`  ${before - lost} of ${before} events are gone, and no trace of them that anybody could see`);
  claim(`${name}: nothing is corrupt`, integrity === 'ok', integrity);
}

async function allDamages(told: TrialContext): Promise<void> {
  const clock = new HandClock();
  const from = await history(told.built, clock);
  // The short form sees one of each kind: refused at the start, found by the check, mended.
  for (const damage of told.short ? damages.filter(({ often }) => often) : damages)
    await damaged(damage, from, clock, told);
}

/** Makes a file one that nobody can write, root included, by what the machine has for it; null if it has nothing. */
function withhold(file: string): { readonly how: string; readonly end: () => void } | null {
  try {
    execFileSync('chattr', ['+i', file], { stdio: 'ignore' });
    return { how: 'chattr +i', end: () => void execFileSync('chattr', ['-i', file]) };
  } catch {
    if (process.getuid?.() === 0) return null;
    execFileSync('chmod', ['444', file]);
    return { how: 'chmod 444', end: () => void execFileSync('chmod', ['644', file]) };
  }
}

async function readOnlyAtStart({ built, say, claim }: TrialContext): Promise<void> {
  const clock = new HandClock();
  const { killed: folder } = await history(built, clock);
  const withheld = withhold(fileIn(folder));
  const server = new ServerProcess(clock, folder, ['--log-level', 'fatal'], { run: [built.server] });
  const before = digest(folder);
  try {
    if (withheld === null)
      return claim('nothing on this machine can keep root from writing: tried while it runs only', existsSync(folder));
    const sentence = await server.start().then(
      () => null,
      () => server.output.trim().split('\n').at(-1) ?? '',
    );
    say(`read-only file by ${withheld.how}: ${sentence?.replaceAll(folder, '…') ?? 'it starts'}`);
    claim(
      'a start on a read-only file is refused in a sentence',
      sentence?.startsWith('✗ ') === true && sentence.includes('cannot be written'),
    );
  } finally {
    withheld?.end();
    await server.stop();
  }
  await server.start();
  const { rows } = readLog(folder);
  claim(
    'once it can be written it starts, with all there was',
    rows.length > LABELS && before !== '',
    `${rows.length} events`,
  );
  await server.stop();
}

export const damagedTrials: readonly Trial[] = [
  { name: 'disk: damaged files', form: 'both', run: allDamages },
  { name: 'disk: read-only file at the start', form: 'long', run: readOnlyAtStart },
];
