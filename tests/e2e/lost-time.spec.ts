import { expect, test } from '@playwright/test';
import { HOUR, MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

/** Chair 2 is processing, from 12:25 and off by 12:30; it is 12:16. */
async function processing(): Promise<ServerProcess> {
  const server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer(), 2);
  const visit = await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  server.clock.pass(MINUTE);
  await server.turn();
  return server;
}

/** The power is off for four minutes, and the box boots with a clock an hour behind. */
async function powerCut(server: ServerProcess): Promise<void> {
  await server.kill();
  server.clock.reboot(4 * MINUTE, -HOUR);
  await server.start();
}

test('[T3] two screens that counted on through the power cut tell the server how long it was away', async ({
  browser,
}) => {
  const server = await processing();
  const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080, errorMs: 7 * MINUTE });
  const chair = await Device.open(browser, server, '/chair/2', { errorMs: -3 * MINUTE });
  await lookAgain(server, [wall, chair]);
  await powerCut(server);
  for (const device of [wall, chair]) await device.catchUp();
  await expect(wall.page.getByText(/the server was away/)).toBeVisible();
  await expect(wall.page.getByText(/clock lost/)).toHaveCount(0);
  await passTime(server, [wall, chair], SECOND);
  const figure = wall.page.locator('[data-chair="2"] .number .figure');
  await expect(figure).toHaveText('4:59');
  await expect(chair.page.getByText(/The clock was lost/)).toHaveCount(0);
  await Promise.all([wall.close(), chair.close()]);
  await server.stop();
});

test('[T3] without such screens the hair is to be looked at, and one touch that says the time makes every number right', async ({
  browser,
}) => {
  const server = await processing();
  await powerCut(server);
  const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080 });
  // The clock of this tablet is right, unlike the box's: it proposes the time.
  const chair = await Device.open(browser, server, '/chair/2', { errorMs: HOUR });
  await lookAgain(server, [wall, chair]);
  await expect(wall.page.getByText('clock lost: look at the hair')).toBeVisible();
  await expect(wall.page.locator('[data-chair="2"]')).toContainText('look at hair now');
  await expect(wall.page.locator('[data-chair="2"] .number')).toHaveText('');
  await expect(chair.page.getByText('The clock was lost: look at the hair now.').first()).toBeVisible();
  await chair.page.getByRole('button', { name: 'It is 13:20' }).click();
  await expect(wall.page.getByText(/clock lost/)).toHaveCount(0);
  await passTime(server, [wall, chair], SECOND);
  await expect(wall.page.locator('[data-chair="2"] .number .figure')).toHaveText(/^(5 min|4:5[89])\s*$/);
  await expect(wall.page.getByText('the server was away 13:16–13:20')).toBeVisible();
  await Promise.all([wall.close(), chair.close()]);
  await server.stop();
});
