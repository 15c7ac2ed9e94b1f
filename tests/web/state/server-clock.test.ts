import { describe, expect, it } from 'vitest';
import { ServerClock, offsetAndDelay } from '../../../web/src/state/server-clock.ts';

const SERVER = 1_800_000_000_000;

/** A device whose wall clock is wrong by ten minutes and whose monotonic clock began at 500. */
function device() {
  const clocks = { performance: 500, wall: SERVER + 600_000 };
  const clock = new ServerClock({ performanceNow: () => clocks.performance, wallNow: () => clocks.wall });
  let server = SERVER;
  const pass = (ms: number) => {
    clocks.performance += ms;
    clocks.wall += ms;
    server += ms;
  };
  /** Sleep: the monotonic clock stands, the others go on. */
  const sleep = (ms: number) => {
    clocks.wall += ms;
    server += ms;
  };
  const exchange = (outMs: number, backMs: number, timescale = 'a') => {
    const t1 = clocks.performance;
    pass(outMs);
    const t2 = server;
    pass(backMs);
    clock.add({ timescale, t1, t2, t3: t2, t4: clocks.performance });
  };
  return { clocks, clock, pass, sleep, exchange, server: () => server, step: (ms: number) => (server += ms) };
}

describe('one exchange', () => {
  it('[T5] equal clocks, 50 ms each way: offset 0, delay 100 (RFC 5905 §8, erratum 5020)', () => {
    expect(offsetAndDelay({ t1: 1_000, t2: 1_050, t3: 1_050, t4: 1_100 })).toEqual({ offsetMs: 0, delayMs: 100 });
  });
  it('[T5] a server ahead by 500 that takes 30 ms to answer', () => {
    expect(offsetAndDelay({ t1: 0, t2: 520, t3: 550, t4: 70 })).toEqual({ offsetMs: 500, delayMs: 40 });
  });
});

describe('the estimate of the server’s now', () => {
  it('[T5] rests on the samples, whatever the device’s wall clock says', () => {
    const { clock, exchange, pass, server, clocks } = device();
    exchange(5, 5);
    pass(7_000);
    expect(clock.now()).toBe(server());
    clocks.wall -= 3_600_000;
    expect(clock.now()).toBe(server());
    clocks.wall += 1_900; // under the 2 s that mean sleep
    expect(clock.now()).toBe(server());
  });
  it('[T5] the least round trip wins, not the newest', () => {
    const { clock, exchange, server } = device();
    exchange(2, 2);
    exchange(200, 20);
    expect(clock.now()).toBe(server());
  });
  it('[T5] only the last eight samples compete', () => {
    const { clock, exchange, server } = device();
    exchange(1, 1);
    for (let n = 0; n < 7; n += 1) exchange(30, 10);
    expect(clock.now()).toBe(server());
    exchange(30, 10);
    expect(clock.samples).toBe(8);
    // Half of the difference of the two ways is what no exchange can see.
    expect(clock.now()).toBe(server() + 10);
  });
  it('[T5] a sample of another timescale empties the window', () => {
    const { clock, exchange, server, step } = device();
    for (let n = 0; n < 8; n += 1) exchange(1, 1);
    step(40_000);
    exchange(60, 20, 'b');
    expect(clock.samples).toBe(1);
    expect(clock.timescale).toBe('b');
    expect(clock.now()).toBe(server() + 20);
  });
  it('[T5] a new timescale named by a heartbeat unconfirms until a sample of it', () => {
    const { clock, exchange } = device();
    exchange(1, 1);
    clock.begin('b');
    clock.heard();
    expect(clock.confirmed).toBe(false);
    exchange(1, 1, 'b');
    expect(clock.confirmed).toBe(true);
    clock.begin('b');
    expect(clock.confirmed).toBe(true);
  });
});

describe('what stands unconfirmed', () => {
  it('[T5] everything, before the first sample: the wall clock bridges', () => {
    const { clock, clocks } = device();
    expect(clock.confirmed).toBe(false);
    expect(clock.now()).toBe(clocks.wall);
    clock.heard();
    expect(clock.confirmed).toBe(false);
  });
  it('[R10] everything, once the server has not been heard for 5 s', () => {
    const { clock, exchange, pass } = device();
    exchange(1, 1);
    pass(5_000);
    expect(clock.confirmed).toBe(true);
    pass(1);
    expect(clock.confirmed).toBe(false);
    expect(clock.silentForMs).toBe(5_001);
    clock.heard();
    expect(clock.confirmed).toBe(true);
  });
  it('[T5] everything, when the newest sample is no longer fresh though the server is heard', () => {
    const { clock, exchange, pass } = device();
    exchange(1, 1);
    pass(100_000);
    clock.heard();
    expect(clock.confirmed).toBe(true);
    pass(1);
    clock.heard();
    expect(clock.confirmed).toBe(false);
  });
  it('[T5] everything after a reconnect, with the last estimate as a bridge', () => {
    const { clock, exchange, pass, server } = device();
    exchange(1, 1);
    clock.empty();
    pass(60_000);
    expect(clock.confirmed).toBe(false);
    expect(clock.now()).toBe(server());
  });
});

describe('sleep', () => {
  it('[T5] is seen when the wall clock grew over 2 s more, and the wall clock bridges it', () => {
    const { clock, exchange, pass, sleep, server } = device();
    exchange(1, 1);
    pass(1_000);
    sleep(90_000);
    expect(clock.now()).toBe(server());
    expect(clock.confirmed).toBe(false);
    expect(clock.samples).toBe(0);
    exchange(1, 1);
    expect(clock.confirmed).toBe(true);
    expect(clock.now()).toBe(server());
  });
  it('[T5] of exactly 2 s is none', () => {
    const { clock, exchange, sleep } = device();
    exchange(1, 1);
    sleep(2_000);
    expect(clock.noticeSleep()).toBe(false);
    sleep(2_001);
    expect(clock.noticeSleep()).toBe(true);
    expect(clock.noticeSleep()).toBe(false);
  });
  it('[T5] a wall clock that is set back while awake changes nothing', () => {
    const { clock, clocks, exchange, pass, server } = device();
    exchange(1, 1);
    clocks.wall -= 600_000;
    pass(1_000);
    expect(clock.now()).toBe(server());
    expect(clock.confirmed).toBe(true);
  });
});

describe('over a server that lost its time', () => {
  it('[T3, T5] a page that counted on knows what the former timescale would say', () => {
    const { clock, exchange, pass, clocks } = device();
    exchange(5, 5, 'a');
    const before = clock.now();
    pass(240_000);
    exchange(5, 5, 'b');
    expect(clock.timescale).toBe('b');
    expect(clock.formerNow('a')).toBeCloseTo(before + 240_010, 3);
    expect(clock.formerNow('z')).toBeNull();
    clocks.wall += 60_000;
    expect(clock.formerNow('a')).toBeNull();
  });

  it('[T3] one that slept in between, or never had a sample, knows nothing', () => {
    const slept = device();
    slept.exchange(5, 5, 'a');
    slept.sleep(60_000);
    slept.exchange(5, 5, 'b');
    expect(slept.clock.formerNow('a')).toBeNull();
    const fresh = device();
    fresh.clock.begin('a');
    fresh.exchange(5, 5, 'b');
    expect(fresh.clock.formerNow('a')).toBeNull();
  });

  it('[T5] a sleep is told once', () => {
    const { clock, sleep } = device();
    expect(clock.takeSlept()).toBe(false);
    sleep(3_000);
    expect(clock.takeSlept()).toBe(true);
    expect(clock.takeSlept()).toBe(false);
  });

  it('[T5] a page that began without a server goes by what the device knew of it, until a sample', () => {
    const { clock, exchange, server, pass } = device();
    clock.bridge(-600_000);
    pass(1_000);
    expect(clock.now()).toBe(server());
    expect(clock.confirmed).toBe(false);
    exchange(5, 5);
    clock.bridge(999_999);
    expect(clock.now()).toBe(server());
  });
});
