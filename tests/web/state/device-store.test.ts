import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it } from 'vitest';
import type { Snapshot } from '../../../shared/wire.ts';
import { openDeviceStore, type LeaseRecord } from '../../../web/src/state/device-store.ts';
import { HandTimers } from '../support/hand-timers.ts';

let names = 0;
const freshName = (): string => `device-${++names}`;

const snapshot: Snapshot = {
  stream: 'floor',
  run: 'run-1',
  protocol: 1,
  revision: 7,
  timescale: 'scale-1',
  now: 1_000,
  civilOffsetMs: 0,
  entities: {},
};

const real = globalThis.indexedDB;
afterEach(() => {
  globalThis.indexedDB = real;
});

describe('what this device keeps', () => {
  it('[X3] is there again when the page is opened anew, changed and taken away in one step', async () => {
    const name = freshName();
    const first = await openDeviceStore(new HandTimers(), name);
    expect(first.trouble).toBeNull();
    expect(await first.changeTouches([{ id: 'one', value: { a: 1 } }])).toBe(true);
    expect(await first.changeTouches([{ id: 'two', value: { b: 2 } }], ['one'])).toBe(true);
    first.close();
    const second = await openDeviceStore(new HandTimers(), name);
    expect(await second.readTouches()).toEqual([{ id: 'two', value: { b: 2 } }]);
  });

  it('[T5] keeps the last snapshot of each stream with the device’s time, and forgets it when told', async () => {
    const name = freshName();
    const first = await openDeviceStore(new HandTimers(), name);
    expect(await first.readHeard('floor')).toBeNull();
    await first.keepHeard('floor', { snapshot, wallAt: 5 });
    first.close();
    const second = await openDeviceStore(new HandTimers(), name);
    expect(await second.readHeard('floor')).toEqual({ snapshot, wallAt: 5 });
    expect(await second.readHeard('salon')).toBeNull();
    await second.clearHeard('floor');
    expect(await second.readHeard('floor')).toBeNull();
  });

  it.each([null, 'words', { wallAt: 1 }, { wallAt: 1, snapshot: { ...snapshot, entities: null } }, { snapshot }])(
    '[T5] a snapshot that another version left is none: %j',
    async (left) => {
      const name = freshName();
      const store = await openDeviceStore(new HandTimers(), name);
      const raw = await openDB(name, 1);
      await raw.put('heard', left, 'floor');
      raw.close();
      expect(await store.readHeard('floor')).toBeNull();
    },
  );

  it('[S8] the lease is looked at and taken in one transaction: of two who ask at once one gets it', async () => {
    const name = freshName();
    const a = await openDeviceStore(new HandTimers(), name);
    const b = await openDeviceStore(new HandTimers(), name);
    const want = (holder: string) => (held: LeaseRecord | null) =>
      held === null ? { holder, beat: 1, until: 1, hidden: false } : null;
    const both = await Promise.all([a.changeLease(want('a')), b.changeLease(want('b'))]);
    expect(new Set(both.map((lease) => lease?.holder)).size).toBe(1);
    await a.dropLease('b');
    await b.dropLease('a');
    expect((await b.changeLease(want('c')))?.holder).toBe('c');
  });
});

describe('where it cannot be kept', () => {
  it('[R8] no database at all: the page goes on from memory and says so', async () => {
    Object.assign(globalThis, { indexedDB: undefined });
    const store = await openDeviceStore(new HandTimers());
    expect(store.trouble).toBe('absent');
    expect(await store.changeTouches([{ id: 'one', value: 1 }])).toBe(false);
    expect(await store.readTouches()).toBeNull();
    await store.keepHeard('floor', { snapshot, wallAt: 5 });
    expect(await store.readHeard('floor')).toEqual({ snapshot, wallAt: 5 });
  });

  it('[R8] one that refuses to open, as in a private window', async () => {
    globalThis.indexedDB = {
      open: () => {
        throw new DOMException('no', 'SecurityError');
      },
    } as unknown as IDBFactory;
    expect((await openDeviceStore(new HandTimers())).trouble).toBe('refused');
  });

  it('[R8] one that never answers is done without after three seconds', async () => {
    const never = { addEventListener: () => undefined } as unknown as IDBOpenDBRequest;
    globalThis.indexedDB = { open: () => never } as unknown as IDBFactory;
    const timers = new HandTimers();
    const opened = openDeviceStore(timers);
    timers.advance(3_000);
    expect((await opened).trouble).toBe('slow');
  });

  it('[R8] one that a newer version has changed is left alone', async () => {
    const name = freshName();
    (await openDB(name, 9)).close();
    expect((await openDeviceStore(new HandTimers(), name)).trouble).toBe('newer');
  });

  it('[R8] a page of a newer version gets it, and this one is told', async () => {
    const name = freshName();
    const store = await openDeviceStore(new HandTimers(), name);
    const told: string[] = [];
    store.onTrouble((trouble) => told.push(trouble));
    (await openDB(name, 2)).close();
    expect(store.trouble).toBe('given-up');
    expect(told).toEqual(['given-up']);
    expect(await store.changeTouches([{ id: 'one', value: 1 }])).toBe(false);
  });

  it('[R8] a value that it refuses to take ends the trust in it', async () => {
    const store = await openDeviceStore(new HandTimers(), freshName());
    expect(await store.changeTouches([{ id: 'one', value: () => undefined }])).toBe(false);
    expect(store.trouble).toBe('failed');
  });
});
