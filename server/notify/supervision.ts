import { z } from 'zod';
import type { Ms } from '../../core/time.ts';

/** What whoever started the server asked for in the environment (systemd's sd_notify(3) and sd_watchdog_enabled(3)). */
export interface Supervision {
  /** Path of a datagram socket, or an abstract name that begins with @; null: nobody asked. */
  readonly socket: string | null;
  /** Without a sign of life for so long the process is ended and started anew; null: no watchdog. */
  readonly watchdogMs: Ms | null;
}

const MICROSECONDS = 1_000;
const microseconds = z.coerce.number().int().positive();
const ours = ['NOTIFY_SOCKET', 'WATCHDOG_USEC', 'WATCHDOG_PID'] as const;

/**
 * Takes what was asked for out of the environment, so that no child of this process (the model day is a server too) speaks
 * in its name.
 */
export function takeSupervision(environment: Record<string, string | undefined>, pid: number): Supervision {
  const [socket, span, watched] = ours.map((name) => environment[name]);
  for (const name of ours) delete environment[name];
  const meant = watched === undefined || watched === String(pid);
  const parsed = microseconds.safeParse(span);
  return {
    socket: socket === undefined || socket === '' ? null : socket,
    watchdogMs: meant && parsed.success ? parsed.data / MICROSECONDS : null,
  };
}
