import { assetsOf, isShellFile, pageAt, pagePaths, type Shell } from './shell-files.ts';

/** A page that has not come from the server after so long is taken from what is kept, ms. */
const PAGE_WAIT_MS = 2_000;
/** A screen that said so long ago that it is quiet may not be so any more, ms. */
const QUIET_FOR_MS = 15_000;
const PREFIX = 'basinbell-shell-';

/** One open window of ours. */
export interface Window {
  readonly id: string;
  readonly path: string;
}

export interface Surroundings {
  readonly caches: Pick<CacheStorage, 'open' | 'has' | 'keys' | 'delete' | 'match'>;
  readonly fetch: (what: Request | string, how?: RequestInit) => Promise<Response>;
  readonly windows: () => Promise<readonly Window[]>;
  readonly takeOver: () => Promise<void>;
  readonly now: () => number;
  readonly after: (ms: number) => Promise<void>;
}

/**
 * Keeps one release's pages and files on this device, so that a screen opens without the server. What is kept is
 * written once, whole, when the release is installed, and never changed: it always fits together.
 */
export class ShellKeeper {
  readonly #shell: Shell;
  readonly #around: Surroundings;
  readonly #quietSince = new Map<string, number>();

  constructor(shell: Shell, around: Surroundings) {
    this.#shell = shell;
    this.#around = around;
  }

  /** All of it or nothing: a page whose files are another release's would open empty. */
  async install(): Promise<void> {
    const { caches } = this.#around;
    const had = await caches.has(this.#name);
    try {
      const cache = await caches.open(this.#name);
      await Promise.all([
        ...this.#shell.files.map(async (path) => cache.put(path, await this.#get(path))),
        ...pagePaths.map(async (path) => cache.put(path, await this.#page(path))),
      ]);
    } catch (error) {
      if (!had) await caches.delete(this.#name);
      throw error;
    }
  }

  /** Former releases go once no screen of theirs is open. */
  async activate(): Promise<void> {
    const { caches } = this.#around;
    const former = (await caches.keys()).filter((name) => name.startsWith(PREFIX) && name !== this.#name);
    await Promise.all(former.map((name) => caches.delete(name)));
  }

  /** The answer to a request of ours; null where the browser is to go on as if nobody were here. */
  answer(request: Pick<Request, 'method' | 'mode' | 'url'>, origin: string): Promise<Response> | null {
    const url = new URL(request.url);
    if (request.method !== 'GET' || url.origin !== origin) return null;
    if (request.mode === 'navigate') {
      const page = pageAt(url.pathname);
      return page === null ? null : this.#fromServerElseKept(request as Request, page);
    }
    return isShellFile(url.pathname) ? this.#fromKeptElseServer(request as Request, url.pathname) : null;
  }

  /** A screen said that nothing would be lost now. Once all that are open have, this release takes over. */
  async quiet(window: string): Promise<void> {
    const now = this.#around.now();
    this.#quietSince.set(window, now);
    const screens = (await this.#around.windows()).filter(({ path }) => pageAt(path) !== null);
    const quiet = screens.every(({ id }) => now - (this.#quietSince.get(id) ?? -Infinity) < QUIET_FOR_MS);
    if (quiet) await this.#around.takeOver();
  }

  get #name(): string {
    return PREFIX + this.#shell.version;
  }

  async #get(path: string, how?: RequestInit): Promise<Response> {
    const response = await this.#around.fetch(path, how);
    if (!response.ok) throw new Error(`${path}: ${response.status}`);
    return response;
  }

  async #page(path: string): Promise<Response> {
    const response = await this.#get(path, { cache: 'no-store' });
    const html = await response.clone().text();
    const strange = assetsOf(html).find((asset) => !this.#shell.files.includes(asset));
    if (strange !== undefined) throw new Error(`${path} is of another release: ${strange}`);
    return response;
  }

  async #fromServerElseKept(request: Request, page: string): Promise<Response> {
    const { caches, fetch, after } = this.#around;
    const fromServer = fetch(request).catch(() => null);
    const first = await Promise.race([fromServer, after(PAGE_WAIT_MS)]);
    if (first instanceof Response && first.status < 500) return first;
    const kept = await caches.match(page, { ignoreSearch: true, ignoreVary: true });
    return kept ?? (await fromServer) ?? Response.error();
  }

  async #fromKeptElseServer(request: Request, path: string): Promise<Response> {
    const kept = await this.#around.caches.match(path, { ignoreVary: true });
    return kept ?? this.#around.fetch(request);
  }
}
