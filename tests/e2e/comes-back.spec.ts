import { expect, test } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

for (const way of ['stopped in order', 'killed'] as const) {
  test(`[R8] a wall whose server was ${way} comes back by itself with the same countdown`, async ({ browser }) => {
    const server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer(), 2);
    const visit = await server.do({ type: 'BeginApplication', chair: 1, visit: null, service: null });
    server.clock.pass(15 * MINUTE);
    await server.do({ type: 'FinishApplication', visit });
    const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080 });
    server.clock.pass(6 * MINUTE);
    await lookAgain(server, [wall]);
    const number = wall.page.locator('[data-chair="1"] .number .figure');
    await expect(number).toHaveText('4:00');
    await (way === 'killed' ? server.kill() : server.stop());
    await expect(wall.page.getByText(/no link since/).first()).toBeVisible();
    await server.start();
    await expect(wall.page.getByText(/no link since/)).toHaveCount(0);
    await passTime(server, [wall], SECOND);
    await expect(number).toHaveText('3:59');
    await wall.close();
    await server.stop();
  });
}
