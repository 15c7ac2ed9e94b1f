import type { Timers } from './timers.ts';
import type { ClockSample, DeviceClocks, ServerClock } from './server-clock.ts';

/** What one exchange brings back: the server's stamps on its timescale. */
export interface ServerStamps {
  readonly timescale: string;
  readonly t2: number;
  readonly t3: number;
}

/** Eight samples within 2 s (T5): one at once and seven more at this distance, which leaves time for the last. */
export const BURST = { count: 8, everyMs: 250 } as const;
export const STEADY_MS = 30_000;

/** When the next exchange is due after `taken` of them since the last reset. */
export function nextExchangeInMs(taken: number): number {
  return taken < BURST.count ? BURST.everyMs : STEADY_MS;
}

/** Asks the server for the time by T5's rhythm and hands the answers to the clock. */
export class ClockSampler {
  readonly #clock: ServerClock;
  readonly #clocks: DeviceClocks;
  readonly #exchange: () => Promise<ServerStamps>;
  readonly #timers: Timers;
  readonly #changed: () => void;
  #timer: unknown = null;
  #taken = 0;
  /** Which start an answer belongs to: one that was under way during a reset must not count. */
  #round = 0;

  constructor(deps: {
    readonly clock: ServerClock;
    readonly clocks: DeviceClocks;
    readonly exchange: () => Promise<ServerStamps>;
    readonly timers: Timers;
    /** Called after each sample: whoever paints by the clock should look again. */
    readonly changed: () => void;
  }) {
    this.#clock = deps.clock;
    this.#clocks = deps.clocks;
    this.#exchange = deps.exchange;
    this.#timers = deps.timers;
    this.#changed = deps.changed;
  }

  /** On connect, reconnect, resume or a new timescale: the window is emptied and filled afresh. */
  restart(): void {
    this.stop();
    this.#clock.empty();
    this.#taken = 0;
    this.#ask();
  }

  stop(): void {
    this.#round += 1;
    if (this.#timer !== null) this.#timers.clear(this.#timer);
    this.#timer = null;
  }

  #ask(): void {
    const round = this.#round;
    const t1 = this.#clocks.performanceNow();
    this.#exchange().then(
      (stamps) => this.#take(round, { t1, ...stamps, t4: this.#clocks.performanceNow() }),
      () => undefined, // unanswered: the next one is already set
    );
    this.#taken += 1;
    this.#timer = this.#timers.set(() => this.#ask(), nextExchangeInMs(this.#taken));
  }

  #take(round: number, sample: ClockSample): void {
    if (round !== this.#round) return;
    if (this.#clock.noticeSleep()) {
      this.restart();
      return;
    }
    this.#clock.add(sample);
    this.#changed();
  }
}
