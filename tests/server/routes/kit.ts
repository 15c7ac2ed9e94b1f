import { pino } from 'pino';
import type { Command } from '../../../core/command.ts';
import { buildApp, type App } from '../../../server/app.ts';
import { Engine } from '../../../server/engine/engine.ts';
import type { Timers } from '../../../server/engine/timers.ts';
import { Presence } from '../../../server/reach/presence.ts';
import type { Problem } from '../../../shared/problem.ts';
import type { Snapshot, WireAnswer } from '../../../shared/wire.ts';
import { relaxer } from '../../support/directions-kit.ts';
import { Disk, Hand } from '../engine/kit.ts';

/** Turns come as soon as in life; the wake-up, and whatever repeats, when the test says so. */
export class TestTimers implements Timers {
  repeated: (() => void)[] = [];

  soon(task: () => void): void {
    setImmediate(task);
  }

  /** What waits for its time: the wake-up among them. */
  held: { readonly ms: number; readonly task: () => void }[] = [];

  after(ms: number, task: () => void): () => void {
    const one = { ms, task };
    this.held.push(one);
    return () => {
      this.held = this.held.filter((other) => other !== one);
    };
  }

  /** The time of all that waits for so long has come. */
  fire(ms: number): void {
    for (const one of this.held.filter((each) => each.ms === ms)) {
      this.held = this.held.filter((other) => other !== one);
      one.task();
    }
  }

  every(_ms: number, task: () => void): () => void {
    this.repeated.push(task);
    return () => undefined;
  }
}

export interface Told {
  readonly status: number;
  readonly type: string;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: Problem & WireAnswer;
}

export class TestServer {
  readonly disk = new Disk();
  readonly hand = new Hand();
  readonly timers = new TestTimers();
  readonly presence = new Presence({ monotonicNow: () => this.hand.at.mono, byPush: () => false });
  readonly engine: Engine;
  logged = '';
  app!: App;
  #ids = 0;

  private constructor() {
    this.engine = new Engine({
      store: this.disk,
      clock: this.hand,
      timers: this.timers,
      log: { error: () => undefined, warn: () => undefined, info: () => undefined },
      freshId: () => `name-${Math.floor(this.hand.at.mono)}`,
    });
  }

  static async start(
    pages = '/nowhere',
    startModelDay: (() => Promise<{ url: string }>) | null = null,
    tls: { cert: string; key: string } | null = null,
  ): Promise<TestServer> {
    const one = new TestServer();
    one.app = await buildApp({
      engine: one.engine,
      store: one.disk,
      timers: one.timers,
      log: pino({ level: 'info' }, { write: (line: string) => void (one.logged += line) }),
      pages,
      hostNames: new Set(['localhost']),
      lan: false,
      addresses: () => [],
      handClock: true,
      presence: one.presence,
      startModelDay,
      tls,
    });
    return one;
  }

  async raw(
    method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE',
    url: string,
    payload?: string,
    headers: Record<string, string> = {},
  ): Promise<Told> {
    const json = payload === undefined ? {} : { 'content-type': 'application/json' };
    const response = await this.app.http.inject({
      method,
      url,
      headers: { host: 'localhost', ...json, ...headers },
      ...(payload === undefined ? {} : { payload }),
    });
    const type = String(response.headers['content-type']);
    const body = type.includes('json') ? (JSON.parse(response.body) as Told['body']) : (response.body as never);
    return { status: response.statusCode, type, headers: response.headers, body };
  }

  post(body: unknown): Promise<Told> {
    return this.raw('POST', '/api/v1/commands', JSON.stringify(body));
  }

  send(command: Command, sender: object = {}): Promise<Told> {
    return this.post({ id: `command-${String(++this.#ids).padStart(4, '0')}`, ...sender, ...command });
  }

  async floor(): Promise<Snapshot> {
    return (await this.raw('GET', '/api/v1/floor')).body as unknown as Snapshot;
  }

  async setUp(): Promise<this> {
    await this.send({
      type: 'SetUpSalon',
      name: 'Test salon',
      zone: 'Europe/Berlin',
      language: 'en',
      hourCycle: 'h23',
      demonstration: false,
    });
    for (const number of [1, 2, 3]) await this.send({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
    await this.send({ type: 'AddPlace', kind: 'basin', number: 91, label: 'A' });
    await this.send({ type: 'AddPerson', name: 'Ama', roles: ['stylist'] }, { id: 'person-ama' });
    await this.send(
      { type: 'WriteDirections', directions: null, name: 'Regular', source: 'invented', rules: relaxer() },
      { id: 'directions-1' },
    );
    await this.send(
      { type: 'WriteService', service: null, name: 'Straightening', passes: ['directions-1'], limits: [] },
      { id: 'service-1' },
    );
    return this;
  }
}
