import type { Touch } from './touch.ts';

/** Touches made on this page: how long ago, and who waits for their outcome. */
export class TouchedHere {
  readonly #at = new Map<string, number>();
  readonly #waiting = new Map<string, (touch: Touch) => void>();

  /** `at`: this page's monotonic clock, ms. */
  add(id: string, at: number): Promise<Touch> {
    this.#at.set(id, at);
    return new Promise((resolve) => this.#waiting.set(id, resolve));
  }

  has(id: string): boolean {
    return this.#at.has(id);
  }

  agoMs(id: string, now: number): number {
    return now - (this.#at.get(id) ?? Number.NEGATIVE_INFINITY);
  }

  settle(touch: Touch): void {
    this.#waiting.get(touch.id)?.(touch);
    this.#waiting.delete(touch.id);
    this.#at.delete(touch.id);
  }
}
