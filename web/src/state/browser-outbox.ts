import { deviceStore } from './device-database.ts';
import { newId } from './device.ts';
import { postCommand } from './courier.ts';
import { browserPages } from './other-pages.ts';
import { Outbox, type ServerSight } from './outbox.svelte.ts';
import { browserTimers } from './timers.ts';

/** The outbox of a page in a browser, which follows whether the page can be seen. */
export function browserOutbox(of: {
  readonly server: () => ServerSight;
  readonly person: () => string | null;
  readonly device: string;
}): Outbox {
  const outbox = new Outbox({
    ...of,
    post: postCommand,
    timers: browserTimers,
    random: Math.random,
    wallNow: Date.now,
    performanceNow: () => performance.now(),
    store: deviceStore(),
    pages: browserPages(),
    hidden: () => document.visibilityState === 'hidden',
    newId,
  });
  document.addEventListener('visibilitychange', () => outbox.resume());
  window.addEventListener('pageshow', () => outbox.resume());
  window.addEventListener('pagehide', () => outbox.leave());
  return outbox;
}
