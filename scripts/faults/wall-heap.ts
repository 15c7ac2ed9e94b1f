import { existsSync } from 'node:fs';
import { chromium, type Browser } from '@playwright/test';
import { HOUR, MINUTE, SECOND, type Ms } from '../../core/time.ts';
import { Device, lookAgain } from '../../tests/e2e/devices.ts';
import { relaxer } from '../../tests/support/directions-kit.ts';
import { HandClock } from '../../tests/support/hand-clock.ts';
import { Pages } from '../../tests/support/pages.ts';
import { ServerProcess, setUpSalon, type Launch } from '../../tests/support/server-process.ts';
import { BarePage } from './heap/bare-page.ts';
import { BusyFloor } from './heap/busy-floor.ts';
import { held } from './heap/held.ts';
import { growthOver, lastHalf, type Point } from './heap/slope.ts';

const CHAIRS = 12;
const STEP: Ms = 30 * SECOND;
/** The floor by itself, before the wall is opened: finished visits stay on it for an hour, until then it fills. */
const FILLING: Ms = 2.5 * HOUR;
const FILLING_STEP: Ms = MINUTE;
/** So often seconds pass one by one for a while, as bells sound in them. */
const LISTEN_EVERY: Ms = HOUR;
const LISTEN_FOR: Ms = 20 * SECOND;
const POINTS = 60;
const RESTART_EVERY: Ms = 2 * HOUR;
/**
 * Left alone the browser compiles what runs often, for hours on end: 8 h before 12 busy chairs brought it from 4.4 to 5.6 MB, less
 * and less each hour (measured, Chromium 156). That is no leak and would hide one, so it is told not to compile, to make its notes
 * for compiling at once, and to keep what it has parsed: data alone is measured.
 */
const DATA_ALONE = '--expose-gc --jitless --no-lazy-feedback-allocation --no-flush-bytecode';
const COMPILED_TOO = '--expose-gc';
/** The promise: over the last half it grows by less than this share of what is held. */
const MOST_GROWTH = 0.01;

export interface WallHeap {
  /** Simulated, after the floor has filled. */
  readonly hours: number;
  readonly log: (line: string) => void;
  /** With what the browser compiles: for a look at it, the promise is about data. */
  readonly compiled?: boolean;
  readonly launch?: Launch;
}

/**
 * The built wall before a busy floor for so many simulated hours: pushes, bells that ring and end, restarts of the server;
 * and what it holds after forced collection.
 */
export async function wallHeap({
  hours,
  log,
  launch,
  compiled = false,
}: WallHeap): Promise<{ ok: boolean; lines: string[] }> {
  const lines: string[] = [];
  const say = (line: string): void => {
    lines.push(line);
    log(line);
  };
  // Pages of its own: a build that somebody makes meanwhile would have the wall open itself.
  const own = ['--log-level', 'silent', '--pages', new Pages().folder];
  const server = new ServerProcess(new HandClock(), undefined, own, launch);
  const browser = await openBrowser(compiled ? COMPILED_TOO : DATA_ALONE);
  try {
    await server.start();
    await setUpSalon(server, relaxer(), CHAIRS);
    const points = await live(server, browser, hours, say);
    const half = lastHalf(points);
    const growth = growthOver(half);
    const held = half.reduce((sum, { bytes }) => sum + bytes, 0) / half.length;
    const kept = `${(held / 1e6).toFixed(2)} MB held, ${percent(growth)} more over the last half of ${hours} h`;
    say(`${kept} (goal: less than ${percent(MOST_GROWTH)}), ${points.length} points`);
    return { ok: growth < MOST_GROWTH, lines };
  } finally {
    await browser.close();
    await server.stop();
  }
}

async function live(
  server: ServerProcess,
  browser: Browser,
  hours: number,
  say: (line: string) => void,
): Promise<readonly Point[]> {
  const floor = new BusyFloor(server, CHAIRS);
  await fill(server, floor);
  const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080 });
  // The touch that unlocks sound.
  await wall.page.mouse.click(5, 5);
  const heap = await wall.context.newCDPSession(wall.page);
  const bare = await BarePage.open(browser, server);
  const opened = await wall.page.evaluate(() => performance.timeOrigin);
  const every = Math.max(STEP, Math.floor((hours * HOUR) / POINTS / STEP) * STEP);
  const points: Point[] = [];
  const began = performance.now();
  for (let passed = STEP; passed <= hours * HOUR; passed += STEP) {
    await pass(server, floor, wall, passed);
    await bare.look();
    if (passed % every === 0) points.push({ at: passed, bytes: (await held(heap)) - (await bare.grown()) });
  }
  const pulses = await wall.pulses();
  if ((await wall.page.evaluate(() => performance.timeOrigin)) !== opened)
    throw new Error('the wall opened itself anew');
  const took = `${((performance.now() - began) / SECOND).toFixed(0)} s`;
  say(`${hours} h simulated in ${took}: ${floor.said} touches, ${pulses} pulses of bells`);
  say(`a bare page, asked as often by the harness, grew by ${Math.round((await bare.grown()) / 1e3)} kB: taken off`);
  say(`held each ${every / MINUTE} min, in kB: ${points.map(({ bytes }) => Math.round(bytes / 1e3)).join(' ')}`);
  return points;
}

async function fill(server: ServerProcess, floor: BusyFloor): Promise<void> {
  for (let passed = 0; passed < FILLING; passed += FILLING_STEP) {
    server.clock.pass(FILLING_STEP);
    await floor.upTo(server.clock.passedMs);
    await server.turn();
  }
}

async function pass(server: ServerProcess, floor: BusyFloor, wall: Device, passed: Ms): Promise<void> {
  if (passed % RESTART_EVERY === 0) {
    await server.stop();
    await server.start();
  }
  const step = passed % LISTEN_EVERY < LISTEN_FOR ? SECOND : STEP;
  for (let left = STEP; left > 0; left -= step) {
    server.clock.pass(step);
    await floor.upTo(server.clock.passedMs);
    await lookAgain(server, [wall]);
  }
}

function openBrowser(flags: string): Promise<Browser> {
  const debian = '/usr/bin/chromium';
  const named = process.env['BASINBELL_CHROMIUM'] ?? (existsSync(debian) ? debian : undefined);
  return chromium.launch({
    ...(named === undefined ? {} : { executablePath: named }),
    args: [
      ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      '--disable-gpu',
      `--js-flags=${flags}`,
      // Bells are to sound, as on a wall that was set up for it.
      '--autoplay-policy=no-user-gesture-required',
    ],
  });
}

const percent = (share: number): string => `${(share * 100).toFixed(2)} %`;
