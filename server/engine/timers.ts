import type { Ms } from '../../core/time.ts';

/** What waits, and what may be stopped. Handed in, so that a test has no timers. */
export interface Timers {
  /** As soon as what is under way has been answered. */
  soon(task: () => void): void;
  /** Once, after so many real milliseconds; the returned function stops it. */
  after(ms: Ms, task: () => void): () => void;
  /** Again and again; the returned function stops it. */
  every(ms: Ms, task: () => void): () => void;
}

export const realTimers: Timers = {
  soon: (task) => void setImmediate(task),
  after: (ms, task) => {
    const timer = setTimeout(task, ms);
    return () => clearTimeout(timer);
  },
  every: (ms, task) => {
    const timer = setInterval(task, ms);
    return () => clearInterval(timer);
  },
};
