import type { PushTold, PushTrouble, SubscriptionTold } from '../../../shared/push.ts';
import type { Keep } from '../state/keep.ts';
import type { Timers } from '../state/timers.ts';
import type { Holder } from './push-holder.ts';
import { isMadeWith, pushPaths, sending, subscribe, wanted, type PushRoom, type Subscription } from './push-wire.ts';

/**
 * How it stands with pushes to this phone:
 * `looking` not known yet, or the server was not heard; asked again by `look`;
 * `insecure` the page came by plain http, where browsers have no pushes;
 * `install-first` only once the page is on the home screen (Apple's phones);
 * `unsupported` this browser has none; `salon-off` the owner has not turned them on;
 * `denied` the browser was told no, and only its settings can undo that;
 * `ask` can be turned on by a touch, and the browser will ask; `off` likewise, and it will not;
 * `subscribed` the server can send, but nobody has seen a push here yet: it counts as no way to reach anybody;
 * `testing` a test is on its way; `confirmed` a push was shown here;
 * `failed` the browser or the server did not take it: turn it on once more.
 */
export type PushState =
  | 'looking'
  | 'insecure'
  | 'install-first'
  | 'unsupported'
  | 'salon-off'
  | 'denied'
  | 'ask'
  | 'off'
  | 'subscribed'
  | 'testing'
  | 'confirmed'
  | 'failed';

/** What the browser has; `browserPush` is the real one. */
export interface PushBrowser {
  readonly secure: boolean;
  /** An Apple phone whose page is not on the home screen. */
  readonly installFirst: boolean;
  readonly supported: boolean;
  readonly permission: () => NotificationPermission;
  /** Only within a touch. */
  readonly ask: () => Promise<NotificationPermission>;
  readonly room: () => Promise<PushRoom>;
  readonly fetch: (path: string, how?: RequestInit) => Promise<Response>;
  readonly keepHolder: (holder: Holder | null) => Promise<void>;
}

/** Remembers that somebody turned them on here: a subscription that the browser lost is then made anew without asking. */
const TURNED_ON = 'push';
const LOOK_AGAIN_MS = 1_000;
/** A phone in deep sleep may take so long; one in the hand does not. */
const TEST_LOOKS = 30;

/**
 * Pushes of this device. A page makes one, calls `look(person)` as it opens and whenever whoever holds the phone changes, and shows
 * `state`. `turnOn` and `test` belong to touches. Nothing throws: what went wrong is in `state` and `trouble`.
 */
export class PushSubscription {
  state = $state<PushState>('looking');
  /** What the server has to say of the last push to this phone. */
  trouble = $state<PushTrouble | null>(null);
  /** Wall clock of the server; null: never. */
  confirmedAt = $state<number | null>(null);
  readonly #device: string;
  readonly #browser: PushBrowser;
  readonly #keep: Keep;
  readonly #timers: Timers;
  #person: string | null = null;
  #timer: unknown = null;
  /** Of two that overlap only the later may say how it stands. */
  #turn = 0;

  constructor(device: string, browser: PushBrowser, { keep, timers }: { keep: Keep; timers: Timers }) {
    this.#device = device;
    this.#browser = browser;
    this.#keep = keep;
    this.#timers = timers;
  }

  /** Compares what this browser has with what the server keeps, and mends it. `person` null: nobody holds the phone. */
  async look(person: string | null): Promise<void> {
    this.#person = person;
    await this.#settle(() => this.#found());
  }

  /** Call it within a touch: the browser then asks whoever holds the phone. */
  async turnOn(): Promise<void> {
    await this.#settle(async () => {
      if (this.#browser.permission() === 'default' && (await this.#browser.ask()) === 'default') return 'ask';
      this.#keep.write(TURNED_ON, 'on');
      return this.#found();
    });
  }

  async turnOff(): Promise<void> {
    this.#keep.write(TURNED_ON, null);
    await this.#settle(async () => {
      await (await (await this.#browser.room()).getSubscription())?.unsubscribe();
      await this.#forgetAtServer();
      return this.#found();
    });
  }

  /** A real push by way of its push service; `confirmed` once the server has heard that it was shown. */
  async test(): Promise<void> {
    if (this.state !== 'subscribed' && this.state !== 'confirmed') return;
    const before = this.confirmedAt;
    const state = await this.#settle(async () => {
      const answer = await this.#browser.fetch(pushPaths.test, sending('POST', { device: this.#device }));
      return answer.ok ? 'testing' : 'failed';
    });
    if (state === 'testing') this.#awaitReceipt(before, TEST_LOOKS);
  }

  close(): void {
    this.#turn += 1;
    this.#timers.clear(this.#timer);
  }

  /** The state it came to; null where something later has the word by now. */
  async #settle(how: () => Promise<PushState>): Promise<PushState | null> {
    this.#turn += 1;
    const turn = this.#turn;
    this.#timers.clear(this.#timer);
    const state = await how().catch((): PushState => 'failed');
    if (turn !== this.#turn) return null;
    this.state = state;
    return state;
  }

  async #found(): Promise<PushState> {
    const { secure, installFirst, supported, permission } = this.#browser;
    if (!secure) return 'insecure';
    if (!supported) return installFirst ? 'install-first' : 'unsupported';
    const told = await this.#told();
    if (told === null) return 'looking';
    if (!told.on || told.publicKey === null) return 'salon-off';
    const allowed = permission();
    if (allowed !== 'granted') {
      if (allowed === 'denied') await this.#forgetAtServer();
      return allowed === 'denied' ? 'denied' : 'ask';
    }
    if (this.#person === null || this.#keep.read(TURNED_ON) === null) return 'off';
    return this.#subscribed(told.publicKey, this.#person);
  }

  async #subscribed(publicKey: string, person: string): Promise<PushState> {
    const room = await this.#browser.room();
    let subscription: Subscription | null = await room.getSubscription();
    if (subscription !== null && !isMadeWith(subscription, publicKey)) {
      // Another server's key, or one from before a restore: nothing sent by this server would arrive.
      await subscription.unsubscribe();
      subscription = null;
    }
    subscription ??= await subscribe(room, publicKey);
    const put = sending('PUT', wanted(subscription, person));
    const answer = await this.#browser.fetch(pushPaths.of(this.#device), put);
    if (!answer.ok) return 'failed';
    await this.#browser.keepHolder({ device: this.#device, person });
    return this.#heard((await answer.json()) as SubscriptionTold);
  }

  #heard({ confirmedAt, trouble }: SubscriptionTold): PushState {
    this.confirmedAt = confirmedAt;
    this.trouble = trouble;
    return confirmedAt === null ? 'subscribed' : 'confirmed';
  }

  #awaitReceipt(before: number | null, looks: number): void {
    this.#timer = this.#timers.set(() => void this.#lookForReceipt(before, looks), LOOK_AGAIN_MS);
  }

  async #lookForReceipt(before: number | null, looks: number): Promise<void> {
    const turn = this.#turn;
    const answer = await this.#browser.fetch(pushPaths.of(this.#device)).catch(() => null);
    const told = answer?.ok === true ? ((await answer.json()) as SubscriptionTold) : null;
    if (turn !== this.#turn) return;
    // Deleted meanwhile: its push service knows it no more.
    if (answer?.status === 404) this.state = 'failed';
    else if (told !== null && told.confirmedAt !== before) this.state = this.#heard(told);
    else if (looks > 1) this.#awaitReceipt(before, looks - 1);
    else this.state = told === null ? 'looking' : this.#unseen(told);
  }

  /** Nothing came through this time, whatever did before. */
  #unseen({ trouble }: SubscriptionTold): PushState {
    this.trouble = trouble;
    return 'subscribed';
  }

  async #told(): Promise<PushTold | null> {
    const answer = await this.#browser.fetch(pushPaths.told).catch(() => null);
    return answer?.ok === true ? ((await answer.json()) as PushTold) : null;
  }

  async #forgetAtServer(): Promise<void> {
    await this.#browser.keepHolder(null);
    await this.#browser.fetch(pushPaths.of(this.#device), { method: 'DELETE' }).catch(() => null);
  }
}
