import type { DeviceId } from '../../core/ids.ts';
import type { EpochMs } from '../../core/time.ts';
import type { HookRow, PushSubscriptionRow, ReachTables } from './reach-tables.ts';

function byKey<T>(rows: ReadonlyMap<string, T>): readonly T[] {
  return [...rows].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, row]) => row);
}

/** The tables beside the log, without a file. `writable` throws where nothing may be written. */
export class MemoryReachTables implements ReachTables {
  readonly #writable: () => void;
  readonly #secrets = new Map<string, string>();
  readonly #subscriptions = new Map<DeviceId, PushSubscriptionRow>();
  readonly #hooks = new Map<string, HookRow>();

  constructor(writable: () => void = () => undefined) {
    this.#writable = writable;
  }

  secret(name: string): string | null {
    return this.#secrets.get(name) ?? null;
  }

  keepSecret(name: string, value: string): void {
    this.#writable();
    this.#secrets.set(name, value);
  }

  subscriptions(): readonly PushSubscriptionRow[] {
    return byKey(this.#subscriptions);
  }

  subscription(device: DeviceId): PushSubscriptionRow | null {
    return this.#subscriptions.get(device) ?? null;
  }

  keepSubscription(row: PushSubscriptionRow): void {
    this.#writable();
    this.#subscriptions.set(row.device, { ...row });
  }

  confirmSubscription(device: DeviceId, at: EpochMs): void {
    this.#writable();
    const row = this.#subscriptions.get(device);
    if (row !== undefined) this.#subscriptions.set(device, { ...row, confirmedAt: at });
  }

  dropSubscription(device: DeviceId): boolean {
    this.#writable();
    return this.#subscriptions.delete(device);
  }

  hooks(): readonly HookRow[] {
    return byKey(this.#hooks);
  }

  hook(id: string): HookRow | null {
    return this.#hooks.get(id) ?? null;
  }

  keepHook(row: HookRow): void {
    this.#writable();
    this.#hooks.set(row.id, { ...row });
  }

  dropHook(id: string): boolean {
    this.#writable();
    return this.#hooks.delete(id);
  }
}
