import type { PushTold } from '../../../shared/push.ts';
import type { Holder } from '../reach/push-holder.ts';
import { pushPaths, sending, subscribe, wanted, type PushRoom } from '../reach/push-wire.ts';

/** Once more after so long where a receipt did not get through, ms: the phone may only just have found the salon's network. */
const RECEIPT_AGAIN_MS = 3_000;
/** Where a touch leads that says nothing better. */
const POCKET = '/pocket';

/** What may stand in a push; anything else is passed over. */
interface Said {
  readonly title: string;
  readonly body: string;
  readonly tag: string;
  readonly lang: string;
  readonly dir: 'ltr' | 'rtl';
  readonly silent: boolean;
  readonly receipt: string | null;
  readonly path: string;
  readonly replaces: string | null;
}

export interface Notice {
  close(): void;
}
export interface OpenWindow {
  readonly url: string;
  focus(): Promise<unknown>;
}

export interface PushAround {
  readonly show: (title: string, options: NotificationOptions) => Promise<void>;
  /** Notifications of a tag that are shown now. */
  readonly shown: (tag: string) => Promise<readonly Notice[]>;
  readonly fetch: (path: string, how?: RequestInit) => Promise<Response>;
  readonly windows: () => Promise<readonly OpenWindow[]>;
  readonly open: (path: string) => Promise<unknown>;
  readonly after: (ms: number) => Promise<void>;
  readonly room: () => PushRoom;
  readonly holder: () => Promise<Holder | null>;
}

/** The worker's part in pushes: shows each one, says so to the server, leads to the page, and subscribes anew. */
export class PushShower {
  readonly #around: PushAround;

  constructor(around: PushAround) {
    this.#around = around;
  }

  /**
   * Whatever comes is shown, also while a page is open and also if it cannot be read: a push that shows nothing counts against
   * us, and after a few the phone gets none any more.
   */
  async pushed(text: string | null, proposed: object | null = null): Promise<void> {
    const said = read(text, proposed);
    const { title, body, tag, lang, dir, silent, receipt, path, replaces } = said;
    await this.#around.show(title, { body, tag, lang, dir, silent, icon: '/icon-192.png', data: { path } });
    if (replaces !== null) for (const former of await this.#around.shown(replaces)) former.close();
    if (receipt !== null) await this.#confirm(receipt);
  }

  /** To the page where what rings stands; one that is open comes to the front. */
  async touched(data: unknown): Promise<void> {
    const path = pathIn(data);
    for (const window of await this.#around.windows()) {
      if (new URL(window.url).pathname !== path) continue;
      await window.focus();
      return;
    }
    await this.#around.open(path);
  }

  /** The browser ended a subscription by itself: another one, if the salon still pushes and somebody holds this phone. */
  async subscriptionChanged(): Promise<void> {
    const { fetch, room, holder } = this.#around;
    const held = await holder();
    if (held === null) return;
    const { publicKey } = (await (await fetch(pushPaths.told)).json()) as PushTold;
    if (publicKey === null) return;
    const subscription = await subscribe(room(), publicKey);
    await fetch(pushPaths.of(held.device), sending('PUT', wanted(subscription, held.person)));
  }

  async #confirm(receipt: string): Promise<void> {
    const say = async (): Promise<boolean> => {
      const answer = await this.#around.fetch(pushPaths.receipts, sending('POST', { receipt }));
      // What was refused is refused the second time too.
      return answer.status < 500;
    };
    if (await say().catch(() => false)) return;
    await this.#around.after(RECEIPT_AGAIN_MS);
    await say().catch(() => false);
  }
}

/** From the push's own text; a browser that has read it already hands on what it would show. */
function read(text: string | null, proposed: object | null): Said {
  const parsed = text === null ? null : recordOf(parse(text))['notification'];
  const notification = recordOf(parsed ?? proposed);
  const data = recordOf(notification['data']);
  const words = (name: string): string | null => textOf(notification[name]);
  return {
    title: words('title') ?? 'Basinbell',
    body: words('body') ?? '',
    tag: words('tag') ?? '',
    lang: words('lang') ?? '',
    dir: notification['dir'] === 'rtl' ? 'rtl' : 'ltr',
    silent: notification['silent'] === true,
    receipt: textOf(data['receipt']),
    path: pathIn(data),
    replaces: textOf(data['replaces']),
  };
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

/** Read field by field, also where it is an object of the browser's own. */
function recordOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
}

function textOf(value: unknown): string | null {
  return typeof value === 'string' && value !== '' ? value : null;
}

/** A path of ours, never an address elsewhere. */
function pathIn(data: unknown): string {
  const path = recordOf(data)['path'];
  return typeof path === 'string' && /^\/(?![/\\])/.test(path) ? path : POCKET;
}
