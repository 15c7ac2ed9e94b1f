import type { Timers } from '../state/timers.ts';
import { NOTHING_PLAYED, afterBurst, cutOff, nextBurst, unheard } from './ringer-plan.ts';
import type { Burst, Played, SoundingBell } from './ringer-plan.ts';
import { score } from './score.ts';
import type { Score } from './score.ts';

/** Longest wait before looking again; a late or throttled timer then costs little (T7). */
const LOOK_AGAIN_MS = 60_000;

/**
 * Sounds the bells it is given, one at a time. It keeps no opinion of which bells should sound: whoever holds
 * the facts says so with `sound(bells)`, a test bell included.
 */
export class Ringer {
  readonly #play: (score: Score) => boolean;
  readonly #now: () => number;
  readonly #timers: Timers;
  readonly #began: (burst: Burst) => void;
  #bells: readonly SoundingBell[] = [];
  #played: Played = NOTHING_PLAYED;
  #last: Burst | null = null;
  #timer: unknown = null;

  constructor(deps: {
    /** Plays a burst now; false when no sound can be made at the moment. */
    readonly play: (score: Score) => boolean;
    /** The device's monotonic clock: a corrected server clock must neither repeat a burst nor swallow one. */
    readonly now: () => number;
    readonly timers: Timers;
    /** Told of each burst that really began: the device may confirm that it rang. */
    readonly began?: (burst: Burst) => void;
  }) {
    this.#play = deps.play;
    this.#now = deps.now;
    this.#timers = deps.timers;
    this.#began = deps.began ?? (() => undefined);
  }

  /** The bells that should sound from now on; a burst that is under way runs to its end. */
  sound(bells: readonly SoundingBell[]): void {
    this.#bells = bells.filter(({ muted }) => muted !== true);
    this.#played = unheard(this.#played, new Set(bells.filter(({ muted }) => muted === true).map(({ key }) => key)));
    this.#look();
  }

  /** The device lost its sound: what was under way was not heard and begins anew once sound is back. */
  cutOff(): void {
    this.#played = cutOff(this.#last, this.#played, this.#now());
    this.#look();
  }

  /** Look again: sound came back, or the page was resumed. */
  look(): void {
    this.#look();
  }

  #look(): void {
    if (this.#timer !== null) this.#timers.clear(this.#timer);
    this.#timer = null;
    const now = this.#now();
    const burst = nextBurst(this.#bells, this.#played, now);
    if (!burst) return;
    if (burst.atMs > now) {
      this.#timer = this.#timers.set(() => this.#look(), Math.min(burst.atMs - now, LOOK_AGAIN_MS));
      return;
    }
    if (this.#play(score(burst.level))) {
      this.#played = afterBurst(burst, this.#bells, this.#played);
      this.#last = burst;
      this.#began(burst);
      this.#look();
    } else {
      // No sound now: `look()` is called when it is back; look anyway in case nobody does.
      this.#timer = this.#timers.set(() => this.#look(), 1_000);
    }
  }
}
