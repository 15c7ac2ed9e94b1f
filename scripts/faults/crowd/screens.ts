import { io, type Socket } from 'socket.io-client';
import { PROTOCOL } from '../../../shared/protocol.ts';
import type { ClientToServer, ServerToClient } from '../../../shared/socket-events.ts';
import type { Snapshot } from '../../../shared/wire.ts';

/*
 * A process full of screens, as far as the server can tell: each keeps its link as a screen does, takes the snapshot on each connect and
 * the pushes after it. `ADDRESS` and `SCREENS` come in the environment; whoever started it is told how many stand where.
 */
const address = process.env['ADDRESS'] ?? '';
const screens = Number(process.env['SCREENS']);
/** How often the parent is told, ms. */
const TELL_EVERY = 50;

export interface Standing {
  /** Linked screens by the revision they stand at. */
  readonly at: Readonly<Record<number, number>>;
  readonly linked: number;
  /** Links lost so far. */
  readonly losses: number;
}

let losses = 0;

class Screen {
  revision = -1;
  linked = false;
  readonly #socket: Socket<ServerToClient, ClientToServer>;

  constructor() {
    // The waits of a real screen's link.
    this.#socket = io(address, {
      transports: ['websocket'],
      forceNew: true,
      reconnectionDelay: 300,
      reconnectionDelayMax: 3_000,
      timeout: 5_000,
    });
    this.#socket.on('connect', () => this.#join());
    this.#socket.on('disconnect', () => {
      this.linked = false;
      losses += 1;
    });
    this.#socket.on('push', (push) => {
      if (push.revision <= this.revision) return;
      if (push.previous === this.revision) this.revision = push.revision;
      else this.#join();
    });
  }

  #join(): void {
    this.#socket.emit('join', { streams: ['floor'], protocol: PROTOCOL }, (answer) => {
      if (answer.outcome !== 'joined') return;
      this.revision = (JSON.parse(answer.snapshots[0] ?? '') as Snapshot).revision;
      this.linked = true;
    });
  }
}

const all = Array.from({ length: screens }, () => new Screen());
setInterval(() => {
  const at: Record<number, number> = {};
  const linked = all.filter((one) => one.linked);
  for (const { revision } of linked) at[revision] = (at[revision] ?? 0) + 1;
  process.send?.({ at, linked: linked.length, losses } satisfies Standing);
}, TELL_EVERY);
