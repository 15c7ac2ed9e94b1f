import { keptHolder } from '../reach/push-holder.ts';
import type { PushRoom } from '../reach/push-wire.ts';
import { PushShower, type Notice } from './push-shower.ts';
import type { Shell } from './shell-files.ts';
import { ShellKeeper } from './shell-keeper.ts';

declare const __SHELL__: Shell;

/** What a service worker has that a page has not; only what is used (w3.org/TR/service-workers, /push-api, notifications.spec.whatwg.org). */
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
interface Pushed extends Lasting {
  readonly data: { text(): string } | null;
  /** Where the browser has read the declarative form: what it will show if nothing else is. */
  readonly notification?: object | null;
}
interface Touched extends Lasting {
  readonly notification: Notice & { readonly data: unknown };
}
interface Client {
  readonly id: string;
  readonly url: string;
  focus(): Promise<unknown>;
}
interface Scope {
  readonly location: Location;
  readonly registration: Pick<ServiceWorkerRegistration, 'showNotification' | 'getNotifications'> & {
    readonly pushManager: PushRoom;
  };
  readonly clients: {
    matchAll(options: object): Promise<readonly Client[]>;
    openWindow(path: string): Promise<unknown>;
  };
  skipWaiting(): Promise<void>;
  addEventListener(name: 'install' | 'activate' | 'pushsubscriptionchange', heard: (event: Lasting) => void): void;
  addEventListener(name: 'fetch', heard: (event: Fetched) => void): void;
  addEventListener(name: 'message', heard: (event: Said) => void): void;
  addEventListener(name: 'push', heard: (event: Pushed) => void): void;
  addEventListener(name: 'notificationclick', heard: (event: Touched) => void): void;
}

const scope = self as unknown as Scope;
const windows = () => scope.clients.matchAll({ type: 'window', includeUncontrolled: true });
const after = (ms: number) => new Promise<void>((resolve) => setTimeout(resolve, ms));

const keeper = new ShellKeeper(__SHELL__, {
  caches,
  fetch: (what, how) => fetch(what, how),
  windows: async () => (await windows()).map(({ id, url }) => ({ id, path: new URL(url).pathname })),
  takeOver: () => scope.skipWaiting(),
  now: () => Date.now(),
  after,
});

const shower = new PushShower({
  show: (title, options) => scope.registration.showNotification(title, options),
  shown: (tag) => scope.registration.getNotifications({ tag }),
  fetch: (path, how) => fetch(path, how),
  windows,
  open: (path) => scope.clients.openWindow(path),
  after,
  room: () => scope.registration.pushManager,
  holder: () => keptHolder(caches),
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
scope.addEventListener('push', (event) => {
  event.waitUntil(shower.pushed(event.data?.text() ?? null, event.notification ?? null));
});
scope.addEventListener('notificationclick', (event) => {
  event.notification.close();
  event.waitUntil(shower.touched(event.notification.data));
});
// Unanswered, the next page that opens subscribes anew.
scope.addEventListener('pushsubscriptionchange', (event) => {
  event.waitUntil(shower.subscriptionChanged().catch(() => undefined));
});
