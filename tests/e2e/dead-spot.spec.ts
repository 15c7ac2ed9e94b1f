import { expect, test, type Browser } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import type { VisitEvent } from '../../core/visit/events.ts';
import type { VisitRecord } from '../../shared/wire.ts';
import { BlackHole } from '../support/black-hole.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, passTime } from './devices.ts';

const VISIT = 'visit-0002';

/** A phone that reaches the server through a network which can swallow everything. */
class DeadSpot {
  readonly server: ServerProcess;
  readonly hole: BlackHole;
  readonly phone: Device;
  readonly begunAt: number;

  private constructor(server: ServerProcess, hole: BlackHole, phone: Device, begunAt: number) {
    this.server = server;
    this.hole = hole;
    this.phone = phone;
    this.begunAt = begunAt;
  }

  /** Ama's phone; begun at chair 2, by her. */
  static async open(browser: Browser): Promise<DeadSpot> {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer(), 3);
    const ama = { id: VISIT, by: 'person-ama' };
    await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, ama);
    const begunAt = (await server.facts(VISIT)).passes[0]?.begun?.at ?? 0;
    const hole = await BlackHole.open(() => server.address);
    const through = { address: hole.address, clock: server.clock } as ServerProcess;
    const phone = await Device.open(browser, through, '/pocket', {
      width: 390,
      height: 844,
      errorMs: -10 * MINUTE,
      serviceWorkers: 'allow',
    });
    const spot = new DeadSpot(server, hole, phone, begunAt);
    await passTime(server, [phone], SECOND);
    await phone.page.getByRole('button', { name: 'Ama' }).click();
    await spot.online('Yes');
    return spot;
  }

  async online(name: string | RegExp): Promise<void> {
    await passTime(this.server, [this.phone], SECOND);
    await this.#click(name);
  }

  /** Time goes on to so many minutes after first touch, unseen by the server's screens; then a finger, a second later. */
  async touchAt(minutes: number, name: string | RegExp): Promise<void> {
    await this.goOn(this.begunAt + minutes * MINUTE - SECOND);
    await this.goOn(this.begunAt + minutes * MINUTE);
    await this.#click(name);
  }

  async goOn(to: number): Promise<void> {
    const { now } = await this.server.turn();
    this.server.clock.pass(to - now);
    await this.server.turn();
    await this.phone.look();
  }

  /** The phone's clocks go on where the page that is gone left them. */
  async openAnew(): Promise<void> {
    const { page } = this.phone;
    await page.addInitScript((hand) => Object.assign(window.hand, hand), await page.evaluate(() => window.hand));
    await page.goto(`${this.hole.address}/pocket`);
  }

  /** What the phone's hands did, in the order of the log: what, and how many minutes after first touch. */
  async told(): Promise<readonly (readonly [VisitEvent['type'], number])[]> {
    const record = await fetch(`${this.server.address}/api/v1/visits/${VISIT}`);
    const { events } = (await record.json()) as VisitRecord;
    const mine = events.filter(({ device, event }) => device !== null && event.type !== 'BellTaken');
    return mine.map(({ event, at }) => [event.type, (at - this.begunAt) / MINUTE] as const);
  }

  async close(): Promise<void> {
    await this.phone.close();
    await this.hole.close();
    await this.server.stop();
  }

  async #click(name: string | RegExp): Promise<void> {
    await this.phone.page.getByRole('button', { name }).first().click();
  }
}

const five = [
  ['PartMarkedDone', 4],
  ['PartMarkedDone', 8],
  ['PartMarkedDone', 11],
  ['PartMarkedDone', 14],
  ['RinseBegun', 20],
] as const;

for (const way of ['the network delivers late what it swallowed', 'the network forgets what it swallowed'] as const) {
  test(`[X3] five touches in a dead spot of 20 minutes arrive in order, with their times, none twice: ${way}`, async ({
    browser,
  }) => {
    test.setTimeout(180_000);
    const spot = await DeadSpot.open(browser);
    const { page } = spot.phone;
    await spot.online('Open chair 2');
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => true));
    spot.hole.swallow();
    await spot.touchAt(4, /^Part 1 done/);
    await spot.touchAt(8, /^Part 2 done/);
    // The phone's battery dies and it is opened anew where nothing can be reached.
    await spot.openAnew();
    await spot.goOn(spot.begunAt + 9 * MINUTE);
    await spot.touchAt(10, 'Open chair 2');
    await spot.touchAt(11, /^Part 3 done/);
    await spot.touchAt(14, /^Part 4 done/);
    await expect(page.getByText(/4 touches since .* are not through yet/)).toBeVisible();
    await page.screenshot({ path: 'reports/pictures/dead-spot.png' });
    await spot.touchAt(20, /^Water on/);
    if (way === 'the network forgets what it swallowed') spot.hole.cut();
    spot.hole.release();
    await expect.poll(async () => (await spot.told()).length).toBe(five.length);
    await passTime(spot.server, [spot.phone], SECOND);
    await expect(page.getByText(/not through yet/)).toHaveCount(0);
    await passTime(spot.server, [spot.phone], 30 * SECOND);
    const told = await spot.told();
    expect(told.map(([type]) => type)).toEqual(five.map(([type]) => type));
    for (const [i, [, minutes]] of told.entries()) {
      // A page opened without the server knows the time by the phone's own clock, to within a second.
      expect(Math.abs(minutes - (five[i]?.[1] ?? 0)) * 60).toBeLessThan(1.5);
    }
    await spot.close();
  });
}

test('[X3] what no longer fits, since somebody else finished the head meanwhile, is shown as such', async ({
  browser,
}) => {
  test.setTimeout(180_000);
  const spot = await DeadSpot.open(browser);
  const { page } = spot.phone;
  await spot.online('Open chair 2');
  spot.hole.swallow();
  await spot.touchAt(5, /^Part 1 done/);
  await spot.goOn(spot.begunAt + 9 * MINUTE);
  const joss = { by: 'person-joss', seen: 9 };
  await spot.server.do({ type: 'BeginRinse', chair: 2, visit: VISIT, basin: 91 }, joss);
  await spot.goOn(spot.begunAt + 18 * MINUTE);
  await spot.server.do({ type: 'ClearAndOff', visit: VISIT }, joss);
  await spot.server.do({ type: 'MoveOn', visit: VISIT, to: 'finished' }, joss);
  spot.hole.release();
  await passTime(spot.server, [spot.phone], SECOND);
  await expect(page.getByText(/“Part 1 done” .* came in too late to count/)).toBeVisible();
  await page.screenshot({ path: 'reports/pictures/dead-spot-too-late.png' });
  await spot.online('All heads');
  await spot.online(/1 touch did not count/);
  await expect(page.getByText('Came in too late to count. Nothing was changed.')).toBeVisible();
  await spot.online('Understood');
  await expect(page.getByText(/Nothing waits here/)).toBeVisible();
  expect((await spot.told()).filter(([type]) => type === 'PartMarkedDone')).toEqual([]);
  await spot.close();
});
