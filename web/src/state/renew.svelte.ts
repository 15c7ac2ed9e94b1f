import { shell as thisShell, type ShellRegistration } from '../shell/registration.svelte.ts';
import { mayTry, nowTried, opensAnew, quietMoment, scriptsNamed, type Tried } from './renewal.ts';
import type { Session } from './session.svelte.ts';

const TRIED = 'basinbell.opened-anew';
/** A page that could not be had, or was the same while refused, is asked for again after so long, ms. */
const ASK_AGAIN_MS = 10_000;
/** After a restart all screens come at once: their questions for the page are spread over so long, ms. */
const SPREAD_MS = 3_000;

interface Page {
  readonly fetched: () => Promise<string>;
  readonly loaded: () => string;
  readonly open: () => void;
  /** Throws where the browser allows none. */
  readonly storage: () => Pick<Storage, 'getItem' | 'setItem'>;
  readonly now: () => number;
  readonly soon: (run: () => void) => void;
}

const thisPage: Page = {
  fetched: async () => {
    const response = await fetch(location.href, { cache: 'no-store' });
    if (!response.ok) throw new Error(`the page: ${response.status}`);
    return response.text();
  },
  loaded: () => Array.from(document.querySelectorAll('script[src]'), (script) => script.getAttribute('src')).join(' '),
  open: () => location.reload(),
  storage: () => sessionStorage,
  now: () => Date.now(),
  soon: (run) => void setTimeout(run, Math.random() * SPREAD_MS),
};

export interface RenewalOptions {
  /** Whether somebody would lose something now, on this screen. */
  readonly occupied: () => boolean;
  readonly page?: Page;
  readonly shell?: Pick<ShellRegistration, 'update' | 'quiet' | 'waits'>;
}

/** `ready`: another version is served, and opens at a quiet moment. `stuck`: it was tried and did not come. */
export type RenewalState = 'none' | 'ready' | 'stuck';

/** Opens a screen anew when its server serves another version, in a quiet moment; with and without a service worker. */
export class Renewal {
  /** Scripts of the page that is served now, where they are others than ours. */
  #served = $state<string | null>(null);
  #stuck = $state(false);
  readonly #session: Session;
  readonly #occupied: () => boolean;
  readonly #page: Page;
  readonly #shell: Pick<ShellRegistration, 'update' | 'quiet' | 'waits'>;
  #run: string | null = null;
  #linked = false;
  #asking = false;
  #askedAt = Number.NEGATIVE_INFINITY;
  #wanted = false;
  #refusedAt: number | null = null;

  constructor(session: Session, { occupied, page = thisPage, shell = thisShell }: RenewalOptions) {
    this.#session = session;
    this.#occupied = occupied;
    this.#page = page;
    this.#shell = shell;
  }

  get state(): RenewalState {
    if (this.#served === null) return 'none';
    return this.#stuck ? 'stuck' : 'ready';
  }

  /** Looks once a second. */
  look(): void {
    const { link, mirror } = this.#session;
    const now = this.#page.now();
    const refused = link.phase === 'refused';
    this.#refusedAt = refused ? (this.#refusedAt ?? now) : null;
    this.#follow(link.phase === 'linked', mirror.run);
    if (refused && this.#served === null) this.#wanted = true;
    if (this.#wanted && !this.#asking && now - this.#askedAt >= ASK_AGAIN_MS) this.#ask(now);
    const calm = quietMoment(mirror.bells);
    const occupied = this.#occupied();
    if (calm && !occupied) this.#shell.quiet(now);
    const refusedForMs = this.#refusedAt === null ? 0 : now - this.#refusedAt;
    const reached = refused || link.phase === 'linked';
    if (opensAnew({ other: this.#served !== null, reached, refused, calm, occupied, refusedForMs })) this.#open(now);
  }

  /** Somebody wants it now. */
  openNow(): void {
    this.#page.open();
  }

  /** Another run of the server, or a line that came back, may bring another version. */
  #follow(linked: boolean, run: string | null): void {
    if (linked && !this.#linked) this.#shell.update();
    this.#linked = linked;
    if (run === this.#run) return;
    this.#run = run;
    this.#wanted = true;
    this.#askedAt = Number.NEGATIVE_INFINITY;
    this.#shell.update();
  }

  #ask(now: number): void {
    this.#asking = true;
    this.#askedAt = now;
    this.#page.soon(() => void this.#compare());
  }

  async #compare(): Promise<void> {
    try {
      const theirs = scriptsNamed(await this.#page.fetched());
      this.#served = theirs === '' || theirs === this.#page.loaded() ? null : theirs;
      this.#wanted = theirs === '';
    } catch {
      // Not to be had now: asked again.
    } finally {
      this.#asking = false;
    }
  }

  /** Where nothing can be remembered over an opening, none is tried: it could go on for ever. */
  #open(now: number): void {
    const scripts = this.#served ?? '';
    try {
      const storage = this.#page.storage();
      const tried = readTried(storage.getItem(TRIED));
      this.#stuck = !mayTry(tried, scripts, now);
      if (this.#stuck) return;
      storage.setItem(TRIED, JSON.stringify(nowTried(tried, scripts, now)));
    } catch {
      this.#stuck = true;
      return;
    }
    this.#page.open();
  }
}

function readTried(text: string | null): Tried | null {
  try {
    const tried = JSON.parse(text ?? 'null') as Tried | null;
    return typeof tried?.scripts === 'string' ? tried : null;
  } catch {
    return null;
  }
}
