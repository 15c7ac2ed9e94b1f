import { describe, expect, it } from 'vitest';
import type { Timers } from '../../../server/engine/timers.ts';
import { statusLine } from '../../../server/notify/status-line.ts';
import { takeSupervision } from '../../../server/notify/supervision.ts';
import { Supervisor } from '../../../server/notify/supervisor.ts';
import { processing, salonBench } from '../engine/kit.ts';

/** Every beat is the test's own; a notice arrives when the test lets it. */
class Watch {
  readonly sent: string[] = [];
  readonly faults: string[] = [];
  everyMs: number | null = null;
  turns = true;
  /** What the next notices meet. */
  arrives: 'at once' | 'later' | 'never' = 'at once';
  beat: () => void = () => undefined;
  #later: (() => void)[] = [];

  readonly timers: Timers = {
    soon: () => undefined,
    after: () => () => undefined,
    every: (ms, task) => {
      this.everyMs = ms;
      this.beat = task;
      return () => {
        this.beat = () => undefined;
      };
    },
  };

  readonly supervisor = (watchdogMs: number | null): Supervisor =>
    new Supervisor({
      send: ([first = '']) => {
        this.sent.push(first);
        if (this.arrives === 'never') return Promise.reject(new Error('nobody there'));
        return this.arrives === 'later' ? new Promise((resolve) => this.#later.push(resolve)) : Promise.resolve();
      },
      watchdogMs,
      timers: this.timers,
      takesTurns: () => this.turns,
      status: () => 'standing',
      log: { error: (_details, message) => this.faults.push(message) },
    });

  /** A beat, and what follows from it at once. */
  async fed(): Promise<void> {
    this.beat();
    await Promise.resolve();
    await Promise.resolve();
  }

  async letArrive(): Promise<void> {
    for (const arrive of this.#later.splice(0)) arrive();
    await Promise.resolve();
    await Promise.resolve();
  }
}

describe('the supervisor', () => {
  it('[T7] feeds three times within the span, and no more once the goodbye has begun', async () => {
    const watch = new Watch();
    const supervisor = watch.supervisor(60_000);
    await supervisor.ready();
    expect(watch.everyMs).toBe(20_000);
    await watch.fed();
    await watch.fed();
    await supervisor.stopping();
    await watch.fed();
    expect(watch.sent).toEqual(['READY=1', 'WATCHDOG=1', 'WATCHDOG=1', 'STOPPING=1']);
  });

  it('[T7] feeds nothing in arrears: while one notice is on its way no other is sent', async () => {
    const watch = new Watch();
    await watch.supervisor(60_000).ready();
    watch.arrives = 'later';
    await watch.fed();
    await watch.fed();
    await watch.fed();
    expect(watch.sent).toEqual(['READY=1', 'WATCHDOG=1']);
    await watch.letArrive();
    await watch.fed();
    expect(watch.sent).toEqual(['READY=1', 'WATCHDOG=1', 'WATCHDOG=1']);
  });

  it('[T7] does not feed while turns fail, and feeds again once they are taken', async () => {
    const watch = new Watch();
    await watch.supervisor(60_000).ready();
    watch.turns = false;
    await watch.fed();
    expect(watch.sent).toEqual(['READY=1']);
    expect(watch.faults).toEqual(['the engine takes no turns: the watchdog is not fed']);
    watch.turns = true;
    await watch.fed();
    expect(watch.sent).toEqual(['READY=1', 'WATCHDOG=1']);
  });

  it('[R8] a notice that does not arrive is logged and stands in nobody’s way', async () => {
    const watch = new Watch();
    watch.arrives = 'never';
    const supervisor = watch.supervisor(60_000);
    await supervisor.ready();
    await watch.fed();
    await watch.fed();
    await supervisor.stopping();
    expect(watch.sent).toEqual(['READY=1', 'WATCHDOG=1', 'WATCHDOG=1', 'STOPPING=1']);
    expect(watch.faults).toHaveLength(4);
  });
});

describe('whether turns are taken', () => {
  it('[R8] a disk that takes nothing is no reason for a new start, which would lose what is kept in memory', async () => {
    const bench = await salonBench();
    const visit = await processing(bench);
    bench.disk.full = true;
    await bench.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect(bench.engine.heartbeat().unsaved).toBe(true);
    expect(bench.engine.takesTurns()).toBe(true);
  });

  it('[T7] a turn that comes to no end is told apart, and the next good one counts again', async () => {
    const bench = await salonBench();
    await processing(bench);
    const { floor } = bench.engine;
    const { floorBells } = floor;
    let faults = 1;
    Object.defineProperty(floor, 'floorBells', {
      get: () => {
        if (faults-- > 0) throw new Error('a fault of ours');
        return floorBells;
      },
    });
    expect(bench.engine.takesTurns()).toBe(false);
    expect(bench.engine.takesTurns()).toBe(true);
  });
});

describe('what was asked for in the environment', () => {
  const pid = 4711;

  it('[T7] is taken out of it, so that a child of the server does not speak in its name', () => {
    const environment = { NOTIFY_SOCKET: '@a', WATCHDOG_USEC: '60000000', WATCHDOG_PID: '4711', PATH: '/bin' };
    expect(takeSupervision(environment, pid)).toEqual({ socket: '@a', watchdogMs: 60_000 });
    expect(environment).toEqual({ PATH: '/bin' });
  });

  it.each([
    [{}, { socket: null, watchdogMs: null }],
    [{ NOTIFY_SOCKET: '' }, { socket: null, watchdogMs: null }],
    [{ NOTIFY_SOCKET: '/run/n' }, { socket: '/run/n', watchdogMs: null }],
    [
      { NOTIFY_SOCKET: '/run/n', WATCHDOG_USEC: '300000' },
      { socket: '/run/n', watchdogMs: 300 },
    ],
    [
      { NOTIFY_SOCKET: '/run/n', WATCHDOG_USEC: '300000', WATCHDOG_PID: '1' },
      { socket: '/run/n', watchdogMs: null },
    ],
    [
      { NOTIFY_SOCKET: '/run/n', WATCHDOG_USEC: 'soon' },
      { socket: '/run/n', watchdogMs: null },
    ],
    [
      { NOTIFY_SOCKET: '/run/n', WATCHDOG_USEC: '0' },
      { socket: '/run/n', watchdogMs: null },
    ],
  ])('[T7] %j means %j', (environment, meant) => {
    expect(takeSupervision({ ...environment }, pid)).toEqual(meant);
  });
});

describe('the status line', () => {
  it('[R8] counts, and says in words what is wrong with the storage', () => {
    const standing = { screens: 1, openVisits: 2, trouble: null, unsaved: false };
    expect(statusLine(standing)).toBe('1 screen linked, 2 visits open');
    expect(statusLine({ ...standing, screens: 3, openVisits: 1, trouble: 'full', unsaved: true })).toBe(
      '3 screens linked, 1 visit open, the disk is full, NOT SAVED: kept in memory',
    );
  });
});
