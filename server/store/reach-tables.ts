import type { DeviceId, PersonId } from '../../core/ids.ts';
import type { EpochMs } from '../../core/time.ts';

/** One device that a push service leads to (RFC 8030, RFC 8291). Instants are wall clock. */
export interface PushSubscriptionRow {
  readonly device: DeviceId;
  readonly person: PersonId;
  readonly endpoint: string;
  /** The browser's public key and secret, base64url, as `PushSubscription.toJSON` gives them. */
  readonly p256dh: string;
  readonly auth: string;
  readonly madeAt: EpochMs;
  /** When it first said that it had shown what was pushed to it; null: never yet. Sent is not shown (R7). */
  readonly confirmedAt: EpochMs | null;
}

/** A light or buzzer that is told of bells. */
export interface HookRow {
  readonly id: string;
  readonly name: string;
  readonly url: string;
  /** Signs what is sent. */
  readonly secret: string;
  readonly on: boolean;
  readonly madeAt: EpochMs;
}

/**
 * Tables beside the log: small, of today only, each row replaced whole. Every writing method is durable when it returns and
 * throws StorageError when the disk does not take it; whoever calls it goes on without.
 */
export interface ReachTables {
  secret(name: string): string | null;
  keepSecret(name: string, value: string): void;

  /** By device. */
  subscriptions(): readonly PushSubscriptionRow[];
  subscription(device: DeviceId): PushSubscriptionRow | null;
  /** In the place of what that device had. */
  keepSubscription(row: PushSubscriptionRow): void;
  /** Nothing happens if the device has none any more. */
  confirmSubscription(device: DeviceId, at: EpochMs): void;
  /** Whether there was one. */
  dropSubscription(device: DeviceId): boolean;

  /** By id. */
  hooks(): readonly HookRow[];
  hook(id: string): HookRow | null;
  keepHook(row: HookRow): void;
  dropHook(id: string): boolean;
}
