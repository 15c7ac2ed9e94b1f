import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { MINUTE, SECOND, type EpochMs } from '../../../core/time.ts';
import type { EventRow } from '../../../server/store/event-rows.ts';
import type { Death, Whereabouts } from '../../../tests/support/death.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { Chance } from '../chance.ts';
import { doubledBellsOf, missedBellsOf, rungIn } from '../judge/bells.ts';
import { wrongClosesOf } from '../judge/closes.ts';
import { doubledOf } from '../judge/doubled.ts';
import { changedOf, lostOf } from '../judge/lost.ts';
import { readLog } from '../log-file.ts';
import { pause } from '../pause.ts';
import { aimOf, deathFor, type Aim } from './deaths.ts';
import { Desk } from './desk.ts';
import { playChair, takeBells } from './hands.ts';

const CHAIRS = 6;
/** A kill that has not come by itself is made from outside, real ms. */
const KILL_WITHIN = 5_000;
/** Simulated time goes on by so much at each turn of the hand. */
const STEP = 10 * SECOND;
const STEP_EVERY = 20;
const CEILING = 30 * MINUTE;
const MOST = 15 * MINUTE;

/** What was found wrong, each thing once. */
class Found {
  readonly lost = new Set<string>();
  readonly changed = new Set<string>();
  readonly doubled = new Set<string>();
  readonly doubledBells = new Set<string>();
  readonly missedBells = new Set<string>();
  readonly integrity = new Set<string>();
}

export interface End {
  readonly events: number;
  readonly bells: number;
  readonly heads: number;
  /** Heads with product on at their close. */
  readonly overdue: number;
  readonly wrong: readonly string[];
}

/** One data file that outlives its servers, and the hands at work on it. */
export class Life {
  readonly server: ServerProcess;
  readonly desk: Desk;
  readonly found = new Found();
  /** Kills by where the process was. */
  readonly wheres = new Map<Whereabouts, number>();
  /** Commands without an answer at a kill, and those of them that the log held. */
  readonly caught = { open: 0, stored: 0 };
  readonly restartMs: number[] = [];
  startKills = 0;
  checks = 0;
  readonly #aims: Aim[] = [];
  readonly #chance: Chance;
  readonly #run: readonly string[];
  readonly #where = join(mkdtempSync(join(tmpdir(), 'basinbell-where-')), 'where');
  readonly #plant: Pick<Death, 'plant'>;
  #hands: Promise<void>[] = [];
  /** Instants at which a server is known to have looked. */
  readonly #turns: EpochMs[] = [];
  #before: readonly EventRow[] = [];

  private constructor(entry: string, seed: number, plant: Pick<Death, 'plant'>) {
    const clock = new HandClock();
    this.server = new ServerProcess(clock, undefined, ['--log-level', 'fatal']);
    this.desk = new Desk(clock);
    this.#chance = new Chance(seed);
    this.#run = [entry];
    this.#plant = plant;
  }

  static async begin(entry: string, seed: number, plant: Pick<Death, 'plant'> = {}): Promise<Life> {
    const life = new Life(entry, seed, plant);
    life.server.launch = { run: life.#run };
    await life.server.start();
    await setUpSalon(life.server, relaxer({ ceilingMs: CEILING, maxAfterMs: MOST }), CHAIRS);
    await life.server.stop();
    const hands = Array.from({ length: CHAIRS }, (_, i) => playChair(i + 1, life.desk, new Chance(seed + i)));
    life.#hands = [...hands, takeBells(life.desk)];
    return life;
  }

  aimed(aim: Aim): number {
    return this.#aims.filter((one) => one === aim).length;
  }

  /** A server begins, is checked, gets its load and is killed. */
  async killOnce(kill: number): Promise<void> {
    const aim = aimOf(kill);
    this.#aims.push(aim);
    const death: Death = { ...deathFor(aim, this.#chance), ...this.#plant };
    if (await this.#start(death)) {
      await this.#check();
      await this.#load(aim === 'outside' ? this.#chance.whole(50, 600) : KILL_WITHIN);
    } else this.startKills += 1;
    const where = readFileSync(this.#where, 'utf8') as Whereabouts;
    this.wheres.set(where, (this.wheres.get(where) ?? 0) + 1);
    // Nobody keeps watch for a while, at times for a long one.
    const long = this.#chance.whole(1, 8) === 1;
    this.server.clock.pass(this.#chance.whole(0, long ? 12 * 60 : 90) * SECOND);
  }

  /** A last server: everything open is answered, and the whole log is judged. */
  async end(): Promise<End> {
    await this.#start({ point: 'never' });
    await this.#check();
    this.desk.over = true;
    this.desk.open(this.server.address);
    await Promise.all(this.#hands);
    const { now } = await this.server.turn();
    const { log } = await this.#judge(now);
    for (const one of missedBellsOf(log, this.#turns)) this.found.missedBells.add(one);
    const { heads, due, wrong } = wrongClosesOf(log, now, { ceilingMs: CEILING, maxAfterMs: MOST });
    await this.server.stop();
    return { events: log.length, bells: rungIn(log), heads, overdue: due, wrong };
  }

  /** Whether it came so far as to listen. */
  async #start(death: Death): Promise<boolean> {
    this.server.launch = { run: this.#run, env: { DEATH: JSON.stringify(death), WHEREABOUTS: this.#where } };
    const begun = performance.now();
    try {
      await this.server.start();
    } catch {
      return false;
    }
    this.restartMs.push(performance.now() - begun);
    return true;
  }

  async #check(): Promise<void> {
    const { now } = await this.server.floor();
    const { answers } = await this.#judge(now);
    const open = [...this.desk.unanswered];
    this.caught.open += open.length;
    this.caught.stored += open.filter((id) => answers.has(id)).length;
  }

  async #judge(now: number): Promise<ReturnType<typeof readLog>> {
    const read = readLog(this.server.data);
    const { found } = this;
    this.checks += 1;
    if (read.integrity !== 'ok') found.integrity.add(read.integrity);
    for (const one of lostOf(this.desk.acknowledged, read)) found.lost.add(one);
    for (const one of changedOf(this.#before, read.rows)) found.changed.add(`place ${one}`);
    for (const one of doubledOf(read.rows)) found.doubled.add(one);
    for (const one of doubledBellsOf(read.log)) found.doubledBells.add(one);
    // Folding everything anew takes long: each tenth start, and all instants at the end.
    this.#turns.push(now);
    if (this.checks % 10 === 1) for (const one of missedBellsOf(read.log, [now])) found.missedBells.add(one);
    this.#before = read.rows;
    return read;
  }

  /** Hands act and time goes on until the process is dead. */
  async #load(killAfterMs: number): Promise<void> {
    this.desk.open(this.server.address);
    const begun = performance.now();
    let dead = false;
    const gone = this.server.gone().then(() => (dead = true));
    while (!dead && performance.now() - begun < killAfterMs) {
      this.server.clock.pass(STEP);
      const turn = await this.server.turn().catch(() => null);
      if (turn !== null) this.#turns.push(turn.now);
      await pause(STEP_EVERY);
    }
    if (!dead) await this.server.kill();
    await gone;
    this.desk.shut();
  }
}
