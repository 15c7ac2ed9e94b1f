import type { Browser, BrowserContext, Page } from '@playwright/test';
import type { HandClock } from '../support/hand-clock.ts';
import type { ServerProcess } from '../support/server-process.ts';

export interface DeviceOptions {
  /** How wrong the device's own clock is, ms. */
  readonly errorMs?: number;
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'light' | 'dark';
  readonly autoplay?: boolean;
  readonly reducedMotion?: 'reduce' | 'no-preference';
  /** A page that comes from a service worker is another than the one just built: only tests of that allow them. */
  readonly serviceWorkers?: 'allow' | 'block';
}

declare global {
  interface Window {
    hand: { performanceMs: number; wallMs: number; pulses: number };
  }
}

/**
 * Replaces `performance.now` and `Date` by values the harness sets; timers stay real, for the socket lives by them.
 * Counts the oscillators that are started: each is one pulse of a bell on the real path of sound.
 */
function takeClocks(begin: { performanceMs: number; wallMs: number }): void {
  const hand = { ...begin, pulses: 0 };
  window.hand = hand;
  performance.now = () => hand.performanceMs;
  const RealDate = Date;
  window.Date = new Proxy(RealDate, {
    construct: (target, args: []) => (args.length === 0 ? new target(hand.wallMs) : new target(...args)),
    apply: () => new RealDate(hand.wallMs).toString(),
    get: (target, name) => (name === 'now' ? () => hand.wallMs : Reflect.get(target, name)),
  });
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...args) {
    hand.pulses += 1;
    return start.apply(this, args);
  };
}

/** One browser with its own clock, showing one screen. */
export class Device {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly #clock: HandClock;
  readonly #errorMs: number;
  /** `performance.now` began at another instant on each device. */
  readonly #performanceBegan: number;

  private constructor(
    context: BrowserContext,
    page: Page,
    clock: HandClock,
    errorMs: number,
    performanceBegan: number,
  ) {
    this.context = context;
    this.page = page;
    this.#clock = clock;
    this.#errorMs = errorMs;
    this.#performanceBegan = performanceBegan;
  }

  static async open(
    browser: Browser,
    server: ServerProcess,
    path: string,
    options: DeviceOptions = {},
  ): Promise<Device> {
    const { errorMs = 0, width = 1280, height = 800, colorScheme = 'light', reducedMotion = 'no-preference' } = options;
    const context = await browser.newContext({
      viewport: { width, height },
      colorScheme,
      reducedMotion,
      serviceWorkers: options.serviceWorkers ?? 'block',
    });
    const page = await context.newPage();
    const device = new Device(context, page, server.clock, errorMs, 1_000 + Math.abs(errorMs) / 7);
    // Run by tsx, functions handed to a page call a helper of the compiler's that no page has.
    await page.addInitScript({ content: 'globalThis.__name = (one) => one;' });
    await page.addInitScript(takeClocks, device.#readings());
    await page.goto(server.address + path);
    return device;
  }

  /** The device's clocks follow the hand, and the page looks again; resolves once it has painted that second, confirmed. */
  async follow(second: number, revision: number): Promise<void> {
    await this.look();
    await this.page.waitForFunction(
      ([at, least]) => {
        const { dataset } = document.documentElement;
        return (
          dataset['second'] === String(at) &&
          Number(dataset['revision']) >= Number(least) &&
          dataset['confirmed'] === 'true'
        );
      },
      [second, revision],
    );
  }

  /** The device's clocks follow the hand, and the page looks again. */
  async look(): Promise<void> {
    await this.page.evaluate((readings) => {
      Object.assign(window.hand, readings);
      window.dispatchEvent(new PageTransitionEvent('pageshow'));
    }, this.#readings());
  }

  /** The device's clocks follow the hand, and nothing else is asked of the page. */
  async catchUp(): Promise<void> {
    await this.page.evaluate((readings) => void Object.assign(window.hand, readings), this.#readings());
  }

  pulses(): Promise<number> {
    return this.page.evaluate(() => window.hand.pulses);
  }

  async close(): Promise<void> {
    await this.context.close();
  }

  #readings(): { performanceMs: number; wallMs: number } {
    const { passedMs, wall } = this.#clock;
    return { performanceMs: this.#performanceBegan + passedMs, wallMs: wall + this.#errorMs };
  }
}

/** Moves time on: first the machine's clocks, then the server's turn, then every device. */
export async function passTime(server: ServerProcess, devices: readonly Device[], ms: number): Promise<void> {
  server.clock.pass(ms);
  await lookAgain(server, devices);
}

/** Everybody catches up with the server as it is now. */
export async function lookAgain(server: ServerProcess, devices: readonly Device[]): Promise<void> {
  const { now, revision } = await server.turn();
  const second = Math.floor(now / 1000) * 1000;
  await Promise.all(devices.map((device) => device.follow(second, revision)));
}
