import { keepHolder } from './push-holder.ts';
import type { PushBrowser } from './push-subscription.svelte.ts';

/** Pushes as this browser has them. */
export function browserPush(installFirst: boolean): PushBrowser {
  return {
    secure: globalThis.isSecureContext === true,
    installFirst,
    supported: 'PushManager' in globalThis && 'Notification' in globalThis && 'serviceWorker' in navigator,
    permission: () => Notification.permission,
    ask: () => Notification.requestPermission(),
    room: async () => (await navigator.serviceWorker.ready).pushManager,
    fetch: (path, how) => fetch(path, how),
    keepHolder: (holder) => keepHolder(caches, holder),
  };
}
