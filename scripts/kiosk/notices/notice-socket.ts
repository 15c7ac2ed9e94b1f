import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const receiver = fileURLToPath(new URL('notice-receiver.py', import.meta.url));

/** Where a service manager would listen for notices; receives the real datagrams. */
export class NoticeSocket {
  readonly address: string;
  /** Each datagram as its lines, in order of arrival. */
  readonly received: (readonly string[])[] = [];
  #child: ChildProcess | null = null;
  #watchers: (() => void)[] = [];

  constructor(address = join(mkdtempSync(join(tmpdir(), 'basinbell-notice-')), 'notify')) {
    this.address = address;
  }

  async open(): Promise<this> {
    const child = spawn('python3', [receiver, this.address], { stdio: ['ignore', 'pipe', 'inherit'] });
    this.#child = child;
    const opened = new Promise<void>((resolve, reject) => {
      child.once('error', reject);
      child.once('exit', (code) => reject(new Error(`the receiver ended with ${code}`)));
      createInterface({ input: child.stdout }).on('line', (line) => {
        const datagram = JSON.parse(line) as string;
        if (datagram === 'open') return resolve();
        this.received.push(datagram.split('\n'));
        for (const watch of this.#watchers.splice(0)) watch();
      });
    });
    await opened;
    return this;
  }

  /** How many datagrams held this line. */
  count(line: string): number {
    return this.received.filter((lines) => lines.includes(line)).length;
  }

  /** Resolves once that many datagrams have held the line. */
  async until(line: string, times = 1): Promise<void> {
    while (this.count(line) < times) await new Promise<void>((resolve) => this.#watchers.push(resolve));
  }

  async close(): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const gone = once(child, 'exit');
    child.kill('SIGKILL');
    await gone;
  }
}
