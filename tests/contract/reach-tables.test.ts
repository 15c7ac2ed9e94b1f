import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { HookRow, PushSubscriptionRow } from '../../server/store/reach-tables.ts';
import { StorageError } from '../../server/store/store.ts';
import { NOON } from '../support/floor-life.ts';
import { dataFolder, storeKinds, type CheckedStore, type OpenedKind } from '../support/store-kinds.ts';
import { storedSalon } from '../support/stored-life.ts';

const phone = (device: string, more: Partial<PushSubscriptionRow> = {}): PushSubscriptionRow => ({
  device,
  person: 'person-ama',
  endpoint: `https://push.example/${device}`,
  p256dh: 'a-public-key',
  auth: 'a-secret',
  madeAt: NOON,
  confirmedAt: null,
  ...more,
});
const lamp = (id: string, more: Partial<HookRow> = {}): HookRow => ({
  id,
  name: 'Lamp at the basins',
  url: 'http://192.0.2.7/bells',
  secret: 'a-secret',
  on: true,
  madeAt: NOON,
  ...more,
});
const trouble = (act: () => unknown): string => {
  try {
    act();
  } catch (error) {
    if (error instanceof StorageError) return error.trouble;
    throw error;
  }
  throw new Error('nothing was thrown');
};

describe.each(storeKinds)('tables beside the log, $kind', ({ open }) => {
  let opened: OpenedKind;
  let store: CheckedStore;
  beforeEach(() => {
    opened = open();
    store = opened.store;
  });
  afterEach(() => opened.end());

  test('are empty at first', () => {
    const { reach } = store;
    expect(reach.secret('none')).toBeNull();
    expect([reach.subscriptions(), reach.subscription('none'), reach.hooks(), reach.hook('none')]).toEqual([
      [],
      null,
      [],
      null,
    ]);
    expect([reach.dropSubscription('none'), reach.dropHook('none')]).toEqual([false, false]);
  });

  test('keep secrets by name, the last one given, over a restart', () => {
    store.reach.keepSecret('one', 'first');
    store.reach.keepSecret('two', 'other');
    store.reach.keepSecret('one', 'second');
    const { reach } = opened.reopen();
    expect([reach.secret('one'), reach.secret('two')]).toEqual(['second', 'other']);
  });

  test('keep one subscription per device, whole, over a restart', () => {
    store.reach.keepSubscription(phone('device-2'));
    store.reach.keepSubscription(phone('device-1'));
    store.reach.keepSubscription(phone('device-2', { person: 'person-joss', endpoint: 'https://push.example/new' }));
    const { reach } = opened.reopen();
    const second = phone('device-2', { person: 'person-joss', endpoint: 'https://push.example/new' });
    expect(reach.subscriptions()).toEqual([phone('device-1'), second]);
    expect(reach.subscription('device-2')).toEqual(second);
  });

  test('[R7] a subscription counts as confirmed once its device said so, and one that is gone stays gone', () => {
    const { reach } = store;
    reach.keepSubscription(phone('device-1'));
    reach.confirmSubscription('device-1', NOON + 5);
    expect(reach.subscription('device-1')).toEqual(phone('device-1', { confirmedAt: NOON + 5 }));
    expect(reach.dropSubscription('device-1')).toBe(true);
    reach.confirmSubscription('device-1', NOON + 6);
    expect(reach.subscriptions()).toEqual([]);
  });

  test('keep hooks, on or off, until they are dropped', () => {
    store.reach.keepHook(lamp('hook-b'));
    store.reach.keepHook(lamp('hook-a', { on: false }));
    const { reach } = opened.reopen();
    expect(reach.hooks()).toEqual([lamp('hook-a', { on: false }), lamp('hook-b')]);
    reach.keepHook(lamp('hook-a', { name: 'Buzzer' }));
    expect(reach.hook('hook-a')).toEqual(lamp('hook-a', { name: 'Buzzer' }));
    expect([reach.dropHook('hook-a'), reach.hook('hook-a')]).toEqual([true, null]);
  });

  test('are no part of the log: a start finds the same floor, and rebuilding leaves them alone', () => {
    storedSalon(store);
    const was = store.open();
    store.reach.keepSubscription(phone('device-1'));
    store.reach.keepHook(lamp('hook-a'));
    expect(store.open()).toEqual(was);
    store.rebuild();
    expect([store.reach.subscriptions(), store.reach.hooks()]).toEqual([[phone('device-1')], [lamp('hook-a')]]);
  });

  test('a damaged file takes nothing more, and what was kept can still be read', () => {
    store.reach.keepSecret('one', 'first');
    store.reach.keepSubscription(phone('device-1'));
    store.declareDamaged('a planted damage', 'check');
    const { reach } = store;
    const writes = [
      () => reach.keepSecret('one', 'x'),
      () => reach.keepSubscription(phone('device-2')),
      () => reach.confirmSubscription('device-1', NOON),
      () => reach.dropSubscription('device-1'),
      () => reach.keepHook(lamp('hook-a')),
      () => reach.dropHook('hook-a'),
    ];
    expect(writes.map(trouble)).toEqual(writes.map(() => 'corrupt'));
    expect([reach.secret('one'), reach.subscriptions()]).toEqual(['first', [phone('device-1')]]);
  });
});

describe('tables beside the log, on a disk that takes nothing', () => {
  test('[R8] what cannot be kept is a StorageError, nothing of it is kept, and the floor reads on', () => {
    const data = dataFolder();
    try {
      let limit = (_on: boolean): void => undefined;
      const store = data.open({
        connection: (db) => (limit = (on) => void db.pragma(`query_only = ${on ? 'ON' : 'OFF'}`)),
      });
      storedSalon(store);
      const { seq } = store.open();
      limit(true);
      expect(trouble(() => store.reach.keepSubscription(phone('device-1')))).toBe('readonly');
      expect([store.reach.subscriptions(), store.open().seq, store.damage]).toEqual([[], seq, null]);
      limit(false);
      store.reach.keepSubscription(phone('device-1'));
      expect(store.reach.subscriptions()).toEqual([phone('device-1')]);
    } finally {
      data.end();
    }
  });
});
