import type { Command, Sender } from '../../../core/command.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import type { LastAlive, Reading } from '../../../core/trust/timescale.ts';
import type { VisitFacts } from '../../../core/visit/visit.ts';
import type { CommandRequest } from '../../../shared/wire.ts';
import { Engine, type Change, type EngineLog } from '../../../server/engine/engine.ts';
import type { Reply } from '../../../server/engine/reply.ts';
import type { Timers } from '../../../server/engine/timers.ts';
import { MemoryStore } from '../../../server/store/memory-store.ts';
import { StorageError, type Batch } from '../../../server/store/store.ts';
import { relaxer } from '../../support/directions-kit.ts';

/** Noon of an invented day. */
export const NOON = Date.UTC(2026, 2, 10, 12);

/** The machine's clocks, moved by the test. */
export class Hand {
  at: Reading = { wall: NOON, mono: 1_000, uptime: 600_000, bootId: 'boot-1' };

  read(): Reading {
    return this.at;
  }

  pass(ms: number): void {
    const { wall, mono, uptime, bootId } = this.at;
    this.at = { wall: wall + ms, mono: mono + ms, uptime: uptime + ms, bootId };
  }

  sleep(ms: number): void {
    this.at = { ...this.at, wall: this.at.wall + ms, uptime: this.at.uptime + ms };
  }

  stepWall(ms: number): void {
    this.at = { ...this.at, wall: this.at.wall + ms };
  }

  reboot(wallMs: number): void {
    this.at = { wall: this.at.wall + wallMs, mono: 100, uptime: 20_000, bootId: 'boot-2' };
  }
}

/** Timers that wait for the test: what is due soon runs when asked, and the one wake-up is there to be read. */
export class HeldTimers implements Timers {
  waiting: { readonly ms: number; readonly task: () => void }[] = [];
  #soon: (() => void)[] = [];

  soon(task: () => void): void {
    this.#soon.push(task);
  }

  after(ms: number, task: () => void): () => void {
    const one = { ms, task };
    this.waiting.push(one);
    return () => {
      this.waiting = this.waiting.filter((other) => other !== one);
    };
  }

  every(): () => void {
    return () => undefined;
  }

  runSoon(): void {
    for (const task of this.#soon.splice(0)) task();
  }
}

/** A store whose disk can be full, and which counts what it was asked to write. */
export class Disk extends MemoryStore {
  full = false;
  writes: (readonly Batch[])[] = [];

  override write(batches: readonly Batch[], alive: LastAlive): void {
    if (this.full) throw new StorageError('full', new Error('no space'));
    super.write(batches, alive);
    this.writes.push(batches);
  }

  override keepAlive(alive: LastAlive): void {
    if (this.full) throw new StorageError('full', new Error('no space'));
    super.keepAlive(alive);
  }
}

export class Bench {
  readonly hand = new Hand();
  readonly disk: Disk;
  timers = new HeldTimers();
  changes: Change[] = [];
  faults: unknown[] = [];
  engine: Engine;
  #ids = 0;
  #names = 0;

  constructor(disk = new Disk()) {
    this.disk = disk;
    this.engine = this.#begin();
  }

  #begin(): Engine {
    const log: EngineLog = {
      error: (details) => this.faults.push(details),
      warn: () => undefined,
      info: () => undefined,
    };
    this.timers = new HeldTimers();
    const { disk: store, hand: clock, timers } = this;
    const engine = new Engine({ store, clock, timers, log, freshId: () => `name-${++this.#names}` });
    engine.subscribe((change) => this.changes.push(change));
    return engine;
  }

  /** The process is gone without a goodbye, and starts again on the same disk. */
  restart(): void {
    this.engine = this.#begin();
  }

  request(command: Command, sender: Partial<Sender> = {}): CommandRequest {
    const id = `command-${String(++this.#ids).padStart(4, '0')}`;
    return { id, by: null, device: null, seen: null, happenedAt: null, ...sender, ...command };
  }

  /** Several commands of one turn. */
  together(...requests: readonly CommandRequest[]): Promise<Reply[]> {
    const replies = requests.map((request) => this.engine.submit(request));
    this.timers.runSoon();
    return Promise.all(replies);
  }

  async send(command: Command, sender: Partial<Sender> = {}): Promise<Reply> {
    const [reply] = await this.together(this.request(command, sender));
    if (reply === undefined) throw new Error('no reply');
    return reply;
  }

  /** Sends, expects it to be done, and returns the visit concerned. */
  async do(command: Command, sender: Partial<Sender> = {}): Promise<string> {
    const reply = await this.send(command, sender);
    if ('refused' in reply) throw new Error(`refused: ${JSON.stringify(reply.refused)}`);
    return reply.accepted.visit ?? '';
  }

  /** Time goes on and the engine takes a turn. */
  pass(ms: number): void {
    this.hand.pass(ms);
    this.engine.turn();
  }

  facts(visit: string): VisitFacts {
    const one = this.engine.floor.visits[visit];
    if (one === undefined) throw new Error(`no visit ${visit}`);
    return one.facts;
  }

  bells(visit: string): string[] {
    return this.facts(visit).bells.map((bell) => `${bell.kind} ${bell.level} #${bell.episode}`);
  }

  floorBells(): string[] {
    return this.engine.floor.floorBells.bells.map((bell) => `${bell.kind} ${bell.level} #${bell.episode}`);
  }

  /** All bell steps in the log of a visit, in order. */
  rung(visit: string): string[] {
    return this.disk
      .eventsOf(visit)
      .map(({ event }) => event)
      .flatMap((event) =>
        event.type === 'BellRung' || event.type === 'BellEnded' ? [`${event.type} ${event.cause}`] : [],
      );
  }

  get wakeUpMs(): number {
    const [only, ...others] = this.timers.waiting;
    if (only === undefined || others.length > 0) throw new Error(`${this.timers.waiting.length} wake-ups`);
    return only.ms;
  }
}

/** A set-up salon: chairs 1 to 4, basins 91 and 92, Ama and Joss, a relaxer and its service. */
export async function salonBench(): Promise<Bench> {
  const bench = new Bench();
  await bench.do({
    type: 'SetUpSalon',
    name: 'Test salon',
    zone: 'Europe/Berlin',
    language: 'en',
    hourCycle: 'h23',
    demonstration: false,
  });
  for (const number of [1, 2, 3, 4]) await bench.do({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
  await bench.do({ type: 'AddPlace', kind: 'basin', number: 91, label: 'A' });
  await bench.do({ type: 'AddPlace', kind: 'basin', number: 92, label: 'B' });
  await bench.do({ type: 'AddPerson', name: 'Ama', roles: ['stylist'] }, { id: 'person-ama' });
  await bench.do({ type: 'AddPerson', name: 'Joss', roles: ['assistant'] }, { id: 'person-joss' });
  await bench.do(
    { type: 'WriteDirections', directions: null, name: 'Regular', source: 'invented', rules: relaxer() },
    { id: 'directions-1' },
  );
  await bench.do(
    { type: 'WriteService', service: null, name: 'Straightening', passes: ['directions-1'], limits: [] },
    { id: 'service-1' },
  );
  return bench;
}

/** Begun at noon; application ended `appliedAfter` minutes later. */
export async function processing(bench: Bench, chair = 1, appliedAfter = 15): Promise<string> {
  const visit = await bench.do({ type: 'BeginApplication', chair, visit: null, service: null });
  bench.pass(appliedAfter * MINUTE);
  await bench.do({ type: 'FinishApplication', visit });
  return visit;
}

export { MINUTE, SECOND };
