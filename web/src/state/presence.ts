import type { BellMeant } from '../../../core/bells/receipts.ts';
import type { DeviceId, PersonId } from '../../../core/ids.ts';
import { PRESENCE_MS } from '../../../shared/protocol.ts';
import type { Here, ShownBells } from '../../../shared/socket-events.ts';

interface Deps {
  readonly device: DeviceId;
  readonly tellHere: (here: Here) => boolean;
  readonly tellShown: (shown: ShownBells) => boolean;
  /** The page's monotonic clock. */
  readonly performanceNow: () => number;
}

const keyOf = (bell: BellMeant): string => [bell.visit, bell.chair, bell.cause, bell.episode, bell.level].join('/');

/** What this device says of itself: that it is there and can be heard, and which bells it has shown (R7). */
export class Presence {
  readonly #deps: Deps;
  #last = '';
  #saidAt = Number.NEGATIVE_INFINITY;
  #confirmed = new Set<string>();

  constructor(deps: Deps) {
    this.#deps = deps;
  }

  /** Call with each painted second: what is shown is then before somebody's eyes. */
  look(here: Omit<Here, 'device'>, shown: readonly BellMeant[]): void {
    this.#tellHere({ device: this.#deps.device, ...here });
    if (here.person !== null && here.seen) this.#tellShown(here.person, shown);
  }

  /** After a new link nothing counts as told. */
  forget(): void {
    this.#last = '';
    this.#confirmed.clear();
  }

  #tellHere(here: Here): void {
    const { performanceNow, tellHere } = this.#deps;
    const now = performanceNow();
    const text = JSON.stringify(here);
    const due = now - this.#saidAt >= PRESENCE_MS;
    if (text === this.#last && !due) return;
    if (!tellHere(here)) return;
    this.#last = text;
    this.#saidAt = now;
  }

  #tellShown(person: PersonId, shown: readonly BellMeant[]): void {
    const fresh = shown.filter((bell) => !this.#confirmed.has(`${person}/${keyOf(bell)}`));
    const standing = new Set(shown.map((bell) => `${person}/${keyOf(bell)}`));
    this.#confirmed = new Set([...this.#confirmed].filter((key) => standing.has(key)));
    if (fresh.length === 0) return;
    if (!this.#deps.tellShown({ device: this.#deps.device, person, bells: fresh })) return;
    for (const bell of fresh) this.#confirmed.add(`${person}/${keyOf(bell)}`);
  }
}
