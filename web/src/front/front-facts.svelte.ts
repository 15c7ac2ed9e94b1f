import type { About, Snapshot } from '../../../shared/wire.ts';
import { FloorMirror } from '../state/floor-mirror.svelte.ts';
import type { Timers } from '../state/timers.ts';

export type FetchJson = (path: string, method: 'GET' | 'POST') => Promise<unknown>;

/** Looked at again this often: somebody may be setting the salon up on another device, ms. */
const AGAIN_MS = 10_000;

/** What the first page knows of its server: asked for, not pushed, since nothing here counts. */
export class FrontFacts {
  readonly mirror = new FloorMirror();
  about = $state.raw<About | null>(null);
  /** Whether the last question was answered; null before the first answer. */
  answered = $state<boolean | null>(null);
  readonly #ask: FetchJson;
  readonly #timers: Timers;

  constructor(ask: FetchJson, timers: Timers) {
    this.#ask = ask;
    this.#timers = timers;
  }

  async look(): Promise<void> {
    try {
      const [about, floor] = await Promise.all([this.#ask('/api/v1/about', 'GET'), this.#ask('/api/v1/floor', 'GET')]);
      this.about = about as About;
      this.mirror.take(floor as Snapshot);
      this.answered = true;
    } catch {
      this.answered = false;
    }
  }

  /** Looks now and again for as long as the page is open. */
  follow(): void {
    void this.look().then(() => this.#timers.set(() => this.follow(), AGAIN_MS));
  }
}

/** An answer that is no success is thrown with its sentence. */
export const fetchJson: FetchJson = async (path, method) => {
  const response = await fetch(path, { method, cache: 'no-store' });
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body;
  const { detail, title } = (body ?? {}) as { detail: string | undefined; title: string | undefined };
  throw new Error(detail ?? title ?? String(response.status));
};
