import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import type { StreamName } from '../../../shared/protocol.ts';
import type { Snapshot } from '../../../shared/wire.ts';
import type { Timers } from './timers.ts';

/** Why this device keeps nothing over a reload: then everything lives in this page's memory. */
export type StoreTrouble = 'absent' | 'refused' | 'newer' | 'slow' | 'failed' | 'given-up';

/** Which page of this device sends. `until` is the device's wall clock; `beat` counts up with each renewal. */
export interface LeaseRecord {
  readonly holder: string;
  readonly beat: number;
  readonly until: number;
  /** The holder's page is hidden: its timers may stand still, so that a visible page need not wait for it. */
  readonly hidden: boolean;
}

/** What a stream last told this device, and the device's wall clock then (epoch ms). */
export interface Heard {
  readonly snapshot: Snapshot;
  readonly wallAt: number;
}

/** A value of the queue under its key: the touch's id. It may have been left by another version, so its shape is open. */
export interface Stored {
  readonly id: string;
  readonly value: unknown;
}

/** What the outbox wants of it. */
export interface TouchStore {
  readonly trouble: StoreTrouble | null;
  onTrouble(told: (trouble: StoreTrouble) => void): void;
  readTouches(): Promise<readonly Stored[] | null>;
  changeTouches(put: readonly Stored[], gone?: readonly string[]): Promise<boolean>;
  changeLease(decide: (held: LeaseRecord | null) => LeaseRecord | null): Promise<LeaseRecord | null>;
  dropLease(holder: string): Promise<void>;
}

interface Shape extends DBSchema {
  touches: { key: string; value: unknown };
  lease: { key: string; value: LeaseRecord };
  heard: { key: string; value: unknown };
}

type Opened = IDBPDatabase<Shape>;

const NAME = 'basinbell';
/** Raised when a store is added; entries carry a shape of their own. */
const VERSION = 1;
/** A database that has not opened by now (ms) is done without: a touch must not wait for it. */
const OPEN_WITHIN_MS = 3_000;

/**
 * The one database of this device. It never throws and never rejects: where there is none, or it refuses, `trouble` says why, and
 * what should have been kept lives only as long as the page.
 */
export class DeviceStore implements TouchStore {
  #trouble: StoreTrouble | null;
  #db: Opened | null;
  readonly #told = new Set<(trouble: StoreTrouble) => void>();
  readonly #heard = new Map<StreamName, Heard>();

  constructor(db: Opened | null, trouble: StoreTrouble | null) {
    this.#db = db;
    this.#trouble = trouble;
    db?.addEventListener('close', () => this.#giveUp('failed'));
    // A page of a newer version wants to change the database: what is in memory goes on from there.
    db?.addEventListener('versionchange', () => {
      db.close();
      this.#giveUp('given-up');
    });
  }

  /** Null while what is kept here outlives the page. */
  get trouble(): StoreTrouble | null {
    return this.#trouble;
  }

  /** Told once, when keeping ends to be possible. */
  onTrouble(told: (trouble: StoreTrouble) => void): void {
    if (this.#trouble !== null) told(this.#trouble);
    else this.#told.add(told);
  }

  /** All touches, in no order; null where they cannot be read. */
  async readTouches(): Promise<readonly Stored[] | null> {
    return this.#ask(async (db) => {
      const tx = db.transaction('touches');
      const [keys, values] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()]);
      return keys.map((id, i) => ({ id, value: values[i] }));
    });
  }

  /** Changes several touches in one transaction; false when it could not be kept. */
  async changeTouches(put: readonly Stored[], gone: readonly string[] = []): Promise<boolean> {
    const done = await this.#ask(async (db) => {
      const tx = db.transaction('touches', 'readwrite');
      await Promise.all([
        ...put.map(({ id, value }) => tx.store.put(value, id)),
        ...gone.map((id) => tx.store.delete(id)),
        tx.done,
      ]);
      return true;
    });
    return done ?? false;
  }

  /** Looks at the lease and takes or renews it in one transaction; what stands afterwards, null where there is none to hold. */
  async changeLease(decide: (held: LeaseRecord | null) => LeaseRecord | null): Promise<LeaseRecord | null> {
    return this.#ask(async (db) => {
      const tx = db.transaction('lease', 'readwrite');
      const held = asLease(await tx.store.get('sender'));
      const wanted = decide(held);
      if (wanted !== null) await tx.store.put(wanted, 'sender');
      await tx.done;
      return wanted ?? held;
    });
  }

  async dropLease(holder: string): Promise<void> {
    await this.#ask(async (db) => {
      const tx = db.transaction('lease', 'readwrite');
      if (asLease(await tx.store.get('sender'))?.holder === holder) await tx.store.delete('sender');
      await tx.done;
      return true;
    });
  }

  /** What the stream last told this device; null where nothing is kept, or another version kept it. */
  async readHeard(stream: StreamName): Promise<Heard | null> {
    const kept = await this.#ask((db) => db.get('heard', stream));
    return asHeard(kept) ?? this.#heard.get(stream) ?? null;
  }

  async keepHeard(stream: StreamName, heard: Heard): Promise<void> {
    this.#heard.set(stream, heard);
    await this.#ask((db) => db.put('heard', heard, stream));
  }

  async clearHeard(stream: StreamName): Promise<void> {
    this.#heard.delete(stream);
    await this.#ask(async (db) => {
      await db.delete('heard', stream);
      return true;
    });
  }

  close(): void {
    this.#db?.close();
    this.#giveUp('given-up');
  }

  async #ask<T>(ask: (db: Opened) => Promise<T>): Promise<T | null> {
    if (this.#db === null) return null;
    try {
      return await ask(this.#db);
    } catch {
      this.#giveUp('failed');
      return null;
    }
  }

  #giveUp(trouble: StoreTrouble): void {
    if (this.#trouble !== null) return;
    this.#db = null;
    this.#trouble = trouble;
    for (const told of this.#told) told(trouble);
  }
}

function asLease(value: unknown): LeaseRecord | null {
  const one = value as LeaseRecord | null | undefined;
  const sound = typeof one?.holder === 'string' && Number.isFinite(one.beat) && Number.isFinite(one.until);
  return sound ? one : null;
}

function asHeard(value: unknown): Heard | null {
  const one = value as Heard | null | undefined;
  const snapshot = one?.snapshot;
  const sound =
    typeof snapshot === 'object' &&
    Number.isFinite(one?.wallAt) &&
    Number.isFinite(snapshot?.revision) &&
    Number.isFinite(snapshot?.now) &&
    typeof snapshot?.run === 'string' &&
    typeof snapshot?.timescale === 'string' &&
    typeof snapshot?.entities === 'object' &&
    snapshot.entities !== null;
  return sound ? (one as Heard) : null;
}

function troubleOf(error: unknown): StoreTrouble {
  return (error as { name?: string } | null)?.name === 'VersionError' ? 'newer' : 'refused';
}

/** Opens the database, or goes on without: always resolves, and soon. */
export function openDeviceStore(timers: Timers, name = NAME): Promise<DeviceStore> {
  if (!hasDatabases()) return Promise.resolve(new DeviceStore(null, 'absent'));
  return new Promise((resolve) => {
    let late = false;
    const timer = timers.set(() => {
      late = true;
      resolve(new DeviceStore(null, 'slow'));
    }, OPEN_WITHIN_MS);
    const settle = (db: Opened | null, trouble: StoreTrouble | null): void => {
      timers.clear(timer);
      if (late) db?.close();
      else resolve(new DeviceStore(db, trouble));
    };
    opening(name).then(
      (db) => settle(db, null),
      (error: unknown) => settle(null, troubleOf(error)),
    );
  });
}

async function opening(name: string): Promise<Opened> {
  return openDB<Shape>(name, VERSION, {
    upgrade(db) {
      for (const store of ['touches', 'lease', 'heard'] as const) {
        if (!db.objectStoreNames.contains(store)) db.createObjectStore(store);
      }
    },
  });
}

/** Merely touching `indexedDB` throws where a browser forbids storage. */
function hasDatabases(): boolean {
  try {
    return typeof globalThis.indexedDB === 'object' && globalThis.indexedDB !== null;
  } catch {
    return false;
  }
}
