import type { Recorded } from '../../core/events.ts';
import type { Floor } from '../../core/floor.ts';
import type { EngineLog } from './engine-log.ts';

/** What a turn changed, for those who tell the screens. */
export interface Change {
  readonly previous: number;
  readonly revision: number;
  readonly floor: Floor;
  /** All that was recorded in it, in order. */
  readonly events: readonly Recorded[];
}

/** Those who are told of turns; one that fails is no reason for the others not to hear. */
export class Listeners {
  readonly #listeners = new Set<(change: Change) => void>();
  readonly #log: EngineLog;

  constructor(log: EngineLog) {
    this.#log = log;
  }

  add(listener: (change: Change) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  tell(change: Change): void {
    for (const listener of this.#listeners) {
      try {
        listener(change);
      } catch (error) {
        this.#log.error({ err: error }, 'a change could not be told');
      }
    }
  }
}
