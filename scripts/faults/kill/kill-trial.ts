import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import { SqliteStore } from '../../../server/store/sqlite-store.ts';
import type { Whereabouts } from '../../../tests/support/death.ts';
import { copyOf } from '../log-file.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { Life } from './life.ts';
import { aims, places } from './deaths.ts';

/** Kills of one run; the promise is made over 200. */
const KILLS = { short: 24, long: 200, planted: 8 } as const;
const SEED = 20_260_310;

/** Whether what is computed from the log is what computing it anew gives, on a copy of the file. */
async function projectionsAgree(folder: string): Promise<boolean> {
  const copy = mkdtempSync(join(tmpdir(), 'basinbell-copy-'));
  await copyOf(folder, copy);
  const store = new SqliteStore({ folder: copy });
  const lived = store.projected();
  store.rebuild();
  const same = isDeepStrictEqual(store.projected(), lived);
  store.close();
  rmSync(copy, { recursive: true });
  return same;
}

async function killed({ short, built, say, claim }: TrialContext): Promise<void> {
  const kills = short ? KILLS.short : KILLS.long;
  const life = await Life.begin(built.dying, SEED);
  for (let kill = 0; kill < kills; kill++) await life.killOnce(kill);
  const end = await life.end();
  const { desk, found } = life;
  say(
    `${kills} kills by SIGKILL under load, one data file; aimed at ${counted(aims.map((one) => [one, life.aimed(one)]))}`,
  );
  const wheres = (Object.keys(places) as Whereabouts[]).map((where) => [places[where], life.wheres.get(where) ?? 0]);
  say(`where the process was: ${counted(wheres as [string, number][])}`);
  const restarts = life.restartMs.map(Math.round).sort((a, b) => a - b);
  say(
    `${life.startKills} of them while a server was starting; a restart took ${restarts[restarts.length >> 1]} ms (median)`,
  );
  say(`${desk.sent} commands sent, ${desk.acknowledged.length} acknowledged, ${desk.resent} only after sending again`);
  say(
    `at the kills ${life.caught.open} commands had no answer: ${life.caught.stored} of them were in the log all the same, ` +
      'and got the answer that was kept',
  );
  say(`refused by the rules: ${counted([...desk.refusals])}`);
  say(
    `log: ${end.events} events, ${end.bells} bells rung, ${end.heads} heads, ${end.overdue} of them past their close`,
  );
  claim('acknowledged commands lost 0', found.lost.size === 0, told(found.lost));
  claim('events once in the log changed or gone 0', found.changed.size === 0, told(found.changed));
  claim('events doubled 0', found.doubled.size === 0, told(found.doubled));
  claim('bells rung twice or out of turn 0', found.doubledBells.size === 0, told(found.doubledBells));
  claim('bells lost 0, by folding the log anew', found.missedBells.size === 0, told(found.missedBells));
  claim(
    '`over` once at each close, by own reckoning',
    end.wrong.length === 0 && end.overdue > 0,
    told(new Set(end.wrong)),
  );
  claim(
    'a command sent again got the same answer',
    desk.differed.length === 0,
    `${desk.repeated} sent again; ${told(new Set(desk.differed))}`,
  );
  claim('every command was answered in the end', desk.unanswered.size === 0, `${desk.unanswered.size} left`);
  claim(`integrity_check ok after each of ${life.checks} starts`, found.integrity.size === 0, told(found.integrity));
  claim('projections equal a rebuild', await projectionsAgree(life.server.data));
  const missed = (['w', 'c', 'a'] as const).filter((where) => !life.wheres.has(where));
  claim('kills hit before, in and after the commit', missed.length === 0);
}

const told = (faults: ReadonlySet<string>): string =>
  faults.size === 0 ? 'none' : `${faults.size}, first ${[...faults][0]}`;

const counted = (counts: readonly (readonly [string, number])[]): string =>
  counts.map(([what, n]) => `${what} ${n}`).join(', ') || 'none';

/** The harness is worth something only if it sees a loss: a server that answers before it stores must be found out. */
async function planted({ built, say, claim }: TrialContext): Promise<void> {
  const life = await Life.begin(built.dying, SEED, { plant: 'answers-before-storing' });
  let kills = 0;
  // What was told last is lost each time; a turn without a command among them loses nothing that anybody was told.
  while (kills < KILLS.planted && life.found.lost.size === 0) await life.killOnce(kills++);
  await life.end();
  say(`planted: a server that answers a turn before it stores it, killed ${kills} times`);
  claim('the loss is seen', life.found.lost.size > 0, `${life.found.lost.size} acknowledged commands are missing`);
}

export const killTrials: readonly Trial[] = [
  { name: 'kill -9 under load', form: 'both', run: killed },
  { name: 'kill -9 of a server that answers before it stores', form: 'both', run: planted },
];
