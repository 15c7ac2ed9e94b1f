import { io, type Socket } from 'socket.io-client';
import { PROTOCOL, type StreamName } from '../../../shared/protocol.ts';
import type { ClientToServer, ServerToClient, TestBell } from '../../../shared/socket-events.ts';
import type { Heartbeat, Snapshot } from '../../../shared/wire.ts';
import { ClockSampler, type ServerStamps } from './clock-sampler.ts';
import type { FloorMirror } from './floor-mirror.svelte.ts';
import type { ServerClock, DeviceClocks } from './server-clock.ts';
import type { Timers } from './timers.ts';

export type LinkPhase = 'waiting' | 'linked' | 'lost' | 'refused';

interface Deps {
  readonly stream: StreamName;
  readonly mirror: FloorMirror;
  readonly clock: ServerClock;
  readonly clocks: DeviceClocks;
  readonly timers: Timers;
  /** Whoever paints by the clock looks again. */
  readonly changed: () => void;
  readonly onTestBell: (bell: TestBell) => void;
  readonly connect?: () => Socket<ServerToClient, ClientToServer>;
}

/** Wait before calling again after the server said goodbye; further tries are the socket's own. */
const BACK_AFTER_MS = 500;

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
  civilOffsetMs = $state(0);
  /** Revision of the last heartbeat; behind it for two in a row means a push was lost. */
  #behind = false;
  #joining = false;
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
  }

  /** The page came back from sleep or from behind: old samples say nothing, and pushes may be missing. */
  resume(): void {
    if (!this.#socket.connected) {
      this.#socket.connect();
      return;
    }
    this.#sampler.restart();
    this.#join();
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

  #listen(): void {
    const socket = this.#socket;
    socket.on('connect', () => {
      this.#sampler.restart();
      this.#join();
    });
    socket.on('disconnect', (reason) => {
      // A server that says goodbye ends the client's own trying again: it is coming back, and so must we.
      if (reason === 'io server disconnect') this.#deps.timers.set(() => socket.connect(), BACK_AFTER_MS);
      this.phase = 'lost';
      this.#sampler.stop();
      this.#deps.changed();
    });
    socket.on('push', (push) => {
      this.#deps.clock.heard();
      if (!this.#deps.mirror.apply(push)) this.#join();
      this.#deps.changed();
    });
    socket.on('heartbeat', (beat) => this.#beat(beat));
    socket.on('ring-test', (bell) => this.#deps.onTestBell(bell));
  }

  #beat(beat: Heartbeat): void {
    const { clock, mirror } = this.#deps;
    clock.heard();
    if (clock.timescale !== null && clock.timescale !== beat.timescale) this.#sampler.restart();
    this.unsaved = beat.unsaved;
    this.civilOffsetMs = beat.civilOffsetMs;
    const behind = beat.revision > mirror.revision || beat.run !== mirror.run;
    if (behind && this.#behind) this.#join();
    this.#behind = behind;
    this.#deps.changed();
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
        this.phase = 'refused';
        return;
      }
      for (const text of answer.snapshots) {
        const snapshot = JSON.parse(text) as Snapshot;
        mirror.take(snapshot);
        this.civilOffsetMs = snapshot.civilOffsetMs;
      }
      this.#deps.clock.heard();
      this.phase = 'linked';
      this.#deps.changed();
    });
  }

  #exchange(): Promise<ServerStamps> {
    return this.#socket
      .timeout(EXCHANGE_MS)
      .emitWithAck('clock')
      .then(({ timescale, receivedAt, sentAt }) => ({ timescale, t2: receivedAt, t3: sentAt }));
  }
}
