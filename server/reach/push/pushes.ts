import type { Receipt } from '../../../core/bells/receipts.ts';
import type { Floor } from '../../../core/floor.ts';
import type { DeviceId, PersonId } from '../../../core/ids.ts';
import { MINUTE, SECOND, type EpochMs, type Ms } from '../../../core/time.ts';
import { wordKey } from '../../../core/words.ts';
import type { PushTold, SubscriptionTold, SubscriptionWanted } from '../../../shared/push.ts';
import type { PushSubscriptionRow, ReachTables } from '../../store/reach-tables.ts';
import { Deliveries, USEFUL_FOR } from './deliveries.ts';
import { duePushes, standingBells, type PushStep, type SentBell } from './due-pushes.ts';
import { bellMessage, endedMessage, nameOfBell, tagOf, testMessage } from './push-message.ts';
import type { LaneDeps } from './push-lane.ts';
import { ReceiptTokens } from './receipt-tokens.ts';
import type { Sender } from './sealed.ts';
import { vapidKeys, type VapidKeys } from './vapid.ts';

/** A receipt may come this much later than its push could be delivered: the phone shows it, then finds the salon's network. */
const RECEIPT_GRACE: Ms = 10 * MINUTE;
/** A phone may be locked while a bell rings, which no event says. */
const LOOK_EVERY: Ms = 2 * SECOND;
/** Receipts remembered, to tell a repeated one. */
const MOST_REMEMBERED = 500;
/** A salon has a few dozen phones. */
export const MOST_DEVICES = 100;

export interface FollowedEngine {
  readonly floor: Floor;
  readonly heartbeat: () => { readonly now: EpochMs };
  subscribe(listener: (change: object) => void): () => void;
}

export interface PushesDeps extends LaneDeps {
  readonly tables: Omit<ReachTables, 'hooks' | 'hook' | 'keepHook' | 'dropHook'>;
  readonly engine: FollowedEngine;
  readonly wall: () => EpochMs;
  readonly freshId: () => string;
  /** The address by which phones know this server, with its final slash. */
  readonly home: () => string;
  /** Whether that device rings at this moment by a page of its own. */
  readonly ringsByPage: (person: PersonId, device: DeviceId) => boolean;
  /** Devices have shown bells (R7). */
  readonly shown: (receipts: readonly Receipt[]) => void;
}

export type ReceiptOutcome = 'shown' | 'already' | 'unknown' | 'too-old';

/** Brings bells to phones whose page does not ring. Follows the engine from behind: no turn ever waits for any of it. */
export class Pushes {
  readonly #deps: PushesDeps;
  readonly #deliveries: Deliveries;
  readonly #heard = new Set<string>();
  #rows: readonly PushSubscriptionRow[];
  readonly #sender = (): Sender => {
    this.#keys ??= vapidKeys(this.#deps.tables);
    return { ...this.#keys, subject: this.#contact ?? '' };
  };
  #sent = new Map<string, SentBell>();
  #keys: VapidKeys | null = null;
  #tokens: ReceiptTokens | null = null;
  #lookAsked = false;
  #held = false;
  #stop: readonly (() => void)[] = [];

  constructor(deps: PushesDeps) {
    this.#deps = deps;
    this.#deliveries = new Deliveries(deps, (device) => this.#isGone(device));
    this.#rows = deps.tables.subscriptions();
  }

  begin(): void {
    const { engine, timers } = this.#deps;
    const ask = (): void => {
      if (this.#lookAsked) return;
      this.#lookAsked = true;
      timers.soon(() => this.#look());
    };
    this.#stop = [engine.subscribe(ask), timers.every(LOOK_EVERY, ask)];
    ask();
  }

  end(): void {
    for (const stop of this.#stop) stop();
    this.#deliveries.closeAll();
  }

  /** Whether it is on, and its key; throws StorageError where a first key could not be kept. */
  get told(): PushTold {
    const { on } = this;
    return { on, publicKey: on ? this.#sender().publicKey : null, contact: this.#contact };
  }

  /** Only once the owner turned it on, for it leaves the house, and said who answers for it. */
  get on(): boolean {
    return this.#deps.engine.floor.salon.push && this.#contact !== null;
  }

  get full(): boolean {
    return this.#rows.length >= MOST_DEVICES;
  }

  /** Whether a push reaches this person as far as anybody can know: a device of theirs has shown one, and its service takes them. */
  reaches(person: PersonId): boolean {
    if (!this.on || this.#uncertain) return false;
    return this.#rows.some(
      (row) => row.person === person && row.confirmedAt !== null && this.#deliveries.troubleOf(row.device) === null,
    );
  }

  subscription(device: DeviceId): SubscriptionTold | null {
    const row = this.#rowOf(device);
    if (row === null) return null;
    const { person, confirmedAt } = row;
    return { device, person, confirmedAt, trouble: this.#deliveries.troubleOf(device) };
  }

  /** Asked again with the same it changes nothing, and stays confirmed; throws StorageError. */
  keep(device: DeviceId, { person, endpoint, keys }: SubscriptionWanted): SubscriptionTold {
    const { p256dh, auth } = keys;
    const before = this.#rowOf(device);
    const same = before?.endpoint === endpoint && before.p256dh === p256dh && before.auth === auth;
    if (!same || before.person !== person) {
      const kept = same ? before : { madeAt: this.#deps.wall(), confirmedAt: null };
      const { madeAt, confirmedAt } = kept;
      this.#deps.tables.keepSubscription({ device, person, endpoint, p256dh, auth, madeAt, confirmedAt });
      if (!same) this.#deliveries.close(device);
      this.#rows = this.#deps.tables.subscriptions();
    }
    return {
      device,
      person,
      confirmedAt: this.#rowOf(device)?.confirmedAt ?? null,
      trouble: this.#deliveries.troubleOf(device),
    };
  }

  /** Whether there was one; throws StorageError. */
  drop(device: DeviceId): boolean {
    const had = this.#deps.tables.dropSubscription(device);
    this.#forget(device);
    return had;
  }

  /** A real push, by the very path of a bell. Null: that device has no subscription; throws StorageError. */
  test(device: DeviceId): 'sending' | null {
    const row = this.#rowOf(device);
    if (row === null) return null;
    const tokens = this.#receipts();
    const tag = `test-${this.#deps.freshId()}`;
    const receipt = tokens.make({ device, person: row.person, bell: null, sentAt: this.#deps.wall() });
    const message = testMessage(this.#deps.engine.floor, { ...this.#wrapping(tag), receipt });
    this.#deliveries.send(row, { key: 'test', level: 'NOTICE', message, topic: null }, this.#sender);
    return 'sending';
  }

  /** A worker has shown a push (R7). Repeated, late and foreign ones change nothing; throws StorageError for a test. */
  hear(token: string): ReceiptOutcome {
    const wall = this.#deps.wall();
    const read = this.#receipts().read(token, wall);
    if (read.is !== 'ours') return read.is;
    const { device, person, bell } = read.receipt;
    const row = this.#rowOf(device);
    // Since then the phone was given to somebody else, or has no pushes any more.
    if (row === null || row.person !== person) return 'unknown';
    if (this.#heard.has(token)) return 'already';
    // Each test says anew that pushes come through.
    if (bell === null || row.confirmedAt === null) this.#confirm(device, wall, bell === null);
    if (bell !== null) this.#deps.shown([{ person, bell }]);
    this.#remember(token);
    return 'shown';
  }

  get #contact(): string | null {
    return this.#deps.engine.floor.words[wordKey.pushContact()] ?? null;
  }

  get #uncertain(): boolean {
    return this.#deps.engine.floor.salon.uncertainSince !== null;
  }

  #look(): void {
    this.#lookAsked = false;
    try {
      if (this.#mayPush()) this.#pushDue();
    } catch (error) {
      this.#deps.log.error({ err: error }, 'bells could not be pushed');
    }
  }

  #mayPush(): boolean {
    if (!this.on) {
      this.#sent.clear();
      this.#deliveries.closeAll();
      return false;
    }
    const held = this.#uncertain;
    if (held !== this.#held) {
      const message = held ? 'pushes are held back: the time of the floor is not certain' : 'pushes are sent again';
      this.#deps.log.warn({ uncertainSince: this.#deps.engine.floor.salon.uncertainSince }, message);
      this.#held = held;
    }
    return !held && (this.#rows.length > 0 || this.#sent.size > 0);
  }

  #pushDue(): void {
    const { engine, ringsByPage } = this.#deps;
    const { now } = engine.heartbeat();
    const bells = standingBells(engine.floor, now);
    const steps = duePushes({ bells, sent: this.#sent, devices: this.#rows, ringsByPage });
    for (const step of steps) this.#take(step, now);
  }

  #take(step: PushStep, now: EpochMs): void {
    const { standing, device } = step;
    const { key, bell, meant } = standing;
    const { floor } = this.#deps.engine;
    const row = this.#rowOf(device);
    const topic = nameOfBell(key);
    if (step.do === 'end') {
      this.#sent.delete(key);
      const message = endedMessage(standing, floor, this.#wrapping(step.tag));
      if (row !== null) this.#deliveries.send(row, { key, level: bell.level, message, topic }, this.#sender);
      return;
    }
    if (row === null) return;
    const { person, roundAt, replaces } = step;
    // The same after a restart: shown already, it takes its own place without a sound.
    const tag = tagOf(standing, roundAt);
    const receipt = this.#receipts().make({ device, person, bell: meant, sentAt: this.#deps.wall() });
    const message = bellMessage(standing, floor, now, { ...this.#wrapping(tag), receipt, replaces });
    const others = this.#sent.get(key)?.to.filter((one) => one.device !== device) ?? [];
    this.#sent.set(key, { standing, to: [...others, { device, roundAt, level: bell.level, tag }] });
    this.#deliveries.send(row, { key, level: bell.level, message, topic }, this.#sender);
  }

  #wrapping(tag: string) {
    return { tag, receipt: null, replaces: null, home: this.#deps.home() };
  }

  /** Its service knows it no more: whoever sent on would only be slowed down by it. */
  #isGone(device: DeviceId): void {
    try {
      this.drop(device);
    } catch (error) {
      this.#deps.log.warn({ err: error }, 'a dead push subscription could not be deleted');
      this.#forget(device);
    }
  }

  #confirm(device: DeviceId, wall: EpochMs, isTest: boolean): void {
    try {
      this.#deps.tables.confirmSubscription(device, wall);
      this.#rows = this.#deps.tables.subscriptions();
    } catch (error) {
      if (isTest) throw error;
      // The bell was shown all the same, which counts for more.
      this.#deps.log.warn({ err: error }, 'that a phone has shown a push could not be kept');
    }
  }

  #remember(token: string): void {
    this.#heard.add(token);
    for (const oldest of this.#heard) {
      if (this.#heard.size <= MOST_REMEMBERED) break;
      this.#heard.delete(oldest);
    }
  }

  #forget(device: DeviceId): void {
    this.#rows = this.#rows.filter((row) => row.device !== device);
    this.#deliveries.close(device);
  }

  #rowOf(device: DeviceId): PushSubscriptionRow | null {
    return this.#rows.find((row) => row.device === device) ?? null;
  }

  #receipts(): ReceiptTokens {
    this.#tokens ??= new ReceiptTokens(this.#deps.tables, USEFUL_FOR + RECEIPT_GRACE);
    return this.#tokens;
  }
}
