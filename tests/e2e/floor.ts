import { expect, type Browser } from '@playwright/test';
import type { Rules } from '../../core/directions/rules.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

/**
 * A server and three screens of chair 2, whose device clocks are wrong by ten minutes, two ways.
 */
export class Floor {
  readonly server: ServerProcess;
  readonly wall: Device;
  readonly chair: Device;
  readonly pocket: Device;

  private constructor(server: ServerProcess, wall: Device, chair: Device, pocket: Device) {
    this.server = server;
    this.wall = wall;
    this.chair = chair;
    this.pocket = pocket;
  }

  static async open(browser: Browser, rules: Rules = relaxer()): Promise<Floor> {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, rules);
    const wall = await Device.open(browser, server, '/wall', { errorMs: 10 * MINUTE, width: 1920, height: 1080 });
    const chair = await Device.open(browser, server, '/chair/2', { errorMs: 3 * MINUTE });
    const pocket = await Device.open(browser, server, '/pocket', { errorMs: -10 * MINUTE, width: 390, height: 844 });
    const floor = new Floor(server, wall, chair, pocket);
    await floor.settle();
    return floor;
  }

  get all(): readonly Device[] {
    return [this.wall, this.chair, this.pocket];
  }

  settle(): Promise<void> {
    return lookAgain(this.server, this.all);
  }

  pass(ms: number): Promise<void> {
    return passTime(this.server, this.all, ms);
  }

  /** Touches a button at the chair; a second passes first, as between two touches of a hand. */
  async touch(device: Device, name: string | RegExp): Promise<void> {
    await this.pass(SECOND);
    await device.page.getByRole('button', { name }).first().click();
  }

  /** The stage as the chair names it, once everybody has been told. */
  async stage(name: string): Promise<void> {
    await expect(this.chair.page.locator('[data-stage]').first()).toHaveAttribute('data-stage', name);
    await this.settle();
  }

  /** What the three screens show as chair 2's number, '' for none. */
  async figures(): Promise<string[]> {
    const at = [
      this.wall.page.locator('[data-chair="2"] .number .figure'),
      this.chair.page.locator('.reading .number .figure'),
      this.pocket.page.locator('[data-chair="2"] .figure').first(),
    ];
    return Promise.all(
      at.map(async (figure) => ((await figure.count()) === 0 ? '' : ((await figure.textContent()) ?? '').trim())),
    );
  }

  async expectFigure(text: string): Promise<void> {
    expect(await this.figures()).toEqual([text, text, text]);
  }

  /**
   * Three screens, one figure, to the second: from so many seconds left down to `until`. Every second near both ends,
   * every 23rd between, so that each digit is seen to change.
   */
  async countDown(from: number, until = 0): Promise<void> {
    let left = from;
    while (left > until) {
      const near = from - left < 5 || left - until <= 6;
      const goes = near ? 1 : Math.min(23, left - until - 6);
      left -= goes;
      await this.pass(goes * SECOND);
      const text = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, '0')}`;
      if (left > 0) await this.expectFigure(text);
    }
  }

  async close(): Promise<void> {
    await Promise.all(this.all.map((device) => device.close()));
    await this.server.stop();
  }
}
