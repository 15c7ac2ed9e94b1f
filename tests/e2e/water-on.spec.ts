import { expect, test, type Browser } from '@playwright/test';
import { SECOND } from '../../core/time.ts';
import type { VisitFacts } from '../../core/visit/visit.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

let server: ServerProcess;

test.beforeEach(async () => {
  server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer(), 4);
});

test.afterEach(() => server.stop());

async function at(browser: Browser, chair: number): Promise<Device> {
  const device = await Device.open(browser, server, `/chair/${chair}`);
  await lookAgain(server, [device]);
  return device;
}

async function touch(device: Device, name: string | RegExp): Promise<void> {
  await passTime(server, [device], SECOND);
  await device.page.getByRole('button', { name }).first().click();
}

/** The visit at a chair once it has come to a stage. */
async function visitAt(device: Device, chair: number, stage: string): Promise<VisitFacts> {
  await expect(device.page.locator('[data-stage]').first()).toHaveAttribute('data-stage', stage);
  const { entities } = await server.floor();
  const here = Object.values(entities).flatMap((one) =>
    one.kind === 'visit' && one.facts.chair === chair ? [one.facts] : [],
  );
  expect(here).toHaveLength(1);
  return here[0] as VisitFacts;
}

test('[S9] three gloved touches make an honest visit: begin, water on, clear and off', async ({ browser }) => {
  const device = await at(browser, 1);
  await touch(device, /^Begin: Straightening/);
  await visitAt(device, 1, 'apply');
  await touch(device, /^Water on/);
  await visitAt(device, 1, 'rinse');
  await touch(device, 'Clear and off');
  const visit = await visitAt(device, 1, 'neutralize');
  expect(visit.passes[0]).toMatchObject({ beginUnknown: false });
  expect(visit.passes[0]?.clear).not.toBeNull();
  // What the three touches leave out is owed, never claimed.
  expect(visit.owed.map(({ item, stage }) => `${item} ${stage}`)).toEqual(['not-marked process', 'rinse-short rinse']);
  await device.close();
});

test('[S2] water on in one touch from prep, where the begin is then unknown', async ({ browser }) => {
  await server.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: null, label: null });
  const device = await at(browser, 2);
  await visitAt(device, 2, 'prep');
  await touch(device, /^Water on/);
  const visit = await visitAt(device, 2, 'rinse');
  expect(visit.passes[0]).toMatchObject({ beginUnknown: true, begun: null });
  expect(visit.owed.map(({ item }) => item)).toContain('begin-unknown');
  await device.close();
});

test('[S2] water on in one touch at an empty chair', async ({ browser }) => {
  const device = await at(browser, 3);
  await touch(device, /^Water on/);
  const visit = await visitAt(device, 3, 'rinse');
  expect(visit.passes[0]).toMatchObject({ beginUnknown: true, rules: null });
  expect(visit.owed.map(({ item }) => item)).toEqual(['begin-unknown', 'product-unknown']);
  await device.close();
});

test('[S7] water on twice by two people: the second is told who was first, and water is on once', async ({
  browser,
}) => {
  const visit = await server.do({ type: 'BeginApplication', chair: 4, visit: null, service: null });
  const ama = await at(browser, 4);
  const joss = await at(browser, 4);
  await passTime(server, [ama, joss], SECOND);
  // Joss's line is slow: what Ama does is not on his screen when he touches.
  const held: (() => void)[] = [];
  await joss.page.route('**/api/v1/commands', async (route) => {
    await new Promise<void>((resolve) => held.push(resolve));
    await route.continue();
  });
  await joss.page
    .getByRole('button', { name: /^Water on/ })
    .first()
    .click();
  await expect.poll(() => held.length).toBe(1);
  await ama.page
    .getByRole('button', { name: /^Water on/ })
    .first()
    .click();
  await visitAt(ama, 4, 'rinse');
  held.forEach((go) => go());
  await expect(joss.page.getByText(/already/i)).toBeVisible();
  expect((await server.facts(visit)).way.filter((mark) => mark.stage === 'rinse')).toHaveLength(1);
  await ama.close();
  await joss.close();
});
