import type { SubscriptionWanted } from '../../../shared/push.ts';

/** Where pushes are spoken of with the server; used by pages and by the worker. */
export const pushPaths = {
  told: '/api/v1/push',
  test: '/api/v1/push/test',
  receipts: '/api/v1/push/receipts',
  of: (device: string) => `/api/v1/push/subscriptions/${device}`,
} as const;

/** The parts of a browser's subscription that matter here. */
export interface Subscription {
  readonly endpoint: string;
  readonly options: { readonly applicationServerKey: ArrayBuffer | null };
  toJSON(): { readonly keys?: Record<string, string> };
  unsubscribe(): Promise<boolean>;
}

export interface PushRoom {
  getSubscription(): Promise<Subscription | null>;
  subscribe(options: {
    userVisibleOnly: boolean;
    applicationServerKey: Uint8Array<ArrayBuffer>;
  }): Promise<Subscription>;
}

/** As bytes, which every browser takes; some do not take the text. */
export function keyBytes(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

export function isMadeWith({ options }: Subscription, publicKey: string): boolean {
  const theirs = new Uint8Array(options.applicationServerKey ?? new ArrayBuffer(0));
  const ours = keyBytes(publicKey);
  return theirs.length === ours.length && ours.every((byte, i) => byte === theirs[i]);
}

/** Every push is shown: browsers take the permission away from whoever promises it and does not (w3.org/TR/push-api). */
export function subscribe(room: PushRoom, publicKey: string): Promise<Subscription> {
  return room.subscribe({ userVisibleOnly: true, applicationServerKey: keyBytes(publicKey) });
}

export function wanted(subscription: Subscription, person: string): SubscriptionWanted {
  const { p256dh = '', auth = '' } = subscription.toJSON().keys ?? {};
  return { person, endpoint: subscription.endpoint, keys: { p256dh, auth } };
}

export function sending(method: 'PUT' | 'POST', body: object): RequestInit {
  return { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}
