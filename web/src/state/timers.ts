/** Where waiting comes from; tests hand in one that they move by hand. */
export interface Timers {
  set(run: () => void, afterMs: number): unknown;
  clear(timer: unknown): void;
}

export const browserTimers: Timers = {
  set: (run, afterMs) => setTimeout(run, afterMs),
  clear: (timer) => clearTimeout(timer as ReturnType<typeof setTimeout>),
};
