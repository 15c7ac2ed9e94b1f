import type { Timers } from '../state/timers.ts';
import { GESTURES } from './audio-port.ts';
import type { AudioPort, GestureSource } from './audio-port.ts';
import { keepAwake, playScore, toneColour } from './play-score.ts';
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
/** A browser may leave a resumption open for ever; after this it counts as failed. Common practice, no source. */
export const RESUMED_WITHIN_MS = 1_000;
/** How often it looks after itself: whether the clock still runs, or whether sound comes back without a touch. */
export const LOOK_EVERY_MS = 10_000;

interface Deps {
  /** Makes a context; null where there is none. Called again for each one that died. */
  readonly makeContext: () => AudioPort | null;
  readonly gestures: GestureSource;
  readonly timers: Timers;
  /** Called inside a gesture only, see `claimPlayback`. */
  readonly claim?: () => void;
  /** On a wall, see `keepAwake`. */
  readonly staysAwake?: boolean;
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
  /** A context that was asked to resume and never answered: only another one can help. */
  #stuck: AudioPort | null = null;

  constructor(deps: Deps) {
    this.#deps = deps;
    for (const kind of GESTURES) {
      deps.gestures.addEventListener(kind, () => void this.#touched(), { capture: true, passive: true });
    }
    // Where the browser allows sound without a touch (a kiosk's policy) it is on from the start.
    this.#renew();
    this.#watchClock();
    this.#lookLater();
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
    return this.#resume(true);
  }

  /** Sound may be back by itself: the page is seen again, a call has ended. No gesture, so nothing is claimed. */
  async revive(): Promise<SoundState> {
    return this.#state === 'broken' ? this.#resume(false) : this.#state;
  }

  /** Plays a burst now. False when no sound can be made; nothing is kept for later. */
  play(burst: Score, loudness = 1): boolean {
    this.#settle();
    if (this.#state !== 'on' || !this.#context || !this.#wave) return false;
    playScore(this.#context, this.#wave, burst, loudness);
    this.#watchClock();
    return true;
  }

  async #touched(): Promise<void> {
    if (this.#state !== 'on' && this.#state !== 'absent') await this.unlock();
  }

  async #resume(inGesture: boolean): Promise<SoundState> {
    const dead = !this.#context || this.#context.state === 'closed';
    if (dead || (this.#context === this.#stuck && this.#mayReplace(inGesture))) this.#renew();
    const context = this.#context;
    if (context !== null && context.state !== 'running') await this.#resumed(context, inGesture);
    this.#settle();
    this.#watchClock();
    return this.#state;
  }

  /** An interrupted context comes back when the call ends; one made meanwhile without a touch would wait for a touch. */
  #mayReplace(inGesture: boolean): boolean {
    return inGesture || this.#context?.state !== 'interrupted';
  }

  /** Until it runs, or failed, or a second has gone. */
  #resumed(context: AudioPort, inGesture: boolean): Promise<void> {
    return new Promise((done) => {
      const late = this.#deps.timers.set(() => {
        if (context.state !== 'running') this.#stuck = context;
        done();
      }, RESUMED_WITHIN_MS);
      const over = (): void => {
        this.#deps.timers.clear(late);
        done();
      };
      context.resume().then(over, () => {
        // A context that cannot be resumed never comes back: a new one, in the same gesture, may run.
        if (context === this.#context && this.#mayReplace(inGesture)) {
          this.#renew();
          this.#context?.resume().catch(() => undefined);
        }
        over();
      });
    });
  }

  /** Closes what there is and makes a new context. */
  #renew(): void {
    const old = this.#context;
    this.#stuck = null;
    if (old) {
      old.onstatechange = null;
      if (old.state !== 'closed') old.close().catch(() => undefined);
    }
    this.#context = this.#deps.makeContext();
    this.#wave = this.#context && toneColour(this.#context);
    if (this.#context) {
      this.#context.onstatechange = () => this.#settle();
      if (this.#deps.staysAwake) keepAwake(this.#context);
    }
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

  /** A loudspeaker pulled out kills a context without a word, and on a wall nobody touches it alive again. */
  #lookLater(): void {
    this.#deps.timers.set(() => {
      this.#lookLater();
      this.#settle();
      void this.revive();
      this.#watchClock();
    }, LOOK_EVERY_MS);
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
