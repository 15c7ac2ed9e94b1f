import { execFileSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { MINUTE, SECOND } from '../../../core/time.ts';
import type { VisitCommand } from '../../../core/visit/commands/command.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon, type Launch } from '../../../tests/support/server-process.ts';
import { doubledBellsOf, missedBellsOf } from '../judge/bells.ts';
import { doubledOf } from '../judge/doubled.ts';
import { readLog } from '../log-file.ts';
import { until } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { seenOf } from './seen.ts';

/** How a disk is made to take no more, and to take again. */
interface Way {
  readonly name: string;
  readonly form: Trial['form'];
  readonly launch: (built: TrialContext['built']) => Launch;
  readonly narrow: (server: ServerProcess) => Promise<void>;
  readonly widen: (server: ServerProcess) => Promise<void>;
}

const bySignal =
  (sign: string) =>
  async (server: ServerProcess): Promise<void> => {
    process.kill(server.pid, 'SIGUSR2');
    await until(sign, () => server.output.includes(sign));
  };

const inFile = (server: ServerProcess, most: string): void =>
  void execFileSync('prlimit', ['--pid', String(server.pid), `--fsize=${most}:unlimited`]);

const ways: readonly Way[] = [
  {
    name: 'full disk, SQLITE_FULL by max_page_count',
    form: 'both',
    launch: ({ narrow }) => ({ run: [narrow], env: { NARROW: 'full' } }),
    narrow: bySignal('narrow'),
    widen: bySignal('wide'),
  },
  {
    name: 'full disk, SQLITE_IOERR_WRITE by a limit of file sizes',
    form: 'both',
    // As `ulimit -f` does from the start on; lowered to what the files have once there is something to lose.
    launch: ({ server }) => ({
      run: [server],
      wrap: (command) => ['bash', '-c', 'ulimit -S -f 100000; exec "$@"', 'bash', ...command],
    }),
    narrow: async (server) => {
      const sizes = readdirSync(server.data, { withFileTypes: true }).filter((one) => one.isFile());
      inFile(server, String(Math.max(...sizes.map(({ name }) => statSync(join(server.data, name)).size))));
    },
    widen: async (server) => inFile(server, 'unlimited'),
  },
  {
    name: 'a file that has become read-only, SQLITE_READONLY by query_only',
    form: 'long',
    launch: ({ narrow }) => ({ run: [narrow], env: { NARROW: 'readonly' } }),
    narrow: bySignal('narrow'),
    widen: bySignal('wide'),
  },
];

/** Writes until something is refused; at most so often. */
async function fillUp(server: ServerProcess, visit: string): Promise<number> {
  for (let n = 0; n < 3_000; n++) {
    const { status } = await server.send({ type: 'WriteLabel', visit, label: `n${n}` });
    if (status === 503) return n;
  }
  throw new Error('the disk never became full');
}

async function narrowed(way: Way, { built, say, claim }: TrialContext): Promise<void> {
  const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], way.launch(built));
  await server.start();
  await setUpSalon(server, relaxer(), 4);
  const other = await server.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
  const head = await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  const late = await server.do({ type: 'BeginApplication', chair: 4, visit: null, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit: late });
  await way.narrow(server);
  const kept = await fillUp(server, other);

  const ask = (command: VisitCommand, id: string) => server.send(command, { id });
  const water = await ask({ type: 'BeginRinse', chair: 2, visit: head, basin: 91 }, 'water-while-full');
  const burns = await ask({ type: 'ReportBurns', chair: 3, visit: null, place: 'eye' }, 'burns-while-full');
  const refused = await ask({ type: 'FinishApplication', visit: other }, 'finish-while-full');
  server.clock.pass(14 * MINUTE);
  await server.turn();
  const during = await seenOf(server);
  const rung = (await server.facts(late)).bells.map(({ kind, level }) => `${kind} ${level}`);
  say(`${kept} more commands were taken; then refused: ${refused.status} "${String(refused.body['detail'])}"`);
  say(
    `water on: ${water.status} ${String(water.body['outcome'])}; burns: ${burns.status} ${String(burns.body['outcome'])}`,
  );
  say(`screens: ${during.told}; bells of the floor: ${during.floorBells}; /readyz ${during.ready}`);
  claim(
    'water on and burns are taken',
    [water, burns].every(({ status }) => status === 202),
  );
  claim(
    'everything else is refused with a sentence',
    refused.status === 503 && String(refused.body['detail']).length > 20,
  );
  claim(
    'it is told as not saved, and `not-saved` rings',
    during.unsaved && during.floorBells.includes('not-saved WARNING'),
  );
  claim('bells go on from memory', rung.includes('rinse WARNING'), rung.join());
  await thenWide(way, server, { head, late }, { say, claim });
}

/** Space returns: what was kept in memory is stored, nothing twice, and outlives a kill. */
async function thenWide(
  way: Way,
  server: ServerProcess,
  { head, late }: { readonly head: string; readonly late: string },
  { say, claim }: Pick<TrialContext, 'say' | 'claim'>,
): Promise<void> {
  await way.widen(server);
  server.clock.pass(3 * SECOND);
  await server.turn();
  await server.turn();
  const after = await seenOf(server);
  const done = await server.send({ type: 'FinishApplication', visit: head }, { id: 'finish-when-wide' });
  say(`room again: ${after.told}; bells of the floor: ${after.floorBells || 'none'}; /readyz ${after.ready}`);
  claim('after space returns nothing stands as not saved', !after.unsaved && !after.floorBells.includes('not-saved'));
  claim('commands are taken again', done.status !== 503, `${done.status}`);
  await server.kill();
  await server.start();
  const facts = await server.facts(head);
  const burnt = await server.facts('burns-while-full');
  const again = await server.send({ type: 'BeginRinse', chair: 2, visit: head, basin: 91 }, { id: 'water-while-full' });
  const { now } = await server.turn();
  const { integrity, log, rows } = readLog(server.data);
  const rings = log.filter(({ stream, event }) => stream === `visit/${late}` && event.type === 'BellRung');
  claim('the water and the burns outlive a kill', facts.stage === 'rinse' && burnt.burns?.place === 'eye');
  claim('the water sent again is the same', again.body['visit'] === head, `${again.status}`);
  claim('nothing is corrupt', integrity === 'ok', integrity);
  const twice = [...doubledOf(rows), ...doubledBellsOf(log)];
  claim('nothing is there twice', twice.length === 0, twice[0] ?? `${rings.length} bells of the late head`);
  // `not-saved` itself rang from memory; what the rules of heads ring must all be there.
  const missed = missedBellsOf(log, [now]).filter((one) => !one.includes('not-saved'));
  claim('no bell is lost', missed.length === 0, missed[0] ?? '');
  await server.stop();
}

export const narrowTrials: readonly Trial[] = ways.map((way) => ({
  name: `disk: ${way.name}`,
  form: way.form,
  run: (told) => narrowed(way, told),
}));
