import { expect, test, type CDPSession, type Page } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { PushService, type Subscribed } from '../support/push-service.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, passTime } from './devices.ts';

/*
 * Headless browsers have no push service behind them, so `pushManager.subscribe` fails there: the subscription is a stub, made by a
 * push service on this machine that checks and opens what the server sends. From there on all is real: the DevTools protocol
 * hands the message to the page's own worker, whose notification and receipt are looked at. Not tried here: a real push service,
 * a locked phone, and any browser but Chromium.
 */

const AMA = 'person-ama';
const DEVICE = 'device-of-ama';

/** The worker of a page, to hand pushes to. */
class Worker {
  readonly #session: CDPSession;
  readonly #origin: string;
  readonly #registration: string;

  private constructor(session: CDPSession, origin: string, registration: string) {
    this.#session = session;
    this.#origin = origin;
    this.#registration = registration;
  }

  static async of(page: Page): Promise<Worker> {
    // Ready is also one that is still becoming active, and takes no push yet.
    await page.evaluate(async () => {
      const { active } = await navigator.serviceWorker.ready;
      if (active === null || active.state === 'activated') return;
      await new Promise((resolve) => active.addEventListener('statechange', resolve));
    });
    const session = await page.context().newCDPSession(page);
    const found = new Promise<string>((resolve) => {
      session.on('ServiceWorker.workerRegistrationUpdated', ({ registrations }) => {
        const [one] = registrations;
        if (one !== undefined) resolve(one.registrationId);
      });
    });
    await session.send('ServiceWorker.enable');
    return new Worker(session, new URL(page.url()).origin, await found);
  }

  async push(data: string): Promise<void> {
    const message = { origin: this.#origin, registrationId: this.#registration, data };
    await this.#session.send('ServiceWorker.deliverPushMessage', message);
  }
}

interface Life {
  readonly server: ServerProcess;
  readonly service: PushService;
  readonly pocket: Device;
  readonly worker: Worker;
  readonly phone: Subscribed;
  readonly visit: string;
}

/** Her head at chair 2, in process since just now. */
async function processing(server: ServerProcess): Promise<string> {
  const visit = await server.do({
    type: 'SeatVisit',
    chair: 2,
    service: 'service-1',
    stylist: AMA,
    label: 'Mrs Example',
  });
  await server.do({ type: 'BeginApplication', chair: 2, visit, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  return visit;
}

/** Ama's phone shows the pocket page; with `work` she has a head in process. */
async function opened(browser: Parameters<typeof Device.open>[0], work = true): Promise<Life> {
  const service = await PushService.start();
  const server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer(), 2);
  await server.do({ type: 'SetPush', on: true, contact: 'mailto:owner@salon.example' });
  await server.do({ type: 'BeginShift', person: AMA });
  const visit = work ? await processing(server) : '';
  const pocket = await Device.open(browser, server, '/pocket', { width: 390, height: 844, serviceWorkers: 'allow' });
  await pocket.context.grantPermissions(['notifications'], { origin: server.address });
  const worker = await Worker.of(pocket.page);
  const phone = service.subscribe();
  const put = { person: AMA, endpoint: phone.endpoint, keys: phone.keys };
  const status = await pocket.page.evaluate(
    async ([path, body]) => {
      const headers = { 'content-type': 'application/json' };
      return (await fetch(path ?? '', { method: 'PUT', headers, body: body ?? '' })).status;
    },
    [`/api/v1/push/subscriptions/${DEVICE}`, JSON.stringify(put)],
  );
  expect(status).toBe(200);
  return { server, service, pocket, worker, phone, visit };
}

async function closed({ server, service, pocket }: Life): Promise<void> {
  await pocket.close();
  await server.stop();
  await service.close();
}

/** What the phone shows now. */
const notices = (page: Page) =>
  page.evaluate(async () => {
    const shown = await (await navigator.serviceWorker.ready).getNotifications();
    return shown.map(({ title, body, tag, silent, data }) => ({ title, body, tag, silent, data: data as unknown }));
  });

/** The message of that title, once it has reached the phone's push service. */
async function sent({ service, phone }: Life, title: string): Promise<string> {
  const found = () => service.of(phone).find(({ message }) => message.notification.title === title);
  await service.until(() => found() !== undefined);
  return JSON.stringify(found()?.message);
}

test('[R7] a bell goes by push to a phone that does not ring, which shows it and says so; its end is seen', async ({
  browser,
}) => {
  const life = await opened(browser);
  const { server, pocket, worker, visit } = life;
  server.clock.pass(12 * MINUTE);
  await server.turn();
  const bell = await sent(life, '2: rinse now');
  expect((await server.facts(visit)).bells[0]).toMatchObject({ kind: 'rinse', shown: [] });
  await worker.push(bell);
  await expect.poll(() => notices(pocket.page)).toMatchObject([{ title: '2: rinse now', silent: false }]);
  const [shown] = await notices(pocket.page);
  expect(shown?.body).toMatch(/^Warning · off by \d\d:\d\d$/);
  await expect.poll(async () => (await server.facts(visit)).bells[0]?.shown).toMatchObject([{ person: AMA }]);
  await server.do({ type: 'BeginRinse', chair: 2, visit, basin: 91 });
  await worker.push(await sent(life, '2: no longer needed'));
  // In its place: nothing else is left of it.
  await expect
    .poll(() => notices(pocket.page))
    .toMatchObject([{ title: '2: no longer needed', tag: shown?.tag, silent: true }]);
  expect(life.service.faults).toEqual([]);
  await closed(life);
});

test('[R7] a test confirms the phone, a push that cannot be read is shown, a repeated one counts once', async ({
  browser,
}) => {
  const life = await opened(browser);
  const { server, pocket, worker } = life;
  const told = async (): Promise<{ readonly confirmedAt: number | null }> =>
    (await (await fetch(`${server.address}/api/v1/push/subscriptions/${DEVICE}`)).json()) as never;
  expect(await told()).toMatchObject({ person: AMA, confirmedAt: null });
  await fetch(`${server.address}/api/v1/push/test`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ device: DEVICE }),
  });
  const message = await sent(life, 'Test of this phone');
  expect(await told()).toMatchObject({ confirmedAt: null });
  await worker.push(message);
  await expect.poll(async () => (await told()).confirmedAt).not.toBeNull();
  const { confirmedAt } = await told();
  await worker.push(message);
  await worker.push('noise');
  await expect
    .poll(async () => (await notices(pocket.page)).map(({ title }) => title).sort())
    .toEqual(['Basinbell', 'Test of this phone']);
  expect(await told()).toMatchObject({ confirmedAt });
  await closed(life);
});

/** In the place of what needs a push service of the browser's maker: keeps one subscription, and says what it was made with. */
function stubSubscriptions({ endpoint, keys }: Pick<Subscribed, 'endpoint' | 'keys'>): void {
  let current: object | null = null;
  Object.assign(PushManager.prototype, {
    getSubscription: async () => current,
    subscribe: async ({ applicationServerKey }: { applicationServerKey: Uint8Array<ArrayBuffer> }) => {
      current = {
        endpoint,
        options: { applicationServerKey: applicationServerKey.slice().buffer },
        toJSON: () => ({ keys }),
        unsubscribe: async () => {
          current = null;
          return true;
        },
      };
      return current;
    },
  });
}

test('[R7] turned on and tried by touch: the phone says so once its own receipt has come back', async ({ browser }) => {
  const life = await opened(browser, false);
  const { pocket, server, service } = life;
  const { page } = pocket;
  const own = service.subscribe();
  await page.addInitScript(stubSubscriptions, { endpoint: own.endpoint, keys: own.keys });
  await page.reload();
  /** A second passes first, as between two touches of a hand. */
  const touch = async (name: string | RegExp): Promise<void> => {
    await passTime(server, [pocket], SECOND);
    await page.getByRole('button', { name }).first().click();
  };
  await touch('Ama');
  await expect(page.getByText('Did you hear it?')).toBeVisible();
  await touch('Yes');
  await touch(/ring (now|while)/);
  await touch('Turn push on for this phone');
  await expect(page.getByText(/Push is set up\. No test has come back/)).toBeVisible();
  await touch('Send a test push');
  await expect(page.getByText('Push: a test is on its way')).toBeVisible();
  await life.worker.push(await sent({ ...life, phone: own }, 'Test of this phone'));
  await expect(page.getByText('Push: a test was shown on this phone')).toBeVisible();
  await touch('Turn push off');
  await expect(page.getByRole('button', { name: 'Turn push on for this phone' })).toBeVisible();
  const device = await page.evaluate(() => localStorage.getItem('basinbell.device'));
  expect((await fetch(`${server.address}/api/v1/push/subscriptions/${device}`)).status).toBe(404);
  await closed(life);
});
