import { spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { SECOND } from '../../../core/time.ts';
import { evolve } from '../../../core/evolve.ts';
import { emptyFloor } from '../../../core/floor.ts';
import { dataFileName } from '../../../server/store/open-file.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { Chance } from '../chance.ts';
import { lostOf } from '../judge/lost.ts';
import { Desk } from '../kill/desk.ts';
import { playChair } from '../kill/hands.ts';
import { readLog, type Read } from '../log-file.ts';
import { pause } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const CHAIRS = 6;
const BACKUPS = { short: 1, long: 5 } as const;

interface Ran {
  readonly code: number | null;
  readonly text: string;
}

/** A script as people run it, beside a server that goes on. */
async function run(script: string, args: readonly string[]): Promise<Ran> {
  const child = spawn(process.execPath, ['--import', 'tsx', `scripts/${script}.ts`, ...args], { cwd: root });
  let text = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (chunk: Buffer) => (text += chunk.toString()));
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, text: text.trim() })));
}

/** A backup as a data folder of its own, so that it is read as any other. */
function asFolder(file: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'basinbell-backup-'));
  writeFileSync(join(folder, dataFileName), readFileSync(file));
  return folder;
}

const folded = ({ log }: Read, events = log.length) => log.slice(0, events).reduce(evolve, emptyFloor);

async function underLoad({ short, built, say, claim }: TrialContext): Promise<void> {
  const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], { run: [built.server] });
  await server.start();
  await setUpSalon(server, relaxer(), CHAIRS);
  const desk = new Desk(server.clock);
  desk.open(server.address);
  const hands = Array.from({ length: CHAIRS }, (_, i) => playChair(i + 1, desk, new Chance(i)));
  const time = (async (): Promise<void> => {
    while (!desk.over) {
      server.clock.pass(10 * SECOND);
      await server.turn();
      await pause(20);
    }
  })();
  const before = desk.acknowledged.length;
  const made: Ran[] = [];
  for (let n = 0; n < (short ? BACKUPS.short : BACKUPS.long); n++)
    made.push(await run('backup', ['--data', server.data]));
  const during = desk.acknowledged.length - before;
  desk.over = true;
  await Promise.all([...hands, time]);
  await server.stop();
  say(`${made.length} backups by \`npm run backup\` while ${during} commands were acknowledged`);
  say(made.at(-1)?.text.replaceAll(server.data, '…') ?? '');
  claim(
    'each backup is made',
    made.every(({ code }) => code === 0),
  );
  claim('under load', during > 50, `${during} commands`);
  await restored(server, desk, { say, claim });
}

async function restored(
  server: ServerProcess,
  desk: Desk,
  { say, claim }: Pick<TrialContext, 'say' | 'claim'>,
): Promise<void> {
  const backups = join(server.data, 'backups');
  const live = readLog(server.data);
  const files = readdirSync(backups)
    .filter((name) => name.endsWith('.db'))
    .sort();
  const reads = files.map((name) => readLog(asFolder(join(backups, name))));
  const sound = reads.every(({ integrity }) => integrity === 'ok');
  claim('each passes integrity_check', sound && files.length > 0, `${files.length} files`);
  const same = reads.every((read) => isDeepStrictEqual(folded(read), folded(live, read.log.length)));
  claim('each folds to the state the floor had at its last event', same, reads.map(({ log }) => log.length).join(', '));
  const kept = reads.map((read) => {
    const last = read.log.length;
    return lostOf(
      desk.acknowledged.filter(({ body }) => Number(body['revision']) <= last),
      read,
    ).length;
  });
  claim(
    'every command acknowledged before it is in it',
    kept.every((lost) => lost === 0),
  );

  // The data file is spoilt; what the server says names the way back.
  const file = join(server.data, dataFileName);
  const bytes = readFileSync(file);
  writeFileSync(file, bytes.subarray(0, bytes.length >> 1));
  const refused = await server.start().then(
    () => '',
    () => server.output.trim().split('\n').at(-1) ?? '',
  );
  say(`spoilt file: ${refused.replaceAll(server.data, '…')}`);
  claim('the refusal names the restore', refused.includes('restore'));
  const back = await run('restore', ['newest', '--data', server.data]);
  for (const line of back.text.split('\n')) say(line.replaceAll(server.data, '…'));
  await server.start();
  const after = readLog(server.data);
  const newest = reads.reduce((a, b) => (b.log.length > a.log.length ? b : a));
  const held = isDeepStrictEqual(folded(after, newest.log.length), folded(newest));
  claim('restored, it starts with what the newest backup held', back.code === 0 && held && after.integrity === 'ok');
  const done = await server.send({ type: 'AddPlace', kind: 'chair', number: 60, label: '60' }, { id: 'after-restore' });
  claim('and takes commands', done.status === 200, `${done.status}`);
  await server.stop();
}

export const backupTrials: readonly Trial[] = [
  { name: 'backup under load, and restore', form: 'both', run: underLoad },
];
