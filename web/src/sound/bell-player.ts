import type { Timers } from '../state/timers.ts';
import { GESTURES } from './audio-port.ts';
import type { AudioPort, GestureSource } from './audio-port.ts';
import { playScore, toneColour } from './play-score.ts';
import type { Score } from './score.ts';

/**
 * `locked`: never touched yet. `on`: sound is made. `broken`: it was on and something took it away. `absent`: this
 * browser has no Web Audio. Whatever is not running counts as broken; a number on the screen never says otherwise.
 */
export const soundStates = ['locked', 'on', 'broken', 'absent'] as const;
export type SoundState = (typeof soundStates)[number];

/** A running context moves its clock on within this time; one that does not is dead. */
export const FROZEN_AFTER_MS = 200;
/** A context just made may wait for a sleeping loudspeaker before its clock starts. */
const STARTING_LOOKS = 5;

interface Deps {
  /** Makes a context; null where there is none. Called again for each one that died. */
  readonly makeContext: () => AudioPort | null;
  readonly gestures: GestureSource;
  readonly timers: Timers;
  /** Called inside the first gesture, see `claimPlayback`. */
  readonly claim?: () => void;
}

/** Owns the audio context and keeps it alive as far as the browser lets it. */
export class BellPlayer {
  readonly #deps: Deps;
  readonly #listeners = new Set<(state: SoundState) => void>();
  #context: AudioPort | null = null;
  #wave: PeriodicWave | null = null;
  #everOn = false;
  #state: SoundState = 'locked';
  #probe: unknown = null;

  constructor(deps: Deps) {
    this.#deps = deps;
    for (const kind of GESTURES) {
      deps.gestures.addEventListener(kind, () => void this.#touched(), { capture: true, passive: true });
    }
    // Where the browser allows sound without a touch (a kiosk's policy) it is on from the start.
    this.#renew();
    this.#watchClock();
  }

  get soundState(): SoundState {
    return this.#state;
  }

  /** Told at once and at each change; the answer ends it. */
  subscribe(listener: (state: SoundState) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#state);
    return () => void this.#listeners.delete(listener);
  }

  /** One touch turns sound on: call it from within the touch. Resolves to what came of it. */
  async unlock(): Promise<SoundState> {
    this.#deps.claim?.();
    if (!this.#context || this.#context.state === 'closed') this.#renew();
    const context = this.#context;
    try {
      await context?.resume();
    } catch {
      // A context that cannot be resumed never comes back: a new one, in the same gesture, may run.
      this.#renew();
    }
    this.#settle();
    this.#watchClock();
    return this.#state;
  }

  /** Plays a burst now. False when no sound can be made; nothing is kept for later. */
  play(burst: Score): boolean {
    this.#settle();
    if (this.#state !== 'on' || !this.#context || !this.#wave) return false;
    playScore(this.#context, this.#wave, burst);
    this.#watchClock();
    return true;
  }

  async #touched(): Promise<void> {
    if (this.#state !== 'on' && this.#state !== 'absent') await this.unlock();
  }

  /** Closes what there is and makes a new context. */
  #renew(): void {
    const old = this.#context;
    if (old) {
      old.onstatechange = null;
      if (old.state !== 'closed') old.close().catch(() => undefined);
    }
    this.#context = this.#deps.makeContext();
    this.#wave = this.#context && toneColour(this.#context);
    if (this.#context) this.#context.onstatechange = () => this.#settle();
    this.#settle();
  }

  #settle(): void {
    const running = this.#context?.state === 'running';
    if (running) this.#everOn = true;
    this.#become(!this.#context ? 'absent' : running ? 'on' : this.#everOn ? 'broken' : 'locked');
  }

  #become(state: SoundState): void {
    if (state === this.#state) return;
    this.#state = state;
    for (const listener of this.#listeners) listener(state);
  }

  /** A context may say "running" with its clock frozen: seen by reading the clock again and again. */
  #watchClock(): void {
    if (this.#probe !== null || this.#context?.state !== 'running') return;
    this.#look(this.#context, this.#context.currentTime === 0 ? STARTING_LOOKS : 1);
  }

  #look(context: AudioPort, looks: number): void {
    const before = context.currentTime;
    this.#probe = this.#deps.timers.set(() => {
      this.#probe = null;
      if (context !== this.#context || context.state !== 'running' || context.currentTime !== before) return;
      if (looks > 1) this.#look(context, looks - 1);
      else this.#renew();
    }, FROZEN_AFTER_MS);
  }
}
