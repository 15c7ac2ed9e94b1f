import { beforeEach, describe, expect, it } from 'vitest';
import { PushShower } from '../../../web/src/shell/push-shower.ts';
import type { Holder } from '../../../web/src/reach/push-holder.ts';
import { FakeRoom, KEY } from '../support/push-room.ts';

/** A phone whose worker was woken by a push, all by hand. */
class Phone {
  shown: { readonly title: string; readonly options: NotificationOptions }[] = [];
  closed: string[] = [];
  asked: { readonly path: string; readonly how: RequestInit | undefined }[] = [];
  /** Answers of the server in turn; null: it is not heard. */
  answers: (number | null)[] = [];
  windows: { readonly url: string; focus(): Promise<void> }[] = [];
  focused: string[] = [];
  opened: string[] = [];
  waited: number[] = [];
  holder: Holder | null = { device: 'device-ama', person: 'person-ama' };
  room = new FakeRoom();
  publicKey: string | null = KEY;

  worker = (): PushShower =>
    new PushShower({
      show: async (title, options) => void this.shown.push({ title, options }),
      shown: async (tag) => [{ close: () => void this.closed.push(tag) }],
      fetch: async (path, how) => {
        this.asked.push({ path, how });
        const status = this.answers.shift();
        if (status === null) throw new TypeError('no network');
        return new Response(JSON.stringify({ on: true, publicKey: this.publicKey }), { status: status ?? 200 });
      },
      windows: async () => this.windows,
      open: async (path) => void this.opened.push(path),
      after: async (ms) => void this.waited.push(ms),
      room: () => this.room,
      holder: async () => this.holder,
    });

  window(path: string): void {
    const url = `https://bell.example${path}`;
    this.windows.push({ url, focus: async () => void this.focused.push(path) });
  }
}

let phone: Phone;
beforeEach(() => (phone = new Phone()));

const notification = {
  title: '2: rinse now',
  body: 'Warning · off by 14:43',
  navigate: 'https://bell.example/pocket',
  tag: 'bell-2',
  lang: 'en',
  dir: 'ltr',
  silent: false,
  data: { receipt: 'a-receipt', path: '/pocket', replaces: null as string | null },
};
const pushed = (changes: object = {}): string =>
  JSON.stringify({ web_push: 8030, mutable: true, notification: { ...notification, ...changes } });

describe('a push', () => {
  it('[R7] is shown as it says, and then the server is told', async () => {
    await phone.worker().pushed(pushed());
    expect(phone.shown).toEqual([
      {
        title: '2: rinse now',
        options: {
          body: 'Warning · off by 14:43',
          tag: 'bell-2',
          lang: 'en',
          dir: 'ltr',
          silent: false,
          icon: '/icon-192.png',
          data: { path: '/pocket' },
        },
      },
    ]);
    expect(phone.asked).toMatchObject([
      { path: '/api/v1/push/receipts', how: { method: 'POST', body: '{"receipt":"a-receipt"}' } },
    ]);
  });

  it('[R7] is shown also where the browser has read it itself, and where it cannot be read at all', async () => {
    await phone.worker().pushed(null, notification);
    for (const noise of [null, '', 'not JSON', '7', 'null', '{}', '{"notification":7}'])
      await phone.worker().pushed(noise);
    expect(phone.shown.map(({ title }) => title)).toEqual(['2: rinse now', ...Array<string>(7).fill('Basinbell')]);
    // Only what carried a receipt is confirmed.
    expect(phone.asked).toHaveLength(1);
  });

  it('[R7] that rings again closes the one before', async () => {
    await phone.worker().pushed(pushed({ tag: 'bell-3', data: { ...notification.data, replaces: 'bell-2' } }));
    expect(phone.closed).toEqual(['bell-2']);
    expect(phone.shown[0]?.options.tag).toBe('bell-3');
  });

  it('[R7] is shown with a page of ours open and before eyes: nothing is ever held back', async () => {
    phone.window('/pocket');
    await phone.worker().pushed(pushed());
    expect(phone.shown).toHaveLength(1);
  });

  it('[R7] of a bell that has ended is seen, unheard, and confirms nothing', async () => {
    await phone.worker().pushed(pushed({ silent: true, data: { receipt: null, path: '/pocket', replaces: null } }));
    expect(phone.shown[0]?.options.silent).toBe(true);
    expect(phone.asked).toEqual([]);
  });

  it('[R7] whose receipt is not heard is confirmed once more; one that is refused is not', async () => {
    phone.answers = [null, 200];
    await phone.worker().pushed(pushed());
    expect([phone.asked.length, phone.waited]).toEqual([2, [3_000]]);
    phone.answers = [503, null];
    await phone.worker().pushed(pushed());
    expect(phone.asked).toHaveLength(4);
    phone.answers = [410];
    await phone.worker().pushed(pushed());
    expect(phone.asked).toHaveLength(5);
  });
});

describe('a touch on it', () => {
  it('[R7] brings the open page to the front, or opens it', async () => {
    phone.window('/wall');
    phone.window('/pocket');
    await phone.worker().touched({ path: '/pocket' });
    expect([phone.focused, phone.opened]).toEqual([['/pocket'], []]);
    phone.windows = [];
    await phone.worker().touched({ path: '/pocket' });
    expect(phone.opened).toEqual(['/pocket']);
  });

  it('[R7] never leads elsewhere', async () => {
    for (const path of ['//elsewhere.example', '/\\elsewhere.example', 'https://elsewhere.example', 7, null]) {
      await phone.worker().touched({ path });
    }
    await phone.worker().touched(null);
    expect(new Set(phone.opened)).toEqual(new Set(['/pocket']));
  });
});

describe('a subscription that the browser ended', () => {
  it('[R7] is made anew with the salon’s key, for whoever holds the phone', async () => {
    await phone.worker().subscriptionChanged();
    expect(phone.room.made).toHaveLength(1);
    expect(phone.asked[1]).toMatchObject({ path: '/api/v1/push/subscriptions/device-ama', how: { method: 'PUT' } });
    expect(JSON.parse(String(phone.asked[1]?.how?.body))).toMatchObject({
      person: 'person-ama',
      keys: { auth: 'an-auth' },
    });
  });

  it('[R7] is not, where nobody holds it or pushes are off', async () => {
    phone.publicKey = null;
    await phone.worker().subscriptionChanged();
    phone.holder = null;
    await phone.worker().subscriptionChanged();
    expect([phone.room.made, phone.asked.length]).toEqual([[], 1]);
  });
});
