import { MINUTE, type Ms } from '../../core/time.ts';
import type { Timers } from '../engine/timers.ts';

/** The same thing is said at most so often. */
const WINDOW: Ms = MINUTE;
/** Kinds kept apart within a window; whatever else comes counts as one kind, so that neither log nor memory grows. */
const KINDS = 100;
const OTHERS = 'others';

interface Kind {
  times: number;
  again: (times: number) => void;
}

/** Collapses what is said again and again: the first at once, then once per window with how often. */
export class RepeatLimit {
  readonly #timers: Timers;
  readonly #kinds = new Map<string, Kind>();

  constructor(timers: Timers) {
    this.#timers = timers;
  }

  /** Whether to say it now; otherwise it is counted, and `again` of the last one is called at the end of the window. */
  admits(kind: string, again: (times: number) => void): boolean {
    const key = this.#kinds.has(kind) || this.#kinds.size < KINDS ? kind : OTHERS;
    const known = this.#kinds.get(key);
    if (known !== undefined) {
      known.times += 1;
      known.again = again;
      return false;
    }
    this.#kinds.set(key, { times: 0, again });
    this.#openWindow(key);
    return true;
  }

  #openWindow(key: string): void {
    this.#timers.after(WINDOW, () => this.#closeWindow(key));
  }

  #closeWindow(key: string): void {
    const kind = this.#kinds.get(key);
    if (kind === undefined) return;
    if (kind.times === 0) {
      this.#kinds.delete(key);
      return;
    }
    const { times } = kind;
    kind.times = 0;
    this.#openWindow(key);
    kind.again(times);
  }
}
