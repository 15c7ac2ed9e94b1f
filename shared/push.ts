import type { DeviceId, PersonId } from '../core/ids.ts';
import type { EpochMs } from '../core/time.ts';

/** Whether bells go to phones by push, and the key that a subscription is made with (RFC 8292); null while it is off. */
export interface PushTold {
  readonly on: boolean;
  readonly publicKey: string | null;
  /** Whom the push services may write to, as the owner said (RFC 8292 §2.1). */
  readonly contact: string | null;
}

/** A browser's subscription, as `PushSubscription.toJSON` gives it, and who holds the device. */
export interface SubscriptionWanted {
  readonly person: PersonId;
  readonly endpoint: string;
  readonly keys: { readonly p256dh: string; readonly auth: string };
}

/** What came of the last push, where it was not well: its service refused it, or did not take it in time. */
export const pushTroubles = ['refused', 'slow'] as const;
export type PushTrouble = (typeof pushTroubles)[number];

/** The server's copy. The address itself is never told again: whoever knows it can send there. */
export interface SubscriptionTold {
  readonly device: DeviceId;
  readonly person: PersonId;
  /** When the device last confirmed a test, or else its first push, wall clock; null: not yet, and so it counts as no way to reach anybody. */
  readonly confirmedAt: EpochMs | null;
  readonly trouble: PushTrouble | null;
}

/** Sent by a worker once it has shown what was pushed to it. */
export interface PushReceipt {
  readonly receipt: string;
}

export interface ReceiptHeard {
  /** `already`: this one was heard before; nothing more is needed. */
  readonly outcome: 'shown' | 'already';
}

/** What a push carries: the declarative form (webkit.org/blog/16535), which every worker can also read as plain JSON. */
export interface PushMessage {
  readonly web_push: 8030;
  /** Also within the notification: drafts of the form had it there, and what is not known is passed over. */
  readonly mutable: true;
  readonly notification: {
    readonly title: string;
    readonly body: string;
    readonly navigate: string;
    readonly tag: string;
    readonly lang: string;
    readonly dir: 'ltr' | 'rtl';
    readonly silent: boolean;
    readonly mutable: true;
    readonly data: PushData;
  };
}

export interface PushData {
  /** Null where nothing is to be confirmed: a bell that has ended. */
  readonly receipt: string | null;
  /** Opened by a touch, below the origin of the page that subscribed. */
  readonly path: string;
  /** The notification of the same bell that this one rings again for; it is closed. */
  readonly replaces: string | null;
}
