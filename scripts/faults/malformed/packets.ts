import { io, type Socket } from 'socket.io-client';
import type { Chance } from '../chance.ts';
import { pause } from '../pause.ts';
import { anything } from './mutate.ts';

/** A packet as it might leave a broken page: its name, its arguments, and whether an acknowledgement is asked. */
export interface BadPacket {
  readonly nearly: boolean;
  readonly packet: readonly unknown[];
}

const nearly: readonly ((chance: Chance) => readonly unknown[])[] = [
  (chance) => ['join', { streams: chance.pick([['floors'], 'floor', [1], null]), protocol: 2 }, noAnswer],
  (chance) => ['join', { streams: ['floor'], protocol: chance.pick(['2', null, -1, 1.5]) }, noAnswer],
  () => ['join', { streams: ['floor'] }, noAnswer],
  () => ['join', { streams: ['floor'], protocol: 2, more: true }, noAnswer],
  () => ['join', { streams: ['floor'], protocol: 2 }],
  () => ['clock', {}, noAnswer],
  () => ['clock'],
  (chance) => ['test-bell', { level: chance.pick(['LOUD', null, 3]) }, noAnswer],
  () => ['kept-time', { device: 'x', timescale: 'scale-0001', now: 1 }, noAnswer],
];

/** So many a server bears on one link. */
const BORNE = 5;

/** Stands for an acknowledgement that is asked. */
function noAnswer(): void {
  throw new Error('a stand-in is never called');
}

export function badPacket(n: number, chance: Chance): BadPacket {
  if (n % 2 === 0)
    return { nearly: true, packet: (nearly[(n >> 1) % nearly.length] as (typeof nearly)[number])(chance) };
  const name = chance.pick(['joins', 'push', 'heartbeat', '__proto__', 'constructor', 'test-bell', 'join', '']);
  return { nearly: false, packet: [name, anything(chance)] };
}

/** One screen that says nothing right. It is let go after a few, and comes back. */
export class BrokenScreen {
  /** Problems it was told. */
  told = 0;
  readonly codes = new Set<string>();
  letGo = 0;
  /** Problems it was told on this link. */
  #toldHere = 0;
  readonly #socket: Socket;

  constructor(address: string) {
    this.#socket = io(address, { transports: ['websocket'], forceNew: true, reconnection: false });
    this.#socket.on('problem', ({ code }: { code: string }) => this.#refused(code));
    this.#socket.on('disconnect', () => (this.letGo += 1));
  }

  /** Says it once it is linked, and resolves once it was told what is wrong; false when nothing came. */
  async say(packet: readonly unknown[]): Promise<boolean> {
    if (!this.#socket.connected) {
      this.#socket.connect();
      for (let tries = 0; !this.#socket.connected && tries < 1_000; tries++) await pause(2);
      this.#toldHere = 0;
    }
    const { told, letGo } = this;
    // A protocol that nobody speaks is refused in the answer itself.
    const heard = (answer: { outcome: string; problem?: { code: string } }): void => {
      if (answer.outcome === 'refused') this.#refused(answer.problem?.code ?? '');
    };
    this.#socket.emit(...(packet.map((one) => (one === noAnswer ? heard : one)) as [string]));
    for (let tries = 0; this.told === told && this.letGo === letGo && tries < 2_000; tries++) await pause(1);
    if (this.told > told) return true;
    // Let go after the last it was told of: this one never reached the server.
    return this.#toldHere >= BORNE && this.say(packet);
  }

  #refused(code: string): void {
    this.told += 1;
    this.#toldHere += 1;
    this.codes.add(code);
  }

  leave(): void {
    this.#socket.disconnect();
  }
}
