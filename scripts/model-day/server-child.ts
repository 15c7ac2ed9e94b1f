import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const program = fileURLToPath(new URL('served.ts', import.meta.url));

/** Told when the server could not start: its own last words. */
const LAST_LINES = 12;

/** A server process of the model day's own. It hears of our end through its channel, however that comes. */
export class ServerChild {
  readonly address: string;
  /** Resolves when the process has ended, whoever ended it. */
  readonly gone: Promise<void>;
  readonly #child: ChildProcess;

  private constructor(child: ChildProcess, address: string, gone: Promise<void>) {
    this.#child = child;
    this.address = address;
    this.gone = gone;
  }

  static async start(args: readonly string[]): Promise<ServerChild> {
    const child = spawn(process.execPath, ['--import', 'tsx', program, ...args], {
      cwd: root,
      env: ownEnvironment(),
      stdio: ['ignore', 'pipe', 'pipe', 'ipc'],
    });
    const gone = once(child, 'exit').then(() => undefined);
    const last: string[] = [];
    const address = await new Promise<string>((resolve, reject) => {
      for (const input of [child.stdout, child.stderr]) {
        if (input === null) continue;
        createInterface({ input }).on('line', (line) => {
          if (last.push(line) > LAST_LINES) last.shift();
          const found = /listening on (http:\/\/[^\s",}]+)/.exec(line)?.[1];
          if (found !== undefined) resolve(found);
        });
      }
      child.once('error', reject);
      child.once('exit', (code) => reject(new Error(`the server ended with ${code}:\n${last.join('\n')}`)));
    });
    return new ServerChild(child, address, gone);
  }

  async stop(): Promise<void> {
    this.#child.kill('SIGTERM');
    await this.gone;
  }
}

/** What the real salon's server was told by environment (port, data, network …) is not meant for this one. */
function ownEnvironment(): NodeJS.ProcessEnv {
  const kept = Object.entries(process.env).filter(
    ([name]) => !name.startsWith('BASINBELL_') || name === 'BASINBELL_HOST_NAME',
  );
  return Object.fromEntries(kept);
}
