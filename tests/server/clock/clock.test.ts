import { mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { platform, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Reading } from '../../../core/trust/timescale.ts';
import { bootId } from '../../../server/clock/boot-id.ts';
import { FileClock } from '../../../server/clock/file-clock.ts';
import { assertHandClockAllowed, HandClockRefused, isLoopback } from '../../../server/clock/hand-clock-allowed.ts';
import { RealClock } from '../../../server/clock/real-clock.ts';

let folder: string;
let file: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'clock-'));
  file = join(folder, 'hand.json');
});
afterEach(() => rmSync(folder, { recursive: true }));

const noon: Reading = { wall: Date.UTC(2026, 2, 10, 12), mono: 1_000, uptime: 60_000, bootId: 'boot-a' };

/** As a harness does it: whole beside the file, then renamed over it. */
function put(hand: unknown): void {
  writeFileSync(`${file}.new`, JSON.stringify(hand));
  renameSync(`${file}.new`, file);
}

describe("the machine's clocks", () => {
  test('[T2] wall, process and boot clock are in ms and run on', () => {
    const clock = new RealClock();
    const before = Date.now();
    const one = clock.read();
    const two = clock.read();
    expect(one.wall).toBeGreaterThanOrEqual(before);
    expect(one.wall).toBeLessThanOrEqual(Date.now());
    expect(two.mono).toBeGreaterThanOrEqual(one.mono);
    expect(two.uptime).toBeGreaterThanOrEqual(one.uptime);
    // No machine boots and starts Node within a second, and a process is younger than its machine's boot.
    expect(one.uptime).toBeGreaterThan(1_000);
    expect(one.uptime).toBeGreaterThan(one.mono);
    expect(two.bootId).toBe(one.bootId);
  });

  test('[T3] two processes in one boot name it alike', () => {
    expect(new RealClock().read().bootId).toBe(new RealClock().read().bootId);
  });

  test('[T3] Linux says itself which boot it is', () => {
    const given = platform() === 'linux' ? readFileSync('/proc/sys/kernel/random/boot_id', 'utf8').trim() : 'elsewhere';
    writeFileSync(file, given);
    expect(bootId(0, 0, platform() === 'linux' ? undefined : file)).toBe(given);
  });

  test('[T3] elsewhere a boot is named by its minute, the same at any later start of that boot', () => {
    const nowhere = join(folder, 'none');
    const id = bootId(noon.wall, noon.uptime, nowhere);
    expect(bootId(noon.wall + 3_600_000, noon.uptime + 3_600_000, nowhere)).toBe(id);
    expect(bootId(noon.wall + 3_600_000, noon.uptime, nowhere)).not.toBe(id);
  });

  test('[T3] an empty answer names no boot', () => {
    writeFileSync(file, '\n');
    expect(bootId(noon.wall, noon.uptime, file)).toMatch(/^booted-\d+$/);
  });
});

describe('a clock moved by hand', () => {
  test('[T1] reads what the file says at each reading', () => {
    put({ at: noon });
    const clock = new FileClock(file);
    expect(clock.read()).toEqual(noon);
    const later = { ...noon, wall: noon.wall + 5, mono: 1_005, uptime: 60_005 };
    put({ at: later });
    expect(clock.read()).toEqual(later);
  });

  test('[T1] a wall clock set to a fraction is rounded: instants are whole ms', () => {
    put({ at: { ...noon, wall: noon.wall + 0.6 } });
    expect(new FileClock(file).read()).toEqual({ ...noon, wall: noon.wall + 1 });
  });

  test('[T3] outlives its process: another one reads the same', () => {
    put({ at: noon });
    new FileClock(file).read();
    expect(new FileClock(file).read()).toEqual(noon);
  });

  test.each([
    '',
    '{"at":{"wall":17',
    '{"at":{"wall":"now","mono":0,"uptime":0,"bootId":"b"}}',
    '{"behindMs":-1}',
    '[]',
    '{}',
  ])('[T2] keeps the last good reading while the file says %s', (text) => {
    put({ at: noon });
    const clock = new FileClock(file);
    writeFileSync(file, text);
    expect(clock.read()).toEqual(noon);
    rmSync(file);
    expect(clock.read()).toEqual(noon);
    put({ at: { ...noon, mono: 2_000 } });
    expect(clock.read().mono).toBe(2_000);
  });

  test('[T2] refuses fields it does not know, both forms at once included', () => {
    put({ at: noon });
    const clock = new FileClock(file);
    put({ at: noon, behindMs: 5 });
    expect(clock.read()).toEqual(noon);
    put({ at: { ...noon, mono: 7, tick: 1 } });
    expect(clock.read()).toEqual(noon);
  });

  test('[T2] so many ms behind, all three clocks run on with the real ones, and no sleep shows when it catches up', () => {
    const real = { reading: noon, read: () => real.reading };
    put({ behindMs: 3_600_000 });
    const clock = new FileClock(file, real);
    expect(clock.read()).toEqual({
      wall: noon.wall - 3_600_000,
      mono: noon.mono - 3_600_000,
      uptime: noon.uptime - 3_600_000,
      bootId: 'boot-a',
    });
    real.reading = { ...noon, wall: noon.wall + 40, mono: noon.mono + 40, uptime: noon.uptime + 40 };
    put({ behindMs: 0 });
    expect(clock.read()).toEqual(real.reading);
  });

  test('[T1] a file that is missing at the start is an error, not a guess', () => {
    expect(() => new FileClock(file)).toThrow(/missing or not understood/);
  });
});

describe('who may have one', () => {
  test.each(['127.0.0.1', '127.8.9.1', '::1', '0:0:0:0:0:0:0:1', 'localhost'])('[T1] %s is loopback', (host) => {
    expect(isLoopback(host)).toBe(true);
    expect(() => assertHandClockAllowed({ host, purpose: 'tests' })).not.toThrow();
    expect(() => assertHandClockAllowed({ host, purpose: 'model-day' })).not.toThrow();
  });

  test.each([
    '0.0.0.0',
    '::',
    '192.168.1.20',
    '128.0.0.1',
    '::2',
    'localhost.example',
    '127.evil',
    '',
    '::ffff:10.0.0.1',
  ])('[T1] "%s" is not, and a clock moved by hand is refused there', (host) => {
    expect(isLoopback(host)).toBe(false);
    expect(() => assertHandClockAllowed({ host, purpose: 'tests' })).toThrow(HandClockRefused);
  });

  test.each([null, '', 'salon'])('[T1] refused for any other purpose: %s', (purpose) => {
    expect(() => assertHandClockAllowed({ host: '127.0.0.1', purpose })).toThrow(HandClockRefused);
  });
});
