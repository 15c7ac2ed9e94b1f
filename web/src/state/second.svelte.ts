import type { Timers } from './timers.ts';

/** A timer may fire a little early; waking this long after the boundary keeps us in the new second. */
const AFTER_BOUNDARY_MS = 4;

/** How long to wait from `nowMs` until just after the next whole second of the same clock. */
export function untilNextSecondMs(nowMs: number): number {
  const into = ((nowMs % 1000) + 1000) % 1000;
  return 1000 - into + AFTER_BOUNDARY_MS;
}

/**
 * The server's second on this screen. Everything that counts reads `current`, so that one screen changes
 * all its numbers at once and all screens change in the same second. Each wake-up reads the clock anew and
 * sets one timeout: an interval would drift and skip.
 */
export class Second {
  /** Server now, floored to the whole second, epoch ms. */
  current = $state(0);
  readonly #now: () => number;
  readonly #timers: Timers;
  readonly #painted: (at: number) => void;
  #timer: unknown = null;

  constructor(now: () => number, timers: Timers, painted: (at: number) => void = () => undefined) {
    this.#now = now;
    this.#timers = timers;
    this.#painted = painted;
    this.current = Math.floor(now() / 1000) * 1000;
  }

  /** Begin, or look again because the clock was corrected or the page came back. */
  refresh(): void {
    this.stop();
    const now = this.#now();
    const second = Math.floor(now / 1000) * 1000;
    if (second !== this.current) this.current = second;
    this.#painted(second);
    this.#timer = this.#timers.set(() => this.refresh(), untilNextSecondMs(now));
  }

  stop(): void {
    if (this.#timer !== null) this.#timers.clear(this.#timer);
    this.#timer = null;
  }
}
