import type { Browser, CDPSession } from '@playwright/test';
import { Device } from '../../../tests/e2e/devices.ts';
import type { ServerProcess } from '../../../tests/support/server-process.ts';
import { held } from './held.ts';

/** Asked by the harness in the same way as the wall, and by nobody else: what it comes to hold is the harness's own. */
export class BarePage {
  readonly #device: Device;
  readonly #heap: CDPSession;
  #looks = 0;
  #begun: number | null = null;

  private constructor(device: Device, heap: CDPSession) {
    this.#device = device;
    this.#heap = heap;
  }

  static async open(browser: Browser, server: ServerProcess): Promise<BarePage> {
    const device = await Device.open(browser, server, '/healthz');
    return new BarePage(device, await device.context.newCDPSession(device.page));
  }

  /** One step of the harness: the clocks are set, and it waits for what is painted. */
  async look(): Promise<void> {
    this.#looks += 1;
    await this.#device.page.evaluate((second) => {
      Object.assign(document.documentElement.dataset, { second, revision: second, confirmed: 'true' });
    }, String(this.#looks));
    await this.#device.follow(this.#looks, this.#looks);
  }

  /** Bytes since it was asked first. */
  async grown(): Promise<number> {
    const bytes = await held(this.#heap);
    this.#begun ??= bytes;
    return bytes - this.#begun;
  }
}
