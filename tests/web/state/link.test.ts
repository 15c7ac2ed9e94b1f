import type { Socket } from 'socket.io-client';
import { describe, expect, it } from 'vitest';
import type { ClientToServer, ServerToClient } from '../../../shared/socket-events.ts';
import type { Heartbeat, Snapshot } from '../../../shared/wire.ts';
import { FloorMirror } from '../../../web/src/state/floor-mirror.svelte.ts';
import { BACK_WITHIN_MS, Link } from '../../../web/src/state/link.svelte.ts';
import { ServerClock } from '../../../web/src/state/server-clock.ts';
import { entitiesOf } from '../../support/entities.ts';
import { FloorLife, NOON } from '../../support/floor-life.ts';

type Listener = (...args: never[]) => void;

/** A line whose far end is the test. */
class FakeSocket {
  connected = false;
  calls: string[] = [];
  sent: { readonly name: string; readonly body: unknown }[] = [];
  joins: ((late: Error | null, answer: unknown) => void)[] = [];
  readonly #listeners = new Map<string, Listener>();

  on(name: string, listener: Listener): void {
    this.#listeners.set(name, listener);
  }
  timeout(): this {
    return this;
  }
  emit(name: string, body: unknown, answer: (late: Error | null, answer: unknown) => void): void {
    this.sent.push({ name, body });
    if (name === 'join') this.joins.push(answer);
  }
  emitWithAck(): Promise<never> {
    return new Promise(() => undefined);
  }
  connect(): void {
    this.calls.push('connect');
  }
  disconnect(): void {
    this.calls.push('disconnect');
    this.connected = false;
    this.hear('disconnect', 'io client disconnect');
  }
  hear(name: string, ...args: unknown[]): void {
    if (name === 'connect') this.connected = true;
    this.#listeners.get(name)?.(...(args as never[]));
  }
}

function bench(life = FloorLife.salon()) {
  const socket = new FakeSocket();
  const clocks = { performance: 1_000, wall: NOON };
  const waiting = new Map<number, { readonly at: number; readonly run: () => void }>();
  let timers = 0;
  const device = { performanceNow: () => clocks.performance, wallNow: () => clocks.wall };
  const clock = new ServerClock(device);
  const mirror = new FloorMirror();
  const link = new Link({
    stream: 'floor',
    mirror,
    clock,
    clocks: device,
    timers: {
      set: (run, afterMs) => {
        waiting.set(++timers, { at: clocks.performance + afterMs, run });
        return timers;
      },
      clear: (timer) => void waiting.delete(timer as number),
    },
    changed: () => undefined,
    onTestBell: () => undefined,
    device: 'device-wall',
    connect: () => socket as unknown as Socket<ServerToClient, ClientToServer>,
  });
  const snapshot = (revision: number, run = 'run-1'): string => {
    const head = { stream: 'floor', run, protocol: 2, timescale: 'timescale-1', now: NOON, civilOffsetMs: 0 } as const;
    const whole: Snapshot = { ...head, revision, entities: entitiesOf(life.floor) };
    return JSON.stringify(whole);
  };
  const beat = (changes: Partial<Heartbeat> = {}): void => {
    const head = { run: 'run-1', revision: 10, unsaved: false, awayMs: null, civilOffsetMs: 0 };
    socket.hear('heartbeat', { ...head, timescale: 'timescale-1', now: NOON, ...changes });
  };
  const pass = (ms: number): void => {
    clocks.performance += ms;
    clocks.wall += ms;
    for (const [id, { at, run }] of [...waiting]) {
      if (at > clocks.performance) continue;
      waiting.delete(id);
      run();
    }
  };
  const answer = (text: string): void => socket.joins.shift()?.(null, { outcome: 'joined', snapshots: [text] });
  const linked = (): void => {
    socket.hear('connect');
    answer(snapshot(10));
    pass(BACK_WITHIN_MS);
    beat();
  };
  return { socket, clock, clocks, mirror, link, beat, pass, answer, snapshot, linked, life };
}

describe('coming back', () => {
  it('[T5] each connection takes a snapshot of its own', () => {
    const { socket, answer, snapshot, link, mirror } = bench();
    socket.hear('connect');
    answer(snapshot(10));
    expect(link.phase).toBe('linked');
    socket.hear('disconnect', 'transport close');
    socket.hear('connect');
    expect(socket.joins).toHaveLength(1);
    answer(snapshot(12));
    expect(mirror.revision).toBe(12);
  });

  it('[T5] from behind asks anew on the same line; from sleep the line itself is not trusted', () => {
    const { socket, link, linked } = bench();
    linked();
    link.resume();
    expect(socket.calls).toEqual([]);
    expect(socket.joins).toHaveLength(1);
    link.resume(true);
    expect(socket.calls).toEqual(['disconnect', 'connect']);
  });

  it('[T5] nobody is told of a lost link in the first three seconds after a resume', () => {
    const { socket, link, linked, pass } = bench();
    linked();
    link.resume(true);
    expect(link.phase).toBe('again');
    pass(BACK_WITHIN_MS - 1);
    expect(link.phase).toBe('again');
    pass(1);
    expect(link.phase).toBe('lost');
    socket.hear('connect');
    expect(link.phase).toBe('lost');
  });

  it('[T5] a link that goes by itself is lost at once', () => {
    const { socket, link, linked } = bench();
    linked();
    socket.hear('disconnect', 'ping timeout');
    expect(link.phase).toBe('lost');
  });
});

describe('not heard', () => {
  it('[R10] after five seconds the screen goes by itself, also on a line that looks alive', () => {
    const { link, linked, pass, beat } = bench();
    linked();
    pass(5_000);
    expect(link.unheard).toBe(false);
    pass(1);
    expect(link.unheard).toBe(true);
    beat();
    expect(link.unheard).toBe(false);
  });

  it('[R10] a beat before the snapshot of a new connection does not end that: what is shown is old', () => {
    const { socket, link, linked, pass, beat, answer, snapshot } = bench();
    linked();
    pass(6_000);
    socket.hear('disconnect', 'ping timeout');
    socket.hear('connect');
    beat();
    expect(link.unheard).toBe(true);
    answer(snapshot(11));
    expect(link.unheard).toBe(false);
  });

  it('[R10] rings nothing by itself in the first moments after a resume: it mostly hears at once', () => {
    const { link, linked, pass } = bench();
    linked();
    pass(60_000);
    link.resume(true);
    expect(link.unheard).toBe(false);
    pass(BACK_WITHIN_MS);
    expect(link.unheard).toBe(true);
  });

  it('[R10] a screen that never knew a floor has nothing to go by', () => {
    const { link, pass } = bench();
    pass(60_000);
    expect(link.unheard).toBe(false);
  });
});

describe('a heartbeat', () => {
  it('[T5] that was overtaken changes nothing', () => {
    const { link, linked, beat, socket } = bench();
    linked();
    beat({ now: NOON + 4_000, unsaved: true, civilOffsetMs: 60_000 });
    beat({ now: NOON + 2_000, unsaved: false, civilOffsetMs: 0 });
    expect(link).toMatchObject({ unsaved: true, civilOffsetMs: 60_000 });
    beat({ now: NOON + 6_000, revision: 12 });
    beat({ now: NOON + 6_000, revision: 11 });
    expect(socket.joins).toHaveLength(0);
    expect(link.unsaved).toBe(false);
  });

  it('[T5] that is ahead twice in a row asks for the snapshot', () => {
    const { linked, beat, socket } = bench();
    linked();
    beat({ now: NOON + 2_000, revision: 11 });
    expect(socket.joins).toHaveLength(0);
    beat({ now: NOON + 4_000, revision: 11 });
    expect(socket.joins).toHaveLength(1);
  });

  it('[T3] of a server that lost its time is answered, once, with what this screen makes of it', () => {
    const life = FloorLife.salon();
    const { linked, beat, socket, clock, clocks, answer, snapshot, pass } = bench(life);
    linked();
    const at = clocks.performance;
    clock.add({ timescale: 'timescale-1', t1: at, t2: NOON, t3: NOON, t4: at });
    pass(240_000);
    const { salon } = life.floor;
    const lost = { ...salon, uncertainSince: NOON, lastSure: { aliveAt: NOON, timescale: 'timescale-1' } };
    life.floor = { ...life.floor, salon: lost };
    socket.hear('disconnect', 'transport close');
    socket.hear('connect');
    answer(snapshot(11, 'run-2'));
    const now = clocks.performance;
    clock.add({ timescale: 'timescale-2', t1: now, t2: NOON, t3: NOON, t4: now });
    const told = () => socket.sent.filter(({ name }) => name === 'kept-time').map(({ body }) => body);
    beat({ run: 'run-2', timescale: 'timescale-2', revision: 11 });
    beat({ run: 'run-2', timescale: 'timescale-2', revision: 11, now: NOON + 2_000 });
    expect(told()).toEqual([{ device: 'device-wall', timescale: 'timescale-1', now: NOON + 240_000 }]);
  });
});
