import type { Timers } from '../../../web/src/state/timers.ts';

/** Timers and a clock that move only by hand. */
export class HandTimers implements Timers {
  nowMs = 0;
  #next = 1;
  readonly #waiting = new Map<number, { readonly at: number; readonly run: () => void }>();

  set = (run: () => void, afterMs: number): unknown => {
    const id = this.#next++;
    this.#waiting.set(id, { at: this.nowMs + afterMs, run });
    return id;
  };

  clear = (timer: unknown): void => {
    this.#waiting.delete(timer as number);
  };

  get waiting(): number {
    return this.#waiting.size;
  }

  /** Runs what falls due on the way, each at its own instant. */
  advance(ms: number): void {
    const end = this.nowMs + ms;
    for (;;) {
      const due = [...this.#waiting].filter(([, one]) => one.at <= end).sort((a, b) => a[1].at - b[1].at)[0];
      if (!due) break;
      this.#waiting.delete(due[0]);
      this.nowMs = due[1].at;
      due[1].run();
    }
    this.nowMs = end;
  }
}
