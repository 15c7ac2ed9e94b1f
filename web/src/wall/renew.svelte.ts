import type { Session } from '../state/session.svelte.ts';
import { opensAnew, scriptsNamed } from './renewal.ts';
import { quietMoment } from './tally.ts';

const TRIED = 'basinbell.wall.opened-anew';

interface Page {
  /** The page as the server has it now. */
  readonly fetched: () => Promise<string>;
  readonly loaded: () => string;
  readonly open: () => void;
  /** Throws where the browser allows none. */
  readonly storage: () => Pick<Storage, 'getItem' | 'setItem' | 'removeItem'>;
}

const thisPage: Page = {
  fetched: async () => (await fetch(location.href, { cache: 'no-store' })).text(),
  loaded: () => Array.from(document.querySelectorAll('script[src]'), (script) => script.getAttribute('src')).join(' '),
  open: () => location.reload(),
  storage: () => sessionStorage,
};

/** Opens the wall anew when its server was replaced by a newer one, in a quiet moment. */
export class Renewal {
  newer = $state(false);
  readonly #session: Session;
  readonly #page: Page;
  #run: string | null = null;
  #refusedAt: number | null = null;

  constructor(session: Session, page: Page = thisPage) {
    this.#session = session;
    this.#page = page;
  }

  /** Looks once a second. */
  look(): void {
    const { link, mirror, now } = this.#session;
    if (link.phase === 'linked' && !this.newer) this.#forget();
    if (mirror.run !== this.#run) {
      if (this.#run !== null) void this.#compare();
      this.#run = mirror.run;
    }
    this.#refusedAt = link.phase === 'refused' ? (this.#refusedAt ?? now) : null;
    const anew = opensAnew({
      newer: this.newer,
      refused: link.phase === 'refused',
      quiet: quietMoment(mirror.bells),
      refusedForMs: this.#refusedAt === null ? 0 : now - this.#refusedAt,
      triedAlready: this.tried,
    });
    if (!anew) return;
    this.#page.storage().setItem(TRIED, 'yes');
    this.#page.open();
  }

  /** Where nothing can be remembered over an opening, none is tried: it could go on for ever. */
  get tried(): boolean {
    try {
      return this.#page.storage().getItem(TRIED) !== null;
    } catch {
      return true;
    }
  }

  #forget(): void {
    try {
      this.#page.storage().removeItem(TRIED);
    } catch {
      // Nothing was kept.
    }
  }

  async #compare(): Promise<void> {
    try {
      const theirs = scriptsNamed(await this.#page.fetched());
      this.newer = theirs !== '' && theirs !== this.#page.loaded();
    } catch {
      // Not to be had now; the next run of the server asks again.
    }
  }
}
