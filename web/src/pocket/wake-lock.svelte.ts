import type { Timers } from '../state/timers.ts';
import type { Awake } from './can-be-rung.ts';

interface Sentinel {
  release(): Promise<void>;
  addEventListener(kind: 'release', listener: () => void): void;
}

interface Deps {
  /** `navigator.wakeLock`; null on plain http and where the browser has none. */
  readonly lock: { request(kind: 'screen'): Promise<Sentinel> } | null;
  readonly page: Pick<Document, 'visibilityState' | 'addEventListener'>;
  readonly timers: Timers;
}

/** Asked again this long after a refusal: right after coming back some browsers refuse once. */
const AGAIN_MS = 1_000;

/** Keeps the screen awake while the page is seen, and says truly whether it does. */
export class WakeLock {
  current = $state<Awake>('off');
  readonly #deps: Deps;
  #wanted = false;
  #sentinel: Sentinel | null = null;
  #timer: unknown = null;

  constructor(deps: Deps) {
    this.#deps = deps;
    if (deps.lock === null) this.current = 'absent';
    // The browser lets go of it whenever the page is hidden; it has to be asked for anew.
    deps.page.addEventListener('visibilitychange', () => void this.#ask());
    // Right after coming back some browsers refuse until somebody touches.
    deps.page.addEventListener('pointerup', () => void this.#ask());
  }

  hold(): void {
    this.#wanted = true;
    void this.#ask();
  }

  /** Nobody is rung by this phone any more: it may go to sleep. */
  letGo(): void {
    this.#wanted = false;
    const held = this.#sentinel;
    this.#sentinel = null;
    held?.release().catch(() => undefined);
  }

  async #ask(again = true): Promise<void> {
    const { lock, page, timers } = this.#deps;
    if (lock === null || !this.#wanted || this.current === 'held' || page.visibilityState === 'hidden') return;
    if (this.#timer !== null) timers.clear(this.#timer);
    this.#timer = null;
    try {
      const sentinel = await lock.request('screen');
      if (!this.#wanted) {
        void sentinel.release();
        return;
      }
      this.current = 'held';
      this.#sentinel = sentinel;
      sentinel.addEventListener('release', () => {
        this.current = 'off';
        void this.#ask();
      });
    } catch {
      this.current = 'off';
      if (again) this.#timer = timers.set(() => void this.#ask(false), AGAIN_MS);
    }
  }
}
