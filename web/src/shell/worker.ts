import type { Shell } from './shell-files.ts';
import { ShellKeeper } from './shell-keeper.ts';

declare const __SHELL__: Shell;

/** What a service worker has that a page has not; only what is used (w3.org/TR/service-workers). */
interface Lasting extends Event {
  waitUntil(done: Promise<unknown>): void;
}
interface Fetched extends Lasting {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Said extends Lasting {
  readonly data: unknown;
  readonly source: { readonly id?: string } | null;
}
interface Scope {
  readonly location: Location;
  readonly clients: {
    matchAll(options: object): Promise<readonly { readonly id: string; readonly url: string }[]>;
  };
  skipWaiting(): Promise<void>;
  addEventListener(name: 'install' | 'activate', heard: (event: Lasting) => void): void;
  addEventListener(name: 'fetch', heard: (event: Fetched) => void): void;
  addEventListener(name: 'message', heard: (event: Said) => void): void;
}

const scope = self as unknown as Scope;

const keeper = new ShellKeeper(__SHELL__, {
  caches,
  fetch: (what, how) => fetch(what, how),
  windows: async () => {
    const windows = await scope.clients.matchAll({ type: 'window', includeUncontrolled: true });
    return windows.map(({ id, url }) => ({ id, path: new URL(url).pathname }));
  },
  takeOver: () => scope.skipWaiting(),
  now: () => Date.now(),
  after: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
});

scope.addEventListener('install', (event) => event.waitUntil(keeper.install()));
scope.addEventListener('activate', (event) => event.waitUntil(keeper.activate()));
scope.addEventListener('fetch', (event) => {
  const answer = keeper.answer(event.request, scope.location.origin);
  if (answer !== null) event.respondWith(answer);
});
scope.addEventListener('message', (event) => {
  const { data, source } = event;
  if (data === 'quiet' && source?.id !== undefined) event.waitUntil(keeper.quiet(source.id));
});
