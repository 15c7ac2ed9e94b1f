import { expect, test, type Browser } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

/**
 * One visit on three screens, with the times of common practice (no published source): whole head in 15 minutes, 10 to 15
 * after that, two neutralizing shampoos, conditioner, drying. The device clocks are wrong by ten minutes, two ways.
 */
class Floor {
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

  static async open(browser: Browser): Promise<Floor> {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer());
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

test('[V1] one visit through all seven stages shows the same figure on wall, chair and pocket, and the phone is rung in time', async ({
  browser,
}) => {
  test.setTimeout(300_000);
  const floor = await Floor.open(browser);
  const { chair, pocket, wall } = floor;

  // Whoever picks a name on the phone is rung; that touch unlocks sound and takes the test on the real path.
  await pocket.page.getByRole('button', { name: 'Ama' }).click();
  await expect.poll(() => pocket.pulses()).toBeGreaterThan(0);
  await floor.touch(pocket, 'Yes');

  await floor.touch(chair, 'Seat a client');
  await chair.page.getByRole('textbox').fill('B.');
  await floor.touch(chair, 'Straightening');
  await floor.touch(chair, 'Seated');
  await floor.stage('prep');
  await floor.expectFigure('');

  await floor.touch(chair, /^Begin/);
  await floor.stage('apply');
  // Begin: ceiling 30 − at least 10 − reserve 2 leaves 18 minutes to finish (P3).
  await floor.expectFigure('18 min');
  await floor.pass(12 * MINUTE);
  await floor.expectFigure('6 min');
  await floor.pass(59 * SECOND);
  await floor.expectFigure('6 min');
  for (const left of ['5:00', '4:59', '4:58', '4:57']) {
    await floor.pass(SECOND);
    await floor.expectFigure(left);
  }
  // 13:03 on hair; the whole head at 15:00.
  await floor.pass(MINUTE + 56 * SECOND);
  await floor.touch(chair, 'All of it is on');
  await floor.stage('process');
  await floor.expectFigure('10 min');

  // 22:00: three minutes before the window opens.
  await floor.pass(7 * MINUTE);
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'NOTICE');
  await floor.countDown(180);
  // 25:00: the window is open, five minutes to its close.
  await floor.expectFigure('5:00');
  await floor.countDown(300, 181);

  // 26:59 to 27:00: the bell to the basin, at its instant and not a second before (R2).
  const before = await pocket.pulses();
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toHaveCount(0);
  await floor.pass(SECOND);
  await floor.expectFigure('3:00');
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'WARNING');
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toBeVisible();
  await expect.poll(() => pocket.pulses()).toBeGreaterThan(before);

  await floor.touch(pocket, /I’ll go to 2/);
  await expect(wall.page.locator('[data-chair="2"] .who')).toContainText('Ama');
  await floor.settle();
  // Within the 90 s for which a bell taken stays quiet (R3).
  await floor.countDown(179, 120);
  await floor.touch(pocket, /Water on at A/);
  await floor.stage('rinse');
  await floor.expectFigure('5:00');
  await floor.countDown(300, 290);
  await floor.pass(290 * SECOND);
  await floor.expectFigure('');

  await floor.touch(chair, 'Clear and off');
  await floor.stage('neutralize');
  await floor.expectFigure('2:00');
  await floor.countDown(120, 110);
  await floor.pass(110 * SECOND);
  await floor.expectFigure('');
  await floor.touch(chair, /Shampoo 1 of 2.*coloured/);
  await floor.stage('neutralize');
  await floor.expectFigure('2:00');
  await floor.pass(2 * MINUTE);
  await floor.touch(chair, /Shampoo 2 of 2.*colourless/);
  await floor.stage('neutralize');
  await floor.touch(chair, 'Conditioner is on');
  await floor.stage('condition');
  await floor.expectFigure('3:00');
  await floor.pass(3 * MINUTE);
  await floor.expectFigure('');
  await floor.touch(chair, 'On to drying');
  await floor.stage('dry');
  await floor.expectFigure('');
  await floor.pass(20 * MINUTE);
  await floor.touch(chair, /Finished/);
  await floor.stage('free');

  const floorNow = await floor.server.floor();
  const visits = Object.values(floorNow.entities).filter((entity) => entity.kind === 'visit');
  expect(visits).toHaveLength(1);
  expect(visits[0]?.kind === 'visit' ? visits[0].facts : null).toMatchObject({ end: 'done', owed: [], bells: [] });
  await floor.close();
});
