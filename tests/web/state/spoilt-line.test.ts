import { io, type Socket } from 'socket.io-client';
import { afterEach, describe, expect, it } from 'vitest';
import type { ClientToServer, ServerToClient } from '../../../shared/socket-events.ts';
import { FloorMirror } from '../../../web/src/state/floor-mirror.svelte.ts';
import { Link } from '../../../web/src/state/link.svelte.ts';
import { ServerClock } from '../../../web/src/state/server-clock.ts';
import { browserTimers } from '../../../web/src/state/timers.ts';
import { Chance } from '../../../scripts/faults/chance.ts';
import { listening } from '../../server/live/kit.ts';
import type { TestServer } from '../../server/routes/kit.ts';

const ends: (() => unknown)[] = [];
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

type Hear = (...told: unknown[]) => void;

/** A line that holds what the server says, and hands it on in another order, twice, or not at all. */
class SpoiltLine {
  readonly socket: Socket<ServerToClient, ClientToServer>;
  spoiling = false;
  dropped = 0;
  #held: (() => void)[] = [];
  readonly #chance: Chance;

  constructor(address: string, chance: Chance) {
    this.#chance = chance;
    this.socket = io(address, { transports: ['websocket'], forceNew: true });
    const on = this.socket.on.bind(this.socket) as (name: string, hear: Hear) => unknown;
    const spoilt = (name: string, hear: Hear): unknown =>
      name === 'push' || name === 'heartbeat' ? on(name, (...told) => this.#take(() => hear(...told))) : on(name, hear);
    Object.assign(this.socket, { on: spoilt });
  }

  #take(hand: () => void): void {
    if (!this.spoiling) return hand();
    const fate = this.#chance.whole(1, 5);
    if (fate === 1) this.dropped += 1;
    else this.#held.push(...(fate === 2 ? [hand, hand] : [hand]));
    if (this.#held.length > 6) this.handOn();
  }

  /** What is held, in an order of chance. */
  handOn(): void {
    const held = this.#held.splice(0);
    while (held.length > 0) held.splice(this.#chance.whole(0, held.length - 1), 1)[0]?.();
  }
}

interface Screen {
  readonly line: SpoiltLine;
  readonly mirror: FloorMirror;
  readonly link: Link;
}

function screenAt(address: string, seed: number): Screen {
  const line = new SpoiltLine(address, new Chance(seed));
  const clocks = { performanceNow: () => performance.now(), wallNow: () => Date.now() };
  const mirror = new FloorMirror();
  const link = new Link({
    stream: 'floor',
    mirror,
    clock: new ServerClock(clocks),
    clocks,
    timers: browserTimers,
    changed: () => undefined,
    onTestBell: () => undefined,
    device: 'device-wall',
    connect: () => line.socket,
  });
  ends.push(() => line.socket.disconnect());
  return { line, mirror, link };
}

async function salon(): Promise<{ server: TestServer; address: string }> {
  const { server, address } = await listening();
  ends.push(() => server.app.http.close());
  return { server, address };
}

const beat = (server: TestServer): void => {
  for (const task of server.timers.repeated) task();
};

const asTold = (server: TestServer): unknown =>
  (JSON.parse(server.app.live.books.floor.snapshot(server.engine.heartbeat())) as { entities: unknown }).entities;

describe('a screen on a line that loses, doubles and reorders', () => {
  it.each([1, 2, 3, 4])('[T5] shows what the server holds once the line is whole again (chance %i)', async (seed) => {
    const { server, address } = await salon();
    const { line, mirror, link } = screenAt(address, seed);
    await expect.poll(() => link.phase).toBe('linked');
    line.spoiling = true;
    const seat = { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null } as const;
    await server.send(seat, { id: 'visit-0001' });
    let last = mirror.revision;
    for (let n = 0; n < 40; n++) {
      await server.send({ type: 'WriteLabel', visit: 'visit-0001', label: `n${n}` });
      server.hand.pass(1_000);
      beat(server);
      // A screen never goes back.
      await new Promise((resolve) => setImmediate(resolve));
      expect(mirror.revision).toBeGreaterThanOrEqual(last);
      last = mirror.revision;
    }
    line.handOn();
    line.spoiling = false;
    expect(line.dropped).toBeGreaterThan(0);
    // Heartbeats that name a revision it has not: it asks for the whole.
    const afterBeat = (): number => {
      server.hand.pass(2_000);
      beat(server);
      return mirror.revision;
    };
    await expect.poll(afterBeat).toBe(server.engine.revision);
    expect(mirror.heard).toEqual(asTold(server));
  });

  it('[T5] takes nothing of one salon along to another that answers in its place', async () => {
    const one = await salon();
    const seat = { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: 'red' } as const;
    await one.server.send(seat, { id: 'visit-0001' });
    for (let n = 0; n < 9; n++) await one.server.send({ type: 'WriteLabel', visit: 'visit-0001', label: `n${n}` });
    const { line, mirror, link } = screenAt(one.address, 9);
    await expect.poll(() => link.phase).toBe('linked');
    expect(mirror.visitOf('visit-0001')).not.toBeNull();
    const before = mirror.revision;

    const other = await salon();
    // Names of runs are drawn by chance where the server is a real one.
    Object.assign(other.server.engine, { run: 'run-of-the-other' });
    Object.assign(line.socket.io, { uri: other.address });
    line.socket.disconnect().connect();
    await expect.poll(() => mirror.visitOf('visit-0001')).toBeNull();
    expect(mirror.revision).toBeLessThan(before);
    expect(mirror.heard).toEqual(asTold(other.server));
    // Late words of the first are not of this salon.
    await other.server.send(seat, { id: 'visit-0002' });
    await expect.poll(() => mirror.revision).toBe(other.server.engine.revision);
    expect(mirror.heard).toEqual(asTold(other.server));
  });
});
