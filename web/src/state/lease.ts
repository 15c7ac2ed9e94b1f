import type { TouchStore, LeaseRecord } from './device-store.ts';
import type { Timers } from './timers.ts';

/** How often the page that sends says that it is still there, and how long it is believed without, ms. */
export const RENEW_MS = 2_000;
export const LEASE_MS = 6_000;

interface Deps {
  readonly store: TouchStore;
  readonly timers: Timers;
  readonly wallNow: () => number;
  readonly hidden: () => boolean;
  /** Names this page. */
  readonly page: string;
  /** Told when this page begins to hold the lease. */
  readonly begun: () => void;
}

/**
 * Which page of this device sends. One path everywhere: locks of the browser do not exist on plain-http pages. Two that believe it
 * of themselves for a moment do no harm, since the same touch keeps its id (S8).
 */
export class Lease {
  held = false;
  #timer: unknown = null;
  /** The other holder's last beat, and for how many looks it has not changed: a clock that was set cannot keep a dead page alive. */
  #other: LeaseRecord | null = null;
  #unchanged = 0;
  readonly #deps: Deps;

  constructor(deps: Deps) {
    this.#deps = deps;
  }

  /** Looks now, and every two seconds from then on. */
  async look(): Promise<void> {
    const { store, timers, page } = this.#deps;
    if (this.#timer !== null) timers.clear(this.#timer);
    this.#timer = timers.set(() => void this.look(), RENEW_MS);
    const stands = await store.changeLease((held) => this.#wanted(held));
    // Where nothing can be kept the pages know nothing of one another: each sends its own.
    const mine = stands === null || stands.holder === page;
    this.#watch(mine ? null : stands);
    const began = mine && !this.held;
    this.held = mine;
    if (began) this.#deps.begun();
  }

  /** The page goes away or behind: the next one need not wait. */
  async drop(): Promise<void> {
    this.held = false;
    if (this.#timer !== null) this.#deps.timers.clear(this.#timer);
    this.#timer = null;
    await this.#deps.store.dropLease(this.#deps.page);
  }

  #wanted(held: LeaseRecord | null): LeaseRecord | null {
    const { page, wallNow, hidden } = this.#deps;
    const mine = held === null || held.holder === page;
    if (!mine && !this.#ranOut(held)) return null;
    return { holder: page, beat: (held?.beat ?? 0) + 1, until: wallNow() + LEASE_MS, hidden: hidden() };
  }

  #ranOut(held: LeaseRecord): boolean {
    const left = held.until - this.#deps.wallNow();
    if (left <= 0 || left > LEASE_MS) return true;
    if (held.hidden && !this.#deps.hidden()) return true;
    return this.#unchanged * RENEW_MS >= LEASE_MS && same(held, this.#other);
  }

  #watch(other: LeaseRecord | null): void {
    this.#unchanged = other !== null && same(other, this.#other) ? this.#unchanged + 1 : 0;
    this.#other = other;
  }
}

function same(a: LeaseRecord, b: LeaseRecord | null): boolean {
  return a.holder === b?.holder && a.beat === b.beat;
}
