/** The four stamps of one exchange, RFC 5905 §8: ours sent, theirs received, theirs sent, ours received. */
export interface ClockSample {
  /** The server's timescale that t2 and t3 are on; a new one begins when the server re-anchors. */
  readonly timescale: string;
  /** `performance.now()` of this page. */
  readonly t1: number;
  /** Server timescale, epoch ms. */
  readonly t2: number;
  readonly t3: number;
  readonly t4: number;
}

export interface OffsetAndDelay {
  readonly offsetMs: number;
  readonly delayMs: number;
}

/** θ = ½[(T2 − T1) + (T3 − T4)], δ = (T4 − T1) − (T3 − T2): RFC 5905 §8 with erratum 5020. */
export function offsetAndDelay({ t1, t2, t3, t4 }: Omit<ClockSample, 'timescale'>): OffsetAndDelay {
  return { offsetMs: (t2 - t1 + (t3 - t4)) / 2, delayMs: t4 - t1 - (t3 - t2) };
}

/** What the page reads: its monotonic clock and the device's wall clock, both in ms. */
export interface DeviceClocks {
  performanceNow(): number;
  wallNow(): number;
}

export interface ClockLimits {
  /** How many samples compete; the least round trip wins. */
  readonly window: number;
  /** A newest sample older than this no longer confirms (three of the 30 s exchanges missed). */
  readonly freshMs: number;
  /** Not having heard the server for longer than this unconfirms every number (R10). */
  readonly silentMs: number;
  /** The wall clock having grown this much more than the monotonic one means the device slept. */
  readonly sleptMs: number;
}

export const CLOCK_LIMITS: ClockLimits = { window: 8, freshMs: 100_000, silentMs: 5_000, sleptMs: 2_000 };

interface Held extends OffsetAndDelay {
  readonly takenAt: number;
}

/**
 * This page's estimate of the server's now (T5). It rests on `performance.now()`; the device's wall clock
 * only bridges: before the first sample, and over a sleep, during which the monotonic clock may stand still.
 */
export class ServerClock {
  readonly #clocks: DeviceClocks;
  readonly #limits: ClockLimits;
  #held: Held[] = [];
  #timescale: string | null = null;
  /** Server now minus `performance.now()`, for as long as no sample says better. */
  #offsetMs: number;
  #heardAt: number | null = null;
  /** A sample was taken and the device has not slept since: the estimate is good for as long as this page counts. */
  #sure = false;
  /** The estimate on the timescale before this one. */
  #former: { readonly timescale: string; readonly offsetMs: number } | null = null;
  #slept = false;
  #lastPerformance: number;
  #lastWall: number;

  constructor(clocks: DeviceClocks, limits: ClockLimits = CLOCK_LIMITS) {
    this.#clocks = clocks;
    this.#limits = limits;
    this.#lastPerformance = clocks.performanceNow();
    this.#lastWall = clocks.wallNow();
    this.#offsetMs = this.#lastWall - this.#lastPerformance;
  }

  /** Takes one exchange in. One that began before a sleep or a reset has already been spoilt: leave it out. */
  add(sample: ClockSample): void {
    this.noticeSleep();
    if (sample.timescale !== this.#timescale) this.begin(sample.timescale);
    this.#held.push({ ...offsetAndDelay(sample), takenAt: sample.t4 });
    if (this.#held.length > this.#limits.window) this.#held.shift();
    this.#sure = true;
    this.#offsetMs = this.#held.reduce((best, one) => (one.delayMs < best.delayMs ? one : best)).offsetMs;
    this.heard();
  }

  /** Any word of the server, a heartbeat for instance. */
  heard(): void {
    this.#heardAt = this.#clocks.performanceNow();
  }

  /** The server named its timescale; another one than before empties the window. */
  begin(timescale: string): void {
    if (timescale === this.#timescale) return;
    const known = this.#timescale !== null && this.#sure;
    this.#former = known ? { timescale: this.#timescale as string, offsetMs: this.#offsetMs } : null;
    this.#sure = false;
    this.#timescale = timescale;
    this.#held = [];
  }

  /**
   * What this page, which counted on, makes of now on the timescale before this one; null where it lost count itself. Lets the
   * server find out how long it was away (T3).
   */
  formerNow(timescale: string): number | null {
    if (this.noticeSleep() || this.#former?.timescale !== timescale) return null;
    return this.#clocks.performanceNow() + this.#former.offsetMs;
  }

  /** A page that began without a server goes by what this device knew of it before: its now less the device's wall clock, ms. */
  bridge(aheadOfWallMs: number): void {
    if (this.#timescale !== null) return;
    this.#offsetMs = this.#clocks.wallNow() + aheadOfWallMs - this.#clocks.performanceNow();
  }

  /** Whether the device slept since this was last asked. */
  takeSlept(): boolean {
    this.noticeSleep();
    const slept = this.#slept;
    this.#slept = false;
    return slept;
  }

  /** After a reconnect or a resume. The last estimate bridges, unconfirmed, until the next sample. */
  empty(): void {
    this.#held = [];
  }

  /** Server now as far as we know, epoch ms. */
  now(): number {
    this.noticeSleep();
    return this.#clocks.performanceNow() + this.#offsetMs;
  }

  /** Whether a number drawn from `now()` may stand without a mark (V2). */
  get confirmed(): boolean {
    const newest = this.#held.at(-1);
    if (!newest || this.#heardAt === null) return false;
    const at = this.#clocks.performanceNow();
    return at - newest.takenAt <= this.#limits.freshMs && at - this.#heardAt <= this.#limits.silentMs;
  }

  /** Milliseconds since the server was last heard; null when it never was. */
  get silentForMs(): number | null {
    return this.#heardAt === null ? null : this.#clocks.performanceNow() - this.#heardAt;
  }

  get timescale(): string | null {
    return this.#timescale;
  }

  /** Samples that compete at the moment. */
  get samples(): number {
    return this.#held.length;
  }

  /**
   * Looks whether the device slept since the last look. If so the wall clock bridges what the monotonic clock
   * left out, and the samples, which knew nothing of it, go. True when it slept.
   */
  noticeSleep(): boolean {
    const performance = this.#clocks.performanceNow();
    const wall = this.#clocks.wallNow();
    const leftOutMs = wall - this.#lastWall - (performance - this.#lastPerformance);
    this.#lastPerformance = performance;
    this.#lastWall = wall;
    if (leftOutMs <= this.#limits.sleptMs) return false;
    this.#offsetMs += leftOutMs;
    this.#held = [];
    this.#sure = false;
    this.#former = null;
    this.#slept = true;
    return true;
  }
}
