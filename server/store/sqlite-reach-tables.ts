import type { Database } from 'better-sqlite3';
import type { DeviceId } from '../../core/ids.ts';
import type { EpochMs } from '../../core/time.ts';
import type { HookRow, PushSubscriptionRow, ReachTables } from './reach-tables.ts';

/** How the store lets its file be used: each turns trouble with the disk into a StorageError. */
export interface FileAccess {
  /** On whichever connection still reads. */
  read<T>(work: (db: Database) => T): T;
  /** On the one that writes. */
  write<T>(work: (db: Database) => T): T;
}

type StoredHook = Omit<HookRow, 'on'> & { readonly isOn: number };

const SUBSCRIPTIONS = `
  SELECT device, person, endpoint, p256dh, auth, made_at AS madeAt, confirmed_at AS confirmedAt FROM push_subscription`;
const HOOKS = 'SELECT id, name, url, secret, is_on AS isOn, made_at AS madeAt FROM hook';

/** The tables beside the log. Asked and written a few times a day, so statements are prepared as they are needed. */
export class SqliteReachTables implements ReachTables {
  readonly #file: FileAccess;

  constructor(file: FileAccess) {
    this.#file = file;
  }

  secret(name: string): string | null {
    const sql = 'SELECT value FROM secret WHERE name = ?';
    return this.#file.read((db) => db.prepare<[string], string>(sql).pluck().get(name) ?? null);
  }

  keepSecret(name: string, value: string): void {
    this.#change(
      'INSERT INTO secret (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value',
      [name, value],
    );
  }

  subscriptions(): readonly PushSubscriptionRow[] {
    return this.#file.read((db) => db.prepare<[], PushSubscriptionRow>(`${SUBSCRIPTIONS} ORDER BY device`).all());
  }

  subscription(device: DeviceId): PushSubscriptionRow | null {
    const sql = `${SUBSCRIPTIONS} WHERE device = ?`;
    return this.#file.read((db) => db.prepare<[string], PushSubscriptionRow>(sql).get(device) ?? null);
  }

  keepSubscription(row: PushSubscriptionRow): void {
    this.#change('INSERT OR REPLACE INTO push_subscription VALUES (?, ?, ?, ?, ?, ?, ?)', [
      row.device,
      row.person,
      row.endpoint,
      row.p256dh,
      row.auth,
      row.madeAt,
      row.confirmedAt,
    ]);
  }

  confirmSubscription(device: DeviceId, at: EpochMs): void {
    this.#change('UPDATE push_subscription SET confirmed_at = ? WHERE device = ?', [at, device]);
  }

  dropSubscription(device: DeviceId): boolean {
    return this.#change('DELETE FROM push_subscription WHERE device = ?', [device]);
  }

  hooks(): readonly HookRow[] {
    return this.#file.read((db) => db.prepare<[], StoredHook>(`${HOOKS} ORDER BY id`).all()).map(hookOf);
  }

  hook(id: string): HookRow | null {
    const row = this.#file.read((db) => db.prepare<[string], StoredHook>(`${HOOKS} WHERE id = ?`).get(id));
    return row === undefined ? null : hookOf(row);
  }

  keepHook({ id, name, url, secret, on, madeAt }: HookRow): void {
    this.#change('INSERT OR REPLACE INTO hook VALUES (?, ?, ?, ?, ?, ?)', [id, name, url, secret, on ? 1 : 0, madeAt]);
  }

  dropHook(id: string): boolean {
    return this.#change('DELETE FROM hook WHERE id = ?', [id]);
  }

  /** Whether a row was there to be changed. */
  #change(sql: string, values: readonly (string | number | null)[]): boolean {
    return this.#file.write((db) => db.prepare(sql).run(...values).changes > 0);
  }
}

function hookOf({ isOn, ...row }: StoredHook): HookRow {
  return { ...row, on: isOn === 1 };
}
