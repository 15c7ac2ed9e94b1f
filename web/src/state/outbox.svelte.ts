import type { Command } from '../../../core/command.ts';
import type { CommandId, PersonId, PlaceNumber } from '../../../core/ids.ts';
import type { EpochMs } from '../../../core/time.ts';
import { PROTOCOL } from '../../../shared/protocol.ts';
import type { CommandRequest } from '../../../shared/wire.ts';
import { Courier } from './courier.ts';
import type { TouchStore, Stored, StoreTrouble } from './device-store.ts';
import { Lease } from './lease.ts';
import { isUrgent, lanesPressed, laneOf, mayGo } from './lanes.ts';
import type { OtherPages } from './other-pages.ts';
import type { Outcome, Response } from './outcome.ts';
import { after, isOpen, outdated, settled } from './queue.ts';
import { SharedQueue } from './shared-queue.ts';
import { happenedAtOf, requestOf, TOUCH_SHAPE, type Touch } from './touch.ts';
import { TouchedHere } from './touched-here.ts';
import type { Timers } from './timers.ts';

/** The server as this page sees it at the moment. */
export interface ServerSight {
  /** Heard on the present connection, so that it is known whose floor it is. */
  readonly linked: boolean;
  /** When its salon was set up; `none`: it has none yet; null: never heard. */
  readonly salon: EpochMs | 'none' | null;
  readonly now: EpochMs;
  readonly timescale: string | null;
  readonly revision: number;
}

export interface OutboxDeps {
  readonly post: (body: CommandRequest, touched: string | null) => Promise<Response>;
  readonly timers: Timers;
  readonly random: () => number;
  readonly wallNow: () => number;
  readonly performanceNow: () => number;
  readonly store: Promise<TouchStore>;
  readonly pages: OtherPages;
  readonly hidden: () => boolean;
  readonly server: () => ServerSight;
  readonly person: () => PersonId | null;
  readonly device: string;
  readonly newId: () => string;
}

/** What a screen knows of a touch besides its command. */
export interface AboutTouch {
  readonly seen: number | null;
  readonly happenedAt: EpochMs | null;
  readonly over: CommandId | null;
  readonly chair: PlaceNumber | null;
}

/** A first sending this soon after the touch leaves the time to the server, ms. */
const FRESH_MS = 2_000;
/** Once done, a touch is held until the change itself has come by push, at most so long (ms). */
const LANDING_MS = 10_000;

/**
 * What was touched on this device and has no outcome yet, or one that wants reading. It is shared by all pages of the device through
 * its store; one of them sends. A touch is applied once however often it is sent, for its id stays the same (S8).
 */
export class Outbox {
  /** In order of touching. */
  touches = $state.raw<readonly Touch[]>([]);
  /** Left by another version, not understood, kept. */
  unreadable = $state.raw<readonly Stored[]>([]);
  /** Why nothing outlives this page; null while it does. */
  trouble = $state<StoreTrouble | null>(null);
  underWay = $state.raw<readonly string[]>([]);
  /** Not settled, or done and not yet seen in what the server tells; for showing ahead what they will do. */
  readonly unsettled: readonly Touch[] = $derived.by(() => {
    const { revision } = this.#deps.server();
    return this.touches.filter(
      (one) => isOpen(one) || (one.state === 'done' && (one.answer?.revision ?? 0) > revision),
    );
  });
  /** Made for another salon than the one that answers now: held, not sent. */
  readonly foreign: readonly Touch[] = $derived.by(() =>
    this.touches.filter((one) => isOpen(one) && this.#isForeign(one)),
  );
  /** Whether this page is the one that sends. */
  sends = $state(false);
  readonly #deps: OutboxDeps;
  readonly #courier: Courier;
  readonly #queue: SharedQueue;
  readonly #here = new TouchedHere();
  #lease: Lease | null = null;
  #linked = false;

  constructor(deps: OutboxDeps) {
    this.#deps = deps;
    this.#queue = new SharedQueue({
      pages: deps.pages,
      timers: deps.timers,
      wallNow: deps.wallNow,
      changed: (touches, unreadable) => this.#show(touches, unreadable),
      tell: (touch) => this.#tellWhoAsked(touch),
    });
    this.#courier = new Courier({
      post: deps.post,
      timers: deps.timers,
      random: deps.random,
      came: (id, happenedAt, outcome) => this.#came(id, happenedAt, outcome),
      changed: () => this.look(),
    });
    void deps.store.then((store) => this.#keepIn(store));
  }

  /** Queues what was touched and sends it when its turn comes; resolves with its outcome, however late. */
  add(command: Command, about: AboutTouch): Promise<Touch> {
    const touch = this.#touch(command, about);
    const outcome = this.#here.add(touch.id, this.#deps.performanceNow());
    this.#queue.change([touch]);
    this.look();
    return outcome;
  }

  /** A person has read it, or gives up what cannot be sent. */
  dismiss(id: string): void {
    this.#courier.forget(id);
    this.#queue.change([], [id]);
  }

  /** The page comes back into view, or goes. */
  resume(): void {
    void this.#lease?.look();
    void this.#queue.reread();
    this.look();
  }

  leave(): void {
    void this.#lease?.drop();
  }

  /** Sends what may go. Called whenever something may have changed; does nothing twice. */
  look(): void {
    const { linked } = this.#deps.server();
    if (linked && !this.#linked) this.#courier.wakeAll();
    this.#linked = linked;
    this.sends = this.#lease?.held ?? false;
    const open = this.touches.filter((one) => isOpen(one));
    const pressed = lanesPressed(open);
    for (const touch of mayGo(open, this.#courier.answeredAgain)) {
      if (this.#courier.isFree(touch.id) && this.#mayLeave(touch, pressed.has(touch.lane))) this.#send(touch);
    }
    for (const touch of this.touches) {
      // In the server's memory only: asked for again until its disk has it, so that a crash there loses nothing.
      if (touch.state === 'kept-unsaved' && this.#courier.isFree(touch.id) && linked && this.sends) this.#send(touch);
    }
    const underWay = [...this.#courier.underWay];
    if (underWay.join() !== this.underWay.join()) this.underWay = underWay;
  }

  /** `pressed`: water or burns are in its lane, so that neither link nor lease is waited for. */
  #mayLeave(touch: Touch, pressed: boolean): boolean {
    const { linked, timescale } = this.#deps.server();
    const fresh = this.#isFresh(touch);
    const foreign = this.#isForeign(touch) && !(fresh && isUrgent(touch.command));
    if (foreign || !(this.sends || (pressed && this.#here.has(touch.id)))) return false;
    return pressed || (linked && (fresh || timescale !== null));
  }

  #send(touch: Touch): void {
    const { now, timescale } = this.#deps.server();
    const at = { now, timescale, wallNow: this.#deps.wallNow() };
    const happenedAt = this.#isFresh(touch) ? touch.happenedAt : happenedAtOf(touch, at);
    // From its first sending on what it has seen stays as it is (S8).
    if (touch.over !== null) this.#queue.change([{ ...touch, over: null }]);
    // Should a dead network bring this one after all, when everybody has long given it up.
    const touched = happenedAt === null && touch.timescale !== null ? `${touch.touchedAt} ${touch.timescale}` : null;
    void this.#courier.send(requestOf(touch, happenedAt), touched);
  }

  /** Touched on this page a moment ago and never sent: it happens as it arrives. */
  #isFresh(touch: Touch): boolean {
    const { linked } = this.#deps.server();
    const young = this.#here.agoMs(touch.id, this.#deps.performanceNow()) <= FRESH_MS;
    return young && touch.tries === 0 && (linked || isUrgent(touch.command));
  }

  #isForeign({ salon }: Touch): boolean {
    const answering = this.#deps.server().salon;
    return salon !== null && answering !== null && answering !== salon;
  }

  #touch(command: Command, { seen, happenedAt, over, chair }: AboutTouch): Touch {
    const { now, timescale, salon } = this.#deps.server();
    const id = this.#deps.newId();
    const open = this.touches.filter((one) => isOpen(one));
    return {
      shape: TOUCH_SHAPE,
      n: (this.touches[this.touches.length - 1]?.n ?? 0) + 1,
      id,
      // As it goes over the wire: what the page holds may be watched, and no store takes that.
      command: JSON.parse(JSON.stringify(command)) as Command,
      by: this.#deps.person(),
      device: this.#deps.device,
      seen,
      over,
      happenedAt,
      touchedAt: Math.round(now),
      timescale,
      touchedWall: this.#deps.wallNow(),
      notBefore: null,
      salon: typeof salon === 'number' ? salon : null,
      protocol: PROTOCOL,
      lane: laneOf(command, id, chair, open),
      chair,
      tries: 0,
      state: 'waiting',
      answer: null,
      problem: null,
      settledWall: null,
    };
  }

  #came(id: string, happenedAt: EpochMs | null, outcome: Outcome): void {
    const touch = this.touches.find((one) => one.id === id);
    if (touch === undefined || !(isOpen(touch) || touch.state === 'kept-unsaved')) return;
    if (outcome.kind === 'not-yet') this.#queue.change([{ ...touch, tries: touch.tries + 1 }]);
    else {
      const now = settled(touch, happenedAt, outcome, this.#deps.wallNow());
      const { touches } = this;
      const since = { touches, underWay: this.#courier.underWay, now: this.#deps.server().now };
      if (now.state === 'kept-unsaved') this.#courier.rest(id);
      this.#queue.change([now, ...after(now, happenedAt, since)], outdated(touches, this.#deps.wallNow()));
    }
    this.look();
  }

  #tellWhoAsked(touch: Touch): void {
    if (touch.state === 'done') {
      this.#deps.timers.set(() => this.#queue.forget(touch.id), LANDING_MS);
      this.#courier.forget(touch.id);
    }
    this.#here.settle(touch);
  }

  #show(touches: readonly Touch[], unreadable: readonly Stored[]): void {
    this.touches = touches;
    this.unreadable = unreadable;
  }

  async #keepIn(store: TouchStore): Promise<void> {
    store.onTrouble((trouble) => {
      this.trouble = trouble;
      void this.#lease?.look();
    });
    await this.#queue.keepIn(store);
    this.#queue.change([], outdated(this.touches, this.#deps.wallNow()));
    const { timers, wallNow, hidden, newId } = this.#deps;
    this.#lease = new Lease({ store, timers, wallNow, hidden, page: newId(), begun: () => this.look() });
    await this.#lease.look();
    this.look();
  }
}
