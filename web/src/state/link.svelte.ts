import { io, type Socket } from 'socket.io-client';
import { PROTOCOL, type StreamName } from '../../../shared/protocol.ts';
import type { ClientToServer, Here, ServerToClient, ShownBells, TestBell } from '../../../shared/socket-events.ts';
import type { DeviceId } from '../../../core/ids.ts';
import type { Heartbeat, ReachTold, Snapshot, StorageFacts } from '../../../shared/wire.ts';
import { ClockSampler, type ServerStamps } from './clock-sampler.ts';
import type { FloorMirror } from './floor-mirror.svelte.ts';
import { CLOCK_LIMITS, type ServerClock, type DeviceClocks } from './server-clock.ts';
import type { Timers } from './timers.ts';

/** `again`: back from sleep or from behind, and not given up on yet. */
export type LinkPhase = 'waiting' | 'linked' | 'again' | 'lost' | 'refused';

interface Deps {
  readonly stream: StreamName;
  readonly mirror: FloorMirror;
  readonly clock: ServerClock;
  readonly clocks: DeviceClocks;
  readonly timers: Timers;
  /** Whoever paints by the clock looks again. */
  readonly changed: () => void;
  readonly onTestBell: (bell: TestBell) => void;
  /** A new link: what this device said of itself is forgotten there. */
  readonly onLinked?: () => void;
  readonly device: DeviceId;
  readonly connect?: () => Socket<ServerToClient, ClientToServer>;
}

/** Wait before calling again after the server said goodbye; further tries are the socket's own. */
const BACK_AFTER_MS = 500;

/** After a resume nobody is told that the link is lost before this has passed: it mostly comes back at once. */
export const BACK_WITHIN_MS = 3_000;

/** One exchange must be quicker than this to be of use. */
const EXCHANGE_MS = 2_000;

function connectHere(): Socket<ServerToClient, ClientToServer> {
  return io({ transports: ['websocket'], reconnectionDelay: 300, reconnectionDelayMax: 3_000, timeout: 5_000 });
}

/**
 * The line to the server: one stream, by snapshot on each connect and by pushes after it. A gap in the revisions, or
 * a heartbeat that names a revision we did not get, asks for the snapshot again.
 */
export class Link {
  phase = $state<LinkPhase>('waiting');
  /** The server keeps something in memory only. */
  unsaved = $state(false);
  /** How it stands with what is stored; null until it was told. */
  storage = $state.raw<StorageFacts | null>(null);
  civilOffsetMs = $state(0);
  /** Who can be reached now, by what their devices confirmed; null until the server told it. */
  reach = $state.raw<ReachTold | null>(null);
  /** A floor that this device heard before the page was opened is shown: as it was then. */
  keptAt = $state<number | null>(null);
  /** While the time is uncertain: how long the floor may have been away; a proposal (T3). */
  awayMs = $state<number | null>(null);
  /** Revision of the last heartbeat; behind it for two in a row means a push was lost. */
  #behind = false;
  #joining = false;
  #lastBeat: Heartbeat | null = null;
  /** Which run of a server has been told what this screen makes of the time it lost. */
  #told: string | null = null;
  #backBy: unknown = null;
  /** When the floor was heard last on a connection that had its snapshot; the page's monotonic clock. */
  #heardAt: number | null = null;
  readonly #socket: Socket<ServerToClient, ClientToServer>;
  readonly #sampler: ClockSampler;
  readonly #deps: Deps;

  constructor(deps: Deps) {
    this.#deps = deps;
    this.#socket = (deps.connect ?? connectHere)();
    this.#sampler = new ClockSampler({
      clock: deps.clock,
      clocks: deps.clocks,
      timers: deps.timers,
      changed: deps.changed,
      exchange: () => this.#exchange(),
    });
    this.#listen();
    this.#hopeFor(BACK_WITHIN_MS);
  }

  /**
   * The page came back from behind: old samples say nothing, and pushes may be missing. After a sleep the connection itself is
   * not trusted, whatever it says of itself: it may be dead without a word.
   */
  resume(slept = false): void {
    const socket = this.#socket;
    if (socket.connected && !slept) {
      this.#sampler.restart();
      this.#join();
      return;
    }
    this.#hopeFor(BACK_WITHIN_MS);
    if (socket.connected) socket.disconnect();
    socket.connect();
  }

  /** The floor has not been heard for so long that this screen goes by itself (R10); not in the first moments after a resume. */
  get unheard(): boolean {
    if (this.#backBy !== null || this.#deps.mirror.revision < 0) return false;
    const heardAt = this.#heardAt;
    return heardAt === null || this.#deps.clocks.performanceNow() - heardAt > CLOCK_LIMITS.silentMs;
  }

  /** Asks the server to ring this one screen, on the path of a real bell. False when it could not be asked. */
  async testBell(bell: TestBell): Promise<boolean> {
    try {
      const answer = await this.#socket.timeout(EXCHANGE_MS).emitWithAck('test-bell', bell);
      return answer.outcome === 'rung';
    } catch {
      return false;
    }
  }

  /** What this device says of itself; false while there is nobody to tell. */
  tellHere(here: Here): boolean {
    if (this.phase !== 'linked') return false;
    this.#socket.volatile.emit('here', here, () => undefined);
    return true;
  }

  /** Bells that this device has shown (R7). */
  tellShown(shown: ShownBells): boolean {
    if (this.phase !== 'linked') return false;
    this.#socket.emit('shown', shown, () => undefined);
    return true;
  }

  #listen(): void {
    const socket = this.#socket;
    socket.on('connect', () => {
      this.#sampler.restart();
      this.#join();
    });
    socket.on('disconnect', (reason) => {
      // A server that says goodbye ends the client's own trying again: it is coming back, and so must we.
      if (reason === 'io server disconnect') this.#deps.timers.set(() => socket.connect(), BACK_AFTER_MS);
      this.#joining = false;
      this.#sampler.stop();
      this.#become(this.#backBy === null ? 'lost' : 'again');
    });
    socket.on('push', (push) => {
      this.#heard();
      if (!this.#deps.mirror.apply(push)) this.#join();
      this.#deps.changed();
    });
    socket.on('heartbeat', (beat) => this.#beat(beat));
    socket.on('ring-test', (bell) => this.#deps.onTestBell(bell));
    socket.on('reach', (reach) => {
      this.reach = reach;
      this.#deps.changed();
    });
  }

  #become(phase: LinkPhase): void {
    this.phase = phase;
    this.#deps.changed();
  }

  #hopeFor(ms: number): void {
    this.#deps.timers.clear(this.#backBy);
    this.#backBy = this.#deps.timers.set(() => {
      this.#backBy = null;
      if (this.phase === 'again') this.#become('lost');
      else this.#deps.changed();
    }, ms);
    if (this.phase === 'linked' || this.phase === 'lost') this.#become('again');
  }

  /** A word of the server counts once this connection has had its snapshot: before, what is shown may be old. */
  #heard(): void {
    if (this.phase !== 'linked') return;
    this.#deps.clock.heard();
    this.#heardAt = this.#deps.clocks.performanceNow();
  }

  #isBack(): void {
    this.#deps.timers.clear(this.#backBy);
    this.#backBy = null;
    this.phase = 'linked';
    this.#heard();
    this.#deps.onLinked?.();
    this.#deps.changed();
  }

  /** A beat that was overtaken by a later one says that the server lives, and nothing else. */
  #beat(beat: Heartbeat): void {
    const { clock, mirror } = this.#deps;
    this.#heard();
    const last = this.#lastBeat;
    const same = last !== null && last.run === beat.run && last.timescale === beat.timescale;
    if (same && (beat.now < last.now || beat.revision < last.revision)) return;
    this.#lastBeat = beat;
    if (clock.timescale !== null && clock.timescale !== beat.timescale) this.#sampler.restart();
    this.unsaved = beat.unsaved;
    this.#hearStorage(beat.storage ?? null);
    this.awayMs = beat.awayMs ?? null;
    this.civilOffsetMs = beat.civilOffsetMs;
    const behind = beat.revision > mirror.revision || beat.run !== mirror.run;
    if (behind && this.#behind) this.#join();
    this.#behind = behind;
    this.#tellKeptTime();
    this.#deps.changed();
  }

  /** The data file was found damaged, and nothing more is written to it. */
  get damaged(): boolean {
    return this.storage !== null && this.storage.damageFoundAt !== null;
  }

  /** Mostly the same as two seconds before: then nothing is drawn anew. */
  #hearStorage(told: StorageFacts | null): void {
    if (JSON.stringify(told) !== JSON.stringify(this.storage)) this.storage = told;
  }

  /** The server lost its time, and this screen has counted on: it tells once what it makes of it (T3). */
  #tellKeptTime(): void {
    const { mirror, clock, device } = this.#deps;
    const { lastSure } = mirror.salon;
    const timescale = lastSure?.timescale ?? null;
    if (timescale === null || mirror.run === this.#told) return;
    const now = clock.formerNow(timescale);
    if (now === null) return;
    this.#told = mirror.run;
    this.#socket.emit('kept-time', { device, timescale, now: Math.round(now) }, () => undefined);
  }

  #join(): void {
    if (this.#joining) return;
    this.#joining = true;
    const { stream, mirror } = this.#deps;
    this.#socket.timeout(5_000).emit('join', { streams: [stream], protocol: PROTOCOL }, (late, answer) => {
      this.#joining = false;
      if (late) {
        if (this.#socket.connected) this.#join();
        return;
      }
      if (answer.outcome === 'refused') {
        this.#become('refused');
        return;
      }
      for (const text of answer.snapshots) {
        const snapshot = JSON.parse(text) as Snapshot;
        mirror.take(snapshot);
        this.civilOffsetMs = snapshot.civilOffsetMs;
      }
      this.#isBack();
    });
  }

  #exchange(): Promise<ServerStamps> {
    return this.#socket
      .timeout(EXCHANGE_MS)
      .emitWithAck('clock')
      .then(({ timescale, receivedAt, sentAt }) => ({ timescale, t2: receivedAt, t3: sentAt }));
  }
}
