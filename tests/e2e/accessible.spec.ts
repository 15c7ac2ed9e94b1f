import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { MINUTE } from '../../core/time.ts';
import { perm, relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

let server: ServerProcess;

test.beforeAll(async () => {
  server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer());
  await server.do(
    { type: 'WriteDirections', directions: null, name: 'Wave', source: 'invented for tests', rules: perm() },
    { id: 'directions-2' },
  );
  await server.do(
    { type: 'WriteService', service: null, name: 'Perm', passes: ['directions-2'], limits: [] },
    { id: 'service-2' },
  );
  await everyStage();
});

test.afterAll(() => server.stop());

/** Chairs 1 to 8: prep, apply, over, rinsing, shampoos, a neutralizer, drying, burns in the eye. */
async function everyStage(): Promise<void> {
  const begin = (chair: number, service: string | null = null) =>
    server.do({ type: 'BeginApplication', chair, visit: null, service });
  const over = await begin(3);
  const [rinsing, shampoos, neutralizer, drying] = [
    await begin(4),
    await begin(5),
    await begin(6, 'service-2'),
    await begin(7),
  ];
  server.clock.pass(15 * MINUTE);
  for (const visit of [over, rinsing, shampoos, neutralizer, drying])
    await server.do({ type: 'FinishApplication', visit });
  server.clock.pass(11 * MINUTE);
  for (const [chair, visit] of [
    [5, shampoos],
    [6, neutralizer],
    [7, drying],
  ] as const) {
    await server.do({ type: 'BeginRinse', chair, visit, basin: 91 });
    await server.do({ type: 'ClearAndOff', visit });
  }
  await server.do({ type: 'PutNeutralizerOn', visit: neutralizer });
  await server.do({ type: 'MoveOn', visit: drying, to: 'dry' });
  server.clock.pass(4 * MINUTE);
  await server.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: 'B.' });
  await begin(2);
  await server.do({ type: 'BeginRinse', chair: 4, visit: rinsing, basin: 92 });
  await server.do({ type: 'ReportBurns', chair: 8, visit: null, place: 'eye' });
  server.clock.pass(MINUTE);
}

async function faults(device: Device): Promise<string[]> {
  const { violations } = await new AxeBuilder({ page: device.page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'])
    .analyze();
  return violations.flatMap(({ id, nodes }) => nodes.map((node) => `${id}: ${node.html.slice(0, 160)}`));
}

/** How many buttons a gloved hand would miss. */
function small(device: Device): Promise<number> {
  return device.page
    .locator('button:visible')
    .evaluateAll(
      (all) => all.map((one) => one.getBoundingClientRect()).filter((box) => box.width < 64 || box.height < 64).length,
    );
}

for (const colorScheme of ['light', 'dark'] as const) {
  test(`the wall, every stage and level at once, ${colorScheme}`, async ({ browser }) => {
    const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080, colorScheme });
    await lookAgain(server, [wall]);
    expect(await faults(wall)).toEqual([]);
    await wall.close();
  });

  test(`at the chair in every stage, ${colorScheme}`, async ({ browser }) => {
    test.setTimeout(240_000);
    for (let chair = 1; chair <= 8; chair++) {
      const device = await Device.open(browser, server, `/chair/${chair}`, { colorScheme });
      await lookAgain(server, [device]);
      expect(await faults(device), `chair ${chair}`).toEqual([]);
      expect(await small(device), `targets under 64 px at chair ${chair} (W3)`).toBe(0);
      await device.close();
    }
  });

  test(`what opens at a head that is being applied, ${colorScheme}`, async ({ browser }) => {
    const device = await Device.open(browser, server, '/chair/2', { colorScheme });
    for (const name of ['Strand test', 'Helper joins', 'Limits', 'earlier …']) {
      await passTime(server, [device], 1_000);
      await device.page.getByRole('button', { name }).first().click();
      await expect(device.page.getByRole('button', { name: 'Close' })).toBeVisible();
      expect(await faults(device), name).toEqual([]);
      expect(await small(device), `targets under 64 px in ${name} (W3)`).toBe(0);
      await passTime(server, [device], 1_000);
      await device.page.getByRole('button', { name: 'Close' }).click();
    }
    await device.close();
  });

  test(`in the pocket before and after a name is chosen, ${colorScheme}`, async ({ browser }) => {
    test.setTimeout(240_000);
    const phone = await Device.open(browser, server, '/pocket', { width: 390, height: 844, colorScheme });
    await lookAgain(server, [phone]);
    expect(await faults(phone)).toEqual([]);
    const look = async (name: string): Promise<void> => {
      await passTime(server, [phone], 1_000);
      expect(await faults(phone), name).toEqual([]);
      expect(await small(phone), `targets under 64 px: ${name} (W3)`).toBe(0);
    };
    const touch = async (name: string | RegExp): Promise<void> => {
      await passTime(server, [phone], 1_000);
      await phone.page.getByRole('button', { name }).first().click();
      await look(String(name));
    };
    await touch('Ama');
    // Several heads ring: each fills the screen once, and becomes a line on the pages opened beside it.
    while ((await phone.page.locator('main[data-bell]').count()) > 0) await touch(/Open head|All heads/);
    await touch('Yes');
    if ((await phone.page.getByRole('button', { name: 'All heads' }).count()) > 0) await touch('All heads');
    await touch(/Can ring while this page is open/);
    await touch('Close');
    await touch('Ama: shift, away, quiet');
    await touch('Quiet here for 1 min');
    await touch('Close');
    await touch('Open chair 2');
    await touch('Hand over');
    await phone.close();
  });

  test(`first page and salon pages, ${colorScheme}`, async ({ browser }) => {
    for (const path of ['/', '/salon']) {
      const device = await Device.open(browser, server, path, { colorScheme });
      await device.page.getByRole('heading').first().waitFor();
      expect(await faults(device), path).toEqual([]);
      await device.close();
    }
  });
}
