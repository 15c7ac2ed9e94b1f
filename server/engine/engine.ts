import type { Reach } from '../../core/bells/carrying.ts';
import type { Outside } from '../../core/bells/outside.ts';
import type { Receipt } from '../../core/bells/receipts.ts';
import { visitOf, type Recorded } from '../../core/events.ts';
import { openVisits, type Floor } from '../../core/floor.ts';
import type { VisitId } from '../../core/ids.ts';
import { SECOND, type EpochMs, type Ms } from '../../core/time.ts';
import { problemOf } from '../../shared/problem.ts';
import type { CommandRequest, Heartbeat, StorageFacts } from '../../shared/wire.ts';
import type { Clock } from '../clock/clock.ts';
import { StorageError, type Batch, type Store, type StorageTrouble } from '../store/store.ts';
import type { EngineLog } from './engine-log.ts';
import { Listeners, type Change } from './listeners.ts';
import type { LogState } from './log-state.ts';
import { withRecalled } from './recall.ts';
import { Witnesses, type KeptTime } from './witnesses.ts';
import { keptInMemory, plan, type Plan, type Turn } from './plan.ts';
import { asUnsaved, bodyHash, type Reply } from './reply.ts';
import { noBackups, storageFacts, type BackupState } from './storage-facts.ts';
import { Timekeeper, type Moment } from './timekeeper.ts';
import type { Timers } from './timers.ts';
import { Unsaved } from './unsaved.ts';
import { Waiting } from './waiting.ts';
import { waitFor } from './wake-up.ts';

/** A sign of life at least so often while a visit is open (T3). */
const ALIVE_EVERY: Ms = 5 * SECOND;
/** How soon storing is tried again. */
const RETRY_AFTER: Ms = 2 * SECOND;
/** More commands waiting than this are asked to come again; water and burns never are. */
const QUEUE_LIMIT = 2_000;

export type { Change } from './listeners.ts';
export type { EngineLog };

export interface EngineDeps {
  readonly store: Store;
  readonly clock: Clock;
  readonly timers: Timers;
  readonly log: EngineLog;
  /** Fresh names for timescales and for this run of the server. */
  readonly freshId: () => string;
  readonly backups?: () => BackupState;
  /** What the devices confirmed of themselves (R7); without it nobody is ever marked as not reached. */
  readonly reach?: (floor: Floor, now: EpochMs) => Reach;
}

/** The single writer: everything that happens on the floor happens in one of its turns. */
export class Engine {
  readonly run: string;
  readonly #deps: EngineDeps;
  readonly #time: Timekeeper;
  readonly #unsaved = new Unsaved();
  readonly #waiting = new Waiting();
  readonly #witnesses = new Witnesses();
  readonly #listeners: Listeners;
  #state: LogState;
  #receipts: Receipt[] = [];
  #trouble: StorageTrouble | null = null;
  #lastAliveAt: EpochMs | null = null;
  /** Turns taken to their end. */
  #settled = 0;
  #turnAsked = false;
  #stopped = false;
  #stopWaiting: () => void = () => undefined;

  constructor(deps: EngineDeps) {
    this.#deps = deps;
    this.#listeners = new Listeners(deps.log);
    this.run = deps.freshId();
    this.#time = new Timekeeper(deps.clock, deps.freshId);
    const { floor, seq, versions, lastAlive } = deps.store.open();
    this.#state = { floor, seq, versions };
    this.#take(this.#time.begin(lastAlive, floor));
  }

  get floor(): Floor {
    return this.#state.floor;
  }

  /** Place in the log that the floor stands at; counts on over restarts. */
  get revision(): number {
    return this.#state.seq;
  }

  get trouble(): StorageTrouble | null {
    return this.#trouble;
  }

  heartbeat(): Heartbeat {
    const { timescale, now } = this.#time.peek();
    const { civilOffsetMs } = this.floor.salon;
    const awayMs = this.#time.awayByWall(this.floor) ?? this.#witnesses.only(this.floor.salon);
    return {
      run: this.run,
      revision: this.revision,
      unsaved: this.#unsaved.some,
      storage: this.storage(),
      awayMs,
      timescale,
      now,
      civilOffsetMs,
    };
  }

  /** A screen that kept counting while we were away tells its time; two that agree confirm it (T3). */
  hear(kept: KeptTime): void {
    const agreed = this.#witnesses.hear(kept, this.floor.salon, this.#time.peek().now);
    if (agreed === null) return;
    const command = { type: 'ConfirmTime', awayMs: agreed } as const;
    void this.submit({ ...command, id: this.#deps.freshId(), by: null, device: null, seen: null, happenedAt: null });
  }

  storage(): StorageFacts {
    const { store, backups } = this.#deps;
    const state = backups?.() ?? noBackups;
    return storageFacts(this.#trouble, store.damage, state, this.floor.salon.civilOffsetMs);
  }

  /** Events of a visit that are kept in memory only. */
  unsavedOf(visit: VisitId): Recorded[] {
    const events = this.#unsaved.batches.flatMap((batch) => batch.events);
    return events.filter(({ stream }) => visitOf(stream) === visit);
  }

  /** Told of every turn that changed something, before the answers leave. */
  subscribe(listener: (change: Change) => void): () => void {
    return this.#listeners.add(listener);
  }

  /** Resolves after the turn in which the command was decided and stored. */
  submit(request: CommandRequest): Promise<Reply> {
    const full = this.#waiting.size >= QUEUE_LIMIT && !keptInMemory.includes(request.type);
    if (this.#stopped || full) return Promise.resolve({ refused: problemOf('again') });
    const reply = this.#waiting.add(request, bodyHash(request));
    this.askTurn();
    return reply;
  }

  /** Devices have shown bells (R7): recorded in the next turn; receipts that fit nothing any more are dropped. */
  confirm(receipts: readonly Receipt[]): void {
    // A device tells few bells at a time, and each is recorded once: more than this is somebody playing.
    if (this.#receipts.length + receipts.length > QUEUE_LIMIT) return;
    this.#receipts.push(...receipts);
    this.askTurn();
  }

  /** A turn soon: a command came, or something that bells follow from has changed. */
  askTurn(): void {
    if (this.#turnAsked || this.#stopped) return;
    this.#turnAsked = true;
    this.#deps.timers.soon(() => {
      if (!this.#stopped) this.turn();
    });
  }

  /** One turn, now: decide, store, tell, answer, and set the one wake-up. */
  turn(): void {
    this.#turnAsked = false;
    this.#take(this.#time.advance(this.floor));
  }

  /** One turn, now, and whether it was taken to its end; a log that cannot be written does not count against it (R8). */
  takesTurns(): boolean {
    const before = this.#settled;
    this.turn();
    return this.#settled > before;
  }

  /** Whether the log takes a sign of life at this moment; null when it does. */
  probe(): StorageTrouble | null {
    this.turn();
    if (!this.#unsaved.some) this.#write([]);
    return this.#trouble;
  }

  /** Finishes what is waiting and takes no more. */
  stop(): void {
    if (this.#stopped) return;
    this.turn();
    this.#stopped = true;
    this.#stopWaiting();
  }

  #take(moment: Moment): void {
    let movedOnMs: Ms = 0;
    try {
      movedOnMs = this.#settle(moment);
      this.#settled += 1;
    } catch (error) {
      // Nothing of this turn counts; the next begins from the floor as it was.
      this.#deps.log.error({ err: error }, 'a turn failed');
      this.#waiting.answer([]);
    }
    this.#wakeAt(moment.now + movedOnMs);
  }

  /** How far the timescale moved on in it. */
  #settle(moment: Moment): Ms {
    this.#storeWhatWaits();
    const before = this.#state;
    const turn: Turn = {
      ...moment,
      asked: this.#waiting.take((id) => this.#known(id)),
      ...this.#outside(moment.now),
      receipts: this.#receipts.splice(0),
      unstorable: this.#unsaved.some,
      failed: (error, type) => this.#deps.log.error({ err: error, type }, 'a command could not be judged'),
    };
    const from = withRecalled(before, turn.asked, this.#deps);
    const done = this.#unsaved.some ? null : this.#stored(plan(from, turn), moment.now);
    const settled = done ?? this.#remembered(plan(from, { ...turn, unstorable: true }));
    this.#state = settled.state.seq > before.seq ? settled.state : before;
    if (settled.state.seq > before.seq)
      this.#listeners.tell({
        previous: before.seq,
        revision: settled.state.seq,
        floor: this.floor,
        events: settled.batches.flatMap(({ events }) => events),
      });
    this.#waiting.answer(settled.replies);
    return settled.movedOnMs;
  }

  /** The plan as stored; null when the store could not. */
  #stored(planned: Plan, now: EpochMs): Plan | null {
    const due = this.#aliveDueAt(planned.state.floor);
    if (planned.batches.length === 0 && (due === null || due > now)) return planned;
    const stay = planned.movedOnMs > 0 ? this.#time.moveOn(planned.movedOnMs) : null;
    if (this.#write(planned.batches)) return planned;
    stay?.();
    return null;
  }

  /** The plan as kept in memory, to be stored when that is possible again. */
  #remembered(planned: Plan): Plan {
    this.#unsaved.keep(planned.batches, planned.unsavedSince);
    return { ...planned, replies: planned.replies.map(asUnsaved) };
  }

  #storeWhatWaits(): void {
    if (!this.#unsaved.some || !this.#write(this.#unsaved.batches)) return;
    this.#deps.log.info({ batches: this.#unsaved.batches.length }, 'what was kept in memory is stored');
    this.#unsaved.stored();
  }

  #write(batches: readonly Batch[]): boolean {
    const { store, log } = this.#deps;
    const alive = this.#time.alive();
    try {
      if (batches.length === 0) store.keepAlive(alive);
      else store.write(batches, alive);
      this.#lastAliveAt = alive.now;
      this.#trouble = null;
      return true;
    } catch (error) {
      // Whatever it was, the floor goes on from memory: a fault of ours must not stand before the water either.
      const trouble = error instanceof StorageError ? error.trouble : 'failing';
      if (trouble !== this.#trouble) log.error({ err: error, trouble }, 'the log could not be written');
      this.#trouble = trouble;
      return false;
    }
  }

  /** The answer that a command of this id was given before (S8). */
  #known(id: string): { readonly hash: string; readonly reply: Reply } | null {
    const unsaved = this.#unsaved.answerOf(id);
    if (unsaved !== null) return { hash: unsaved.bodyHash, reply: asUnsaved(JSON.parse(unsaved.answer) as Reply) };
    try {
      const kept = this.#deps.store.answerOf(id);
      return kept === null ? null : { hash: kept.bodyHash, reply: JSON.parse(kept.answer) as Reply };
    } catch (error) {
      this.#deps.log.error({ err: error }, 'the kept answers could not be read');
      return null;
    }
  }

  #outside(now: EpochMs): Outside {
    return { unsavedSince: this.#unsaved.since, reach: this.#deps.reach?.(this.floor, now) ?? null };
  }

  #aliveDueAt(floor: Floor): EpochMs | null {
    if (openVisits(floor).length === 0) return null;
    return (this.#lastAliveAt ?? Number.NEGATIVE_INFINITY) + ALIVE_EVERY;
  }

  #wakeAt(now: EpochMs): void {
    this.#stopWaiting();
    // A damaged file is not tried again: it stays as it is until somebody restores a backup.
    const inTrouble = this.#unsaved.some || this.#trouble !== null;
    const retryAt = inTrouble && this.#trouble !== 'corrupt' ? now + RETRY_AFTER : null;
    const aliveAt = this.#trouble === null ? this.#aliveDueAt(this.floor) : null;
    const wait = waitFor(this.floor, now, this.#outside(now), [retryAt, aliveAt], this.#deps.log);
    this.#stopWaiting = this.#deps.timers.after(wait, () => this.turn());
  }
}
