import { spawn, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { SECOND, type Ms } from '../../core/time.ts';

/** The model day is a program beside the server: it knows the server only by its public API. */
const program = fileURLToPath(new URL('../../scripts/model-day.ts', import.meta.url));

/** Measured at 4 s on two cores; a machine this much slower is asked to try again. */
const LONGEST_START: Ms = 60 * SECOND;

const opened = z.strictObject({ url: z.url() });

export interface ModelDayDeps {
  /** The real salon's data folder; the model day has a folder of its own inside it and touches nothing else. */
  readonly data: string;
  /** Listens to the network if, and only if, this server does. */
  readonly lan: boolean;
  readonly log: { warn(details: Readonly<Record<string, unknown>>, message: string): void };
}

export interface ModelDay {
  /** Where it can be looked at; asked twice, it is the same day. */
  readonly start: () => Promise<{ readonly url: string }>;
  readonly stop: () => void;
}

/** Starts the model day as a child process when somebody chooses it on the first page. It ends with this process. */
export function modelDayOf(deps: ModelDayDeps): ModelDay {
  let running: { readonly child: ChildProcess; readonly url: Promise<{ readonly url: string }> } | null = null;
  return {
    start: () => {
      if (running !== null) return running.url;
      const child = spawnDay(deps);
      const url = openedBy(child);
      const forget = (): void => {
        if (running?.child === child) running = null;
      };
      child.once('exit', (code) => {
        if (code !== 0) deps.log.warn({ code }, 'the model day has ended unasked');
        forget();
      });
      url.catch(() => {
        child.kill();
        forget();
      });
      running = { child, url };
      return url;
    },
    stop: () => {
      running?.child.kill();
      running = null;
    },
  };
}

function spawnDay({ data, lan }: ModelDayDeps): ChildProcess {
  const args = ['--port', '0', '--data', join(data, 'model-day'), ...(lan ? ['--lan'] : [])];
  // Its sentences are for a person at a terminal; ours are logs. What goes wrong is worth seeing.
  const stdio = ['ignore', 'ignore', 'inherit', 'ipc'] as const;
  return spawn(process.execPath, ['--import', 'tsx', program, ...args], { stdio: [...stdio] });
}

function openedBy(child: ChildProcess): Promise<{ readonly url: string }> {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error('the model day took too long to open')), LONGEST_START);
    late.unref();
    child.once('message', (message) => {
      clearTimeout(late);
      const parsed = opened.safeParse(message);
      if (parsed.success) resolve(parsed.data);
      else reject(new Error('the model day said something else than its address'));
    });
    child.once('error', reject);
    child.once('exit', (code) => reject(new Error(`the model day ended with ${code} before it was open`)));
  });
}
