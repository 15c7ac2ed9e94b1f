import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { Command, Sender } from '../../core/command.ts';
import type { HandTurn, Snapshot } from '../../shared/wire.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import type { HandClock } from './hand-clock.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));

export interface Answered {
  readonly status: number;
  // The wire's answer or a problem document; tests look into it freely.
  readonly body: Record<string, unknown>;
}

/** How the process is begun, when not as the server's own entry through tsx. */
export interface Launch {
  /** What node is given before the server's own arguments. */
  readonly run?: readonly string[];
  readonly env?: Readonly<Record<string, string>>;
  /** Wraps the command line, to set limits that hold from the first moment on. */
  readonly wrap?: (command: readonly string[]) => readonly string[];
}

const asItIs: Launch = {};

/** The server's own entry: bundled where somebody did that for many starts, else through tsx. */
function asBuilt(): readonly string[] {
  const bundled = process.env.BASINBELL_BUNDLED_SERVER;
  return bundled === undefined ? ['--import', 'tsx', 'server/main.ts'] : [bundled];
}

/** Whoever runs servers and ends, however early, leaves none behind. */
const running = new Set<ChildProcess>();
process.on('exit', () => {
  for (const child of running) child.kill('SIGKILL');
});

/** A real server in a process of its own, on a hand-driven clock and a data folder that outlive it. */
export class ServerProcess {
  readonly data: string;
  readonly clock: HandClock;
  address = '';
  /** All it wrote, for when something goes wrong. */
  output = '';
  /** For the next start. */
  launch: Launch;
  #child: ChildProcess | null = null;
  #ids = 0;
  readonly #extra: readonly string[];

  constructor(
    clock: HandClock,
    data = mkdtempSync(join(tmpdir(), 'basinbell-data-')),
    extra: readonly string[] = [],
    launch = asItIs,
  ) {
    this.clock = clock;
    this.data = data;
    this.#extra = extra;
    this.launch = launch;
  }

  /** `port` 0 lets the system choose; a restart keeps the one it had, so that open pages find it again. */
  async start(): Promise<this> {
    const port = this.address === '' ? '0' : new URL(this.address).port;
    const { run = asBuilt(), env = {}, wrap = (command) => command } = this.launch;
    const own = ['--port', port, '--data', this.data, '--clock-file', this.clock.file, ...this.#extra];
    const [command = '', ...args] = wrap([process.execPath, ...run, ...own]);
    const stdio: ['ignore', 'pipe', 'pipe'] = ['ignore', 'pipe', 'pipe'];
    const child = spawn(command, args, { cwd: root, stdio, env: { ...process.env, ...env } });
    this.#child = child;
    running.add(child);
    child.once('exit', () => running.delete(child));
    child.stderr.on('data', (chunk: Buffer) => (this.output += chunk.toString()));
    const lines = createInterface({ input: child.stdout });
    const listening = new Promise<string>((resolve, reject) => {
      lines.on('line', (line) => {
        this.output += `${line}\n`;
        const found = /listening on (http:\/\/\S+)/.exec(line);
        if (found?.[1] !== undefined) resolve(found[1].replace(/[",}]+$/, '').replace(/\/$/, ''));
      });
      child.once('exit', (code) => reject(new Error(`the server ended with ${code}:\n${this.output}`)));
    });
    this.address = await listening;
    return this;
  }

  get pid(): number {
    return this.#child?.pid ?? 0;
  }

  /** Resolves once the process has ended, however that came. */
  async gone(): Promise<void> {
    const child = this.#child;
    if (child !== null && child.exitCode === null && child.signalCode === null) await once(child, 'exit');
  }

  /** Stops it without ending it: links stay open and nothing answers. */
  freeze(): void {
    this.#child?.kill('SIGSTOP');
  }

  thaw(): void {
    this.#child?.kill('SIGCONT');
  }

  /** As a power cut would: no goodbye. */
  async kill(): Promise<void> {
    await this.#end('SIGKILL');
  }

  async stop(): Promise<void> {
    await this.#end('SIGTERM');
  }

  /** Sends a command as a screen or curl would. */
  async send(command: Command, sender: Partial<Sender> = {}): Promise<Answered> {
    const body = { id: `test-command-${process.pid}-${++this.#ids}`, ...sender, ...command };
    const response = await fetch(`${this.address}/api/v1/commands`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    return { status: response.status, body: (await response.json()) as Record<string, unknown> };
  }

  /** Sends, expects it to be done, and returns the visit concerned. */
  async do(command: Command, sender: Partial<Sender> = {}): Promise<string> {
    const { status, body } = await this.send(command, sender);
    if (status !== 200) throw new Error(`${command.type}: ${status} ${JSON.stringify(body)}`);
    return typeof body['visit'] === 'string' ? body['visit'] : '';
  }

  /** The engine takes a turn at the hand's time. */
  async turn(): Promise<HandTurn> {
    const response = await fetch(`${this.address}/api/v1/hand-clock/turn`, { method: 'POST' });
    return (await response.json()) as HandTurn;
  }

  async floor(): Promise<Snapshot> {
    return (await (await fetch(`${this.address}/api/v1/floor`)).json()) as Snapshot;
  }

  async facts(visit: string): Promise<VisitFacts> {
    const entity = (await this.floor()).entities[`visit/${visit}`];
    if (entity?.kind !== 'visit') throw new Error(`no visit ${visit}`);
    return entity.facts;
  }

  async #end(signal: NodeJS.Signals): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    child.kill(signal);
    await gone;
  }
}

/** Sets a salon up through the API: chairs 1 to `chairs`, basins A and B (91, 92), Ama and Joss, one relaxer and its service. */
export async function setUpSalon(server: ServerProcess, rules: object, chairs = 8): Promise<void> {
  await server.do({
    type: 'SetUpSalon',
    name: 'Test salon',
    zone: 'Europe/Berlin',
    language: 'en',
    hourCycle: 'h23',
    demonstration: false,
  });
  for (let number = 1; number <= chairs; number++) {
    await server.do({ type: 'AddPlace', kind: 'chair', number, label: String(number) });
  }
  await server.do({ type: 'AddPlace', kind: 'basin', number: 91, label: 'A' });
  await server.do({ type: 'AddPlace', kind: 'basin', number: 92, label: 'B' });
  await server.do({ type: 'AddPerson', name: 'Ama', roles: ['stylist'] }, { id: 'person-ama' });
  await server.do({ type: 'AddPerson', name: 'Joss', roles: ['assistant'] }, { id: 'person-joss' });
  await server.do(
    { type: 'WriteDirections', directions: null, name: 'Regular', source: 'invented for tests', rules: rules as never },
    { id: 'directions-1' },
  );
  await server.do(
    { type: 'WriteService', service: null, name: 'Straightening', passes: ['directions-1'], limits: [] },
    { id: 'service-1' },
  );
}
