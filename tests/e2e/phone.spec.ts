import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Browser } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { PushService, type Subscribed } from '../support/push-service.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, passTime } from './devices.ts';

const VISIT = 'visit-0001';

/** Ama's head at 2, Joss and Kit beside: two phones, and commands as a tablet would send them. */
class Two {
  readonly server: ServerProcess;
  readonly ama: Device;
  readonly joss: Device;

  constructor(server: ServerProcess, ama: Device, joss: Device) {
    this.server = server;
    this.ama = ama;
    this.joss = joss;
  }

  static async open(browser: Browser): Promise<Two> {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer());
    const phone = () => Device.open(browser, server, '/pocket', { width: 390, height: 844 });
    const two = new Two(server, await phone(), await phone());
    for (const [device, name] of [
      [two.ama, 'Ama'],
      [two.joss, 'Joss'],
    ] as const) {
      await two.touch(device, name);
      await expect.poll(() => device.pulses()).toBeGreaterThan(0);
      await two.touch(device, 'Yes');
    }
    await two.pass(SECOND);
    return two;
  }

  pass(ms: number): Promise<void> {
    return passTime(this.server, [this.ama, this.joss], ms);
  }

  async touch(device: Device, name: string | RegExp): Promise<void> {
    await this.pass(SECOND);
    await device.page.getByRole('button', { name }).first().click();
  }

  /** A head of Ama's that nobody has touched for minutes, with so much time left before its close. */
  async head(leftMs: number): Promise<void> {
    await this.server.do(
      { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: null },
      { id: VISIT },
    );
    await this.server.do({ type: 'BeginApplication', chair: 2, visit: VISIT, service: null });
    await this.pass(15 * MINUTE);
    await this.server.do({ type: 'FinishApplication', visit: VISIT });
    await this.pass(15 * MINUTE - leftMs);
  }

  async close(): Promise<void> {
    await this.ama.close();
    await this.joss.close();
    await this.server.stop();
  }
}

/** In the place of a push service of a browser's maker, which a headless browser does not have. */
function stubSubscriptions({ endpoint, keys }: Pick<Subscribed, 'endpoint' | 'keys'>): void {
  let current: object | null = null;
  Object.assign(PushManager.prototype, {
    getSubscription: async () => current,
    subscribe: async ({ applicationServerKey }: { applicationServerKey: Uint8Array<ArrayBuffer> }) =>
      (current = {
        endpoint,
        options: { applicationServerKey: applicationServerKey.slice().buffer },
        toJSON: () => ({ keys }),
        unsubscribe: async () => {
          current = null;
          return true;
        },
      }),
  });
}

const button = (device: Device, name: string | RegExp) => device.page.getByRole('button', { name });
const text = (device: Device, words: string | RegExp) => device.page.getByText(words).first();

test('[R6] one touch begins the shift and rings a test; the panel tells how the salon sees it, and where it does not ring', async ({
  browser,
}) => {
  const two = await Two.open(browser);
  const { ama } = two;
  const people = (await two.server.floor()).entities['person/person-ama'];
  expect(people?.kind === 'person' ? people.facts.shift : null).not.toBeNull();
  await two.touch(ama, /Can ring while this page is open/);
  await expect(ama.page.locator('[data-line="sound"]')).toHaveClass(/yes/);
  await expect(ama.page.locator('[data-line="seen-as"]')).toContainText('rings');
  await expect(text(ama, 'Push is off in this salon')).toBeVisible();
  await two.touch(ama, 'Close');

  await two.touch(ama, 'Ama: shift, away, quiet');
  await button(ama, /End my shift/).focus();
  await ama.page.keyboard.down('Enter');
  await expect(text(ama, 'You are not on shift')).toBeVisible();
  await ama.page.keyboard.up('Enter');
  await expect(text(ama, 'Cannot ring now')).toBeVisible();
  await two.head(2 * MINUTE);
  await two.pass(SECOND);
  await expect(button(ama, /I’ll go to 2/)).toHaveCount(0);
  await expect(button(two.joss, /I’ll go to 2/)).toBeVisible();
  await two.touch(ama, 'Begin my shift');
  await expect(button(ama, /I’ll go to 2/)).toBeVisible();
  await two.close();
});

test('[R3] "can’t" passes a bell on at once, and says so where it goes; folded away it rings on in a line', async ({
  browser,
}) => {
  const two = await Two.open(browser);
  const { ama, joss } = two;
  await two.head(2.9 * MINUTE);
  await expect(button(ama, /I’ll go to 2/)).toBeVisible();
  await expect(button(joss, /I’ll go to 2/)).toBeVisible();
  await expect(text(joss, 'You are the one free pair of hands')).toBeVisible();

  await two.touch(ama, 'Open head');
  await two.touch(ama, 'All heads');
  await expect(text(ama, /rings on/)).toBeVisible();
  await two.touch(ama, /^Show: 2/);
  await two.touch(ama, 'Can’t, pass on');
  await expect(button(ama, /I’ll go to 2/)).toHaveCount(0);
  await two.touch(joss, /I’ll go to 2/);
  await expect(text(joss, 'You are going')).toBeVisible();
  await two.touch(joss, /Water on at A/);
  await expect.poll(async () => (await two.server.facts(VISIT)).stage).toBe('rinse');
  await two.close();
});

test('[R2] [R6] a head handed over is accepted on the other phone; away names a cover, who sees the head as theirs', async ({
  browser,
}) => {
  const two = await Two.open(browser);
  const { ama, joss } = two;
  await two.head(10 * MINUTE);
  await two.touch(ama, 'Open chair 2');
  await two.touch(ama, 'Hand over');
  await two.touch(ama, 'Joss');
  await expect(text(joss, 'Ama hands 2 over to you')).toBeVisible();
  await expect(text(ama, /Offered to Joss, not accepted yet/)).toBeVisible();
  await two.touch(joss, 'I take 2');
  await expect(text(ama, 'Joss has taken 2')).toBeVisible();
  expect((await two.server.facts(VISIT)).stylist).toBe('person-joss');

  await two.touch(joss, 'Joss: shift, away, quiet');
  await two.touch(joss, 'Ama');
  await two.touch(joss, 'Away for 10 minutes');
  await expect(text(joss, 'I am back')).toBeVisible();
  await two.touch(ama, 'All heads');
  await expect(text(ama, /You cover for Joss until/)).toBeVisible();
  await two.pass(7.5 * MINUTE);
  await expect(button(ama, /I’ll go to 2/)).toBeVisible();
  await expect(text(ama, 'You cover for Joss')).toBeVisible();
  await expect(button(joss, /I’ll go to 2/)).toHaveCount(0);
  await two.touch(joss, 'I am back');
  await expect(button(joss, /I’ll go to 2/)).toBeVisible();
  await two.close();
});

test('[R4] quiet for a minute hides nothing, shows its seconds on every page, and ends by a touch', async ({
  browser,
}) => {
  const two = await Two.open(browser);
  const { ama } = two;
  await two.head(2.9 * MINUTE);
  await two.touch(ama, 'Quiet here for 1 min');
  await expect(button(ama, /I’ll go to 2/)).toBeVisible();
  await expect(text(ama, /Quiet here for \d\d s/)).toBeVisible();
  await two.pass(SECOND);
  const before = await ama.pulses();
  await two.pass(20 * SECOND);
  expect(await ama.pulses()).toBe(before);
  await expect(text(ama, /Quiet here for \d\d s/)).toBeVisible();
  await two.touch(ama, 'Open head');
  await expect(text(ama, /Quiet here for \d\d s/)).toBeVisible();
  await two.touch(ama, 'Ring again');
  await expect(text(ama, /Quiet here for \d\d s/)).toHaveCount(0);
  await expect.poll(() => ama.pulses()).toBeGreaterThan(before);
  await two.close();
});

test('[S6] what tingles is answered on the phone; help at a chair ends by whoever is here', async ({ browser }) => {
  const two = await Two.open(browser);
  const { ama, joss } = two;
  await two.head(10 * MINUTE);
  await two.server.do({ type: 'ReportTingles', visit: VISIT });
  await two.pass(0);
  await expect(text(ama, 'look at the scalp')).toBeVisible();
  await expect(text(ama, 'A relaxer that burns comes off: water on.')).toBeVisible();
  const { violations } = await new AxeBuilder({ page: ama.page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  expect(violations.map(({ id }) => id)).toEqual([]);
  await two.touch(ama, 'It eased');
  await expect.poll(async () => (await two.server.facts(VISIT)).tingles?.answered?.answer).toBe('eased');

  await two.server.do({ type: 'AskHelp', chair: 5 }, { by: 'person-ama' });
  await two.pass(0);
  await two.touch(joss, /I’ll go to 5/);
  await two.touch(joss, 'I am here');
  await expect(button(joss, 'I am here')).toHaveCount(0);
  const place = (await two.server.floor()).entities['place/5'];
  expect(place?.kind === 'place' ? place.facts.help : 'none').toBeNull();
  await two.close();
});

test('[R7] pushes are turned on by whoever holds the phone, and off as it changes hands; the shift goes on until it is ended', async ({
  browser,
}) => {
  const service = await PushService.start();
  const server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer());
  await server.do({ type: 'SetPush', on: true, contact: 'mailto:owner@salon.example' });
  const own = service.subscribe();
  const phone = await Device.open(browser, server, '/', { width: 390, height: 844, serviceWorkers: 'allow' });
  await phone.context.grantPermissions(['notifications'], { origin: server.address });
  await phone.page.addInitScript(stubSubscriptions, { endpoint: own.endpoint, keys: own.keys });
  await phone.page.goto(`${server.address}/pocket`);
  const touch = async (name: string | RegExp): Promise<void> => {
    await passTime(server, [phone], SECOND);
    await phone.page.getByRole('button', { name }).first().click();
  };
  await touch('Ama');
  await touch('Yes');
  await touch(/Can ring while this page is open/);
  await expect(text(phone, 'Push is not turned on for this phone')).toBeVisible();
  await touch('Turn push on for this phone');
  await expect(text(phone, /Push is set up. No test has come back/)).toBeVisible();
  const device = await phone.page.evaluate(() => localStorage.getItem('basinbell.device') ?? '');
  const kept = () => fetch(`${server.address}/api/v1/push/subscriptions/${device}`);
  expect((await kept()).status).toBe(200);
  await touch('Close');
  await touch('Not you?');
  await expect.poll(async () => (await kept()).status).toBe(404);
  await expect(text(phone, /Ama is still on shift/)).toBeVisible();
  const shift = async () => {
    const person = (await server.floor()).entities['person/person-ama'];
    return person?.kind === 'person' ? person.facts.shift : 'unknown';
  };
  expect(await shift()).not.toBeNull();
  await button(phone, /End the shift of Ama/).focus();
  await phone.page.keyboard.down('Enter');
  await expect.poll(shift).toBeNull();
  await phone.page.keyboard.up('Enter');
  await phone.close();
  await server.stop();
  await service.close();
});
