import { beforeEach, describe, expect, it } from 'vitest';
import type { SubscriptionTold } from '../../../shared/push.ts';
import { keepHolder, keptHolder } from '../../../web/src/reach/push-holder.ts';
import { PushSubscription, type PushBrowser } from '../../../web/src/reach/push-subscription.svelte.ts';
import { keyBytes } from '../../../web/src/reach/push-wire.ts';
import { keepIn } from '../../../web/src/state/keep.ts';
import { FakeRoom, KEY, OTHER_KEY } from '../support/push-room.ts';

const AMA = 'person-ama';

/** A phone and its server, by hand. */
class Life {
  room = new FakeRoom();
  keep = keepIn(null);
  permission: NotificationPermission = 'granted';
  answersAsk: NotificationPermission = 'granted';
  heard = true;
  told = { on: true, publicKey: KEY as string | null };
  kept: SubscriptionTold | null = null;
  tests = 0;
  holder: unknown = undefined;
  waiting: (() => void)[] = [];
  asked: string[] = [];

  page(more: Partial<PushBrowser> = {}): PushSubscription {
    const browser: PushBrowser = {
      secure: true,
      installFirst: false,
      supported: true,
      permission: () => this.permission,
      ask: async () => (this.permission = this.answersAsk),
      room: async () => this.room,
      fetch: async (path, how) => this.#answer(path, how),
      keepHolder: async (holder) => void (this.holder = holder),
      ...more,
    };
    const timers = {
      set: (run: () => void) => {
        this.waiting.push(run);
        return run;
      },
      clear: (timer: unknown) => void (this.waiting = this.waiting.filter((one) => one !== timer)),
    };
    return new PushSubscription('device-ama', browser, { keep: this.keep, timers });
  }

  /** A phone on which somebody has turned them on. */
  async turnedOn(): Promise<PushSubscription> {
    const page = this.page();
    await page.look(AMA);
    await page.turnOn();
    return page;
  }

  /** The second has come, and what follows from it. */
  async second(): Promise<void> {
    for (const run of this.waiting.splice(0)) run();
    // A body is read over several turns of the loop.
    for (let i = 0; i < 5; i++) await new Promise((resolve) => setImmediate(resolve));
  }

  async #answer(path: string, how: RequestInit = {}): Promise<Response> {
    this.asked.push(`${how.method ?? 'GET'} ${path}`);
    if (!this.heard) throw new TypeError('no network');
    if (path === '/api/v1/push') return new Response(JSON.stringify(this.told));
    if (path === '/api/v1/push/test') {
      this.tests += 1;
      return new Response('{}', { status: this.kept === null ? 404 : 202 });
    }
    if (how.method === 'PUT') {
      const { person } = JSON.parse(String(how.body)) as { person: string };
      this.kept = { confirmedAt: null, ...this.kept, device: 'device-ama', person, trouble: null };
    }
    if (how.method === 'DELETE') {
      this.kept = null;
      return new Response(null, { status: 204 });
    }
    return new Response(JSON.stringify(this.kept), { status: this.kept === null ? 404 : 200 });
  }
}

let life: Life;
beforeEach(() => (life = new Life()));

describe('what a phone can do', () => {
  it.each([
    ['insecure', { secure: false }],
    ['unsupported', { supported: false }],
    ['install-first', { supported: false, installFirst: true }],
  ] as const)('[R7] %s: said, and the server is not even asked', async (state, more) => {
    const page = life.page(more);
    await page.look(AMA);
    expect([page.state, life.asked]).toEqual([state, []]);
  });

  it('[R7] off by the owner, denied by the browser, still to be asked, or merely off', async () => {
    const page = life.page();
    expect(page.state).toBe('looking');
    life.told = { on: false, publicKey: null };
    await page.look(AMA);
    expect(page.state).toBe('salon-off');
    life.told = { on: true, publicKey: KEY };
    for (const [permission, state] of [
      ['denied', 'denied'],
      ['default', 'ask'],
      ['granted', 'off'],
    ] as const) {
      life.permission = permission;
      await page.look(AMA);
      expect(page.state).toBe(state);
    }
    expect(life.room.made).toEqual([]);
  });

  it('[R7] not known while the server is not heard', async () => {
    life.heard = false;
    const page = life.page();
    await page.look(AMA);
    expect(page.state).toBe('looking');
  });
});

describe('turning it on', () => {
  it('[R7] asks, subscribes with the salon’s key, and gives it to the server with who holds the phone', async () => {
    life.permission = 'default';
    const page = await life.turnedOn();
    expect(page.state).toBe('subscribed');
    expect(life.kept).toMatchObject({ person: AMA, confirmedAt: null });
    expect(new Uint8Array(life.room.current?.options.applicationServerKey ?? new ArrayBuffer(0))).toEqual(
      keyBytes(KEY),
    );
    expect(life.holder).toEqual({ device: 'device-ama', person: AMA });
  });

  it('[R7] and being told no, or nothing, is said', async () => {
    life.permission = 'default';
    life.answersAsk = 'default';
    expect((await life.turnedOn()).state).toBe('ask');
    life.answersAsk = 'denied';
    expect((await life.turnedOn()).state).toBe('denied');
  });

  it('[R7] a browser or a server that does not take it is said, and can be tried again', async () => {
    life.room.refuses = true;
    const page = await life.turnedOn();
    expect(page.state).toBe('failed');
    life.room.refuses = false;
    await page.turnOn();
    expect(page.state).toBe('subscribed');
  });

  it('[R7] off again: nothing is left, here and at the server, and no later page turns it on by itself', async () => {
    const page = await life.turnedOn();
    await page.turnOff();
    expect([page.state, life.room.current, life.kept, life.holder]).toEqual(['off', null, null, null]);
    await life.page().look(AMA);
    expect(life.room.made).toHaveLength(1);
  });
});

describe('a later page', () => {
  it('[R7] finds it as it was, and tells the server again', async () => {
    await life.turnedOn();
    life.kept = { device: 'device-ama', person: AMA, confirmedAt: 5, trouble: null };
    const page = life.page();
    await page.look(AMA);
    expect([page.state, page.confirmedAt, life.room.made.length]).toEqual(['confirmed', 5, 1]);
  });

  it('[R7] makes one anew that the browser lost, or that has another key', async () => {
    await life.turnedOn();
    life.room.current = null;
    await life.page().look(AMA);
    expect(life.room.made).toHaveLength(2);
    life.room.lies(keyBytes(OTHER_KEY));
    await life.page().look(AMA);
    expect(life.room.made).toHaveLength(3);
    life.told = { on: true, publicKey: OTHER_KEY };
    await life.page().look(AMA);
    expect(life.room.made).toHaveLength(4);
    expect(new Uint8Array(life.room.made[3]?.options.applicationServerKey ?? new ArrayBuffer(0))).toEqual(
      keyBytes(OTHER_KEY),
    );
  });

  it('[R7] hands it to whoever holds the phone now, and says off where nobody does', async () => {
    const page = await life.turnedOn();
    await page.look('person-joss');
    expect([page.state, life.kept?.person]).toEqual(['subscribed', 'person-joss']);
    await page.look(null);
    expect(page.state).toBe('off');
  });
});

describe('a test', () => {
  it('[R7] confirms only once the server has heard that a push was shown', async () => {
    const page = await life.turnedOn();
    await page.test();
    expect([page.state, life.tests]).toEqual(['testing', 1]);
    await life.second();
    expect(page.state).toBe('testing');
    life.kept = { device: 'device-ama', person: AMA, confirmedAt: 9, trouble: null };
    await life.second();
    expect([page.state, page.confirmedAt]).toEqual(['confirmed', 9]);
  });

  it('[R7] that is not seen within half a minute has not come, whatever came before', async () => {
    const page = await life.turnedOn();
    life.kept = { device: 'device-ama', person: AMA, confirmedAt: 5, trouble: 'slow' };
    await page.look(AMA);
    life.kept = { ...life.kept, confirmedAt: 5, trouble: 'slow' };
    await page.test();
    for (let i = 0; i < 30; i++) await life.second();
    expect([page.state, page.trouble, life.waiting.length]).toEqual(['subscribed', 'slow', 0]);
  });

  it('[R7] whose subscription is gone by then has failed; closed, a page asks no more', async () => {
    const page = await life.turnedOn();
    await page.test();
    life.kept = null;
    await life.second();
    expect(page.state).toBe('failed');
    const other = await life.turnedOn();
    await other.test();
    other.close();
    expect(life.waiting).toEqual([]);
  });
});

describe('who holds the phone, as the worker reads it', () => {
  it('[R7] is kept beside the shell, and where nothing can be kept it is nobody', async () => {
    const stores = new Map<string, Response>();
    const caches = {
      open: async () => ({
        put: async (key: string, response: Response) => void stores.set(key, response),
        match: async (key: string) => stores.get(key)?.clone(),
      }),
      delete: async () => stores.delete('/holder'),
    } as unknown as CacheStorage;
    expect(await keptHolder(caches)).toBeNull();
    await keepHolder(caches, { device: 'device-ama', person: AMA });
    expect(await keptHolder(caches)).toEqual({ device: 'device-ama', person: AMA });
    await keepHolder(caches, null);
    expect(await keptHolder(caches)).toBeNull();
    const none = { open: () => Promise.reject(new Error('none')), delete: () => Promise.reject(new Error('none')) };
    await keepHolder(none as unknown as CacheStorage, { device: 'device-ama', person: AMA });
    expect(await keptHolder(none as unknown as CacheStorage)).toBeNull();
  });
});
