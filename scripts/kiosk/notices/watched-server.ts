import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import { NoticeSocket } from './notice-socket.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));

/** Microseconds, as a service manager says it: every 100 ms is fed. */
const WATCHDOG_USEC = '300000';

/** A real server, watched over as systemd would, that can be made to stand still. */
export class WatchedServer {
  readonly notices: NoticeSocket;
  #child: ChildProcess | null = null;
  readonly #held = join(mkdtempSync(join(tmpdir(), 'basinbell-held-')), 'held');

  constructor(notices = new NoticeSocket()) {
    this.notices = notices;
  }

  async start(environment: Readonly<Record<string, string>> = { WATCHDOG_USEC }): Promise<this> {
    await this.notices.open();
    const data = mkdtempSync(join(tmpdir(), 'basinbell-data-'));
    const program = ['--import', 'tsx', 'tests/support/stalling-server.ts', this.#held, '--port', '0', '--data', data];
    this.#child = spawn(process.execPath, program, {
      cwd: root,
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...process.env, NOTIFY_SOCKET: this.notices.address, ...environment },
    });
    return this;
  }

  /** Resolves once the event loop stands still; the returned function lets it go on. */
  async standStill(): Promise<() => void> {
    const child = this.#running();
    writeFileSync(this.#held, '');
    const still = new Promise<void>((resolve) => {
      const lines = createInterface({ input: child.stdout ?? process.stdin });
      lines.on('line', (line) => {
        if (line === 'standing still') resolve();
      });
    });
    child.kill('SIGUSR2');
    await still;
    return () => rmSync(this.#held, { force: true });
  }

  /** Ends it in good order; resolves with its exit code. */
  async end(): Promise<number | null> {
    const child = this.#running();
    const gone = once(child, 'exit');
    child.kill('SIGTERM');
    const [code] = (await gone) as [number | null];
    return code;
  }

  /** For when a test has gone wrong. */
  async drop(): Promise<void> {
    const child = this.#child;
    if (child !== null && child.exitCode === null && child.signalCode === null) {
      const gone = once(child, 'exit');
      child.kill('SIGKILL');
      await gone;
    }
    await this.notices.close();
  }

  #running(): ChildProcess {
    if (this.#child === null) throw new Error('not started');
    return this.#child;
  }
}
