import { expect, test, type Page } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';
import { Pages } from '../support/pages.ts';

async function opened(pages: Pages): Promise<{ server: ServerProcess; visit: string }> {
  const server = await new ServerProcess(new HandClock(), undefined, ['--pages', pages.folder]).start();
  await setUpSalon(server, relaxer(), 2);
  const visit = await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  return { server, visit };
}

/** Everything the screen needs to open again is on the device. */
const kept = (page: Page): Promise<unknown> => page.evaluate(() => navigator.serviceWorker.ready.then(() => true));

test('[R8] a chair opens without the server, says so, and goes on once the server is back', async ({ browser }) => {
  const { server } = await opened(new Pages());
  const chair = await Device.open(browser, server, '/chair/2', { serviceWorkers: 'allow' });
  await lookAgain(server, [chair]);
  await kept(chair.page);
  await server.stop();
  await chair.page.goto(`${server.address}/chair/2`);
  const { page } = chair;
  await expect(page.locator('main.head')).toBeVisible();
  await expect(page.getByRole('button', { name: /water on/i }).first()).toBeVisible();
  await expect(page.getByText(/Waiting for the salon|no link|not heard/).first()).toBeVisible();
  expect(await page.evaluate(() => document.documentElement.dataset['confirmed'])).toBe('false');
  // The set-up is not kept: without the server there is nothing to set up.
  await expect(
    page
      .context()
      .newPage()
      .then((other) => other.goto(`${server.address}/salon`)),
  ).rejects.toThrow();
  await server.start();
  await passTime(server, [chair], SECOND);
  await expect(page.locator('main.head')).toHaveAttribute('data-stage', 'process');
  await chair.close();
  await server.stop();
});

test('[R10] a newer version waits while a bell rings, and opens in the quiet moment after', async ({ browser }) => {
  const pages = new Pages();
  const former = pages.entry('wall');
  const { server, visit } = await opened(pages);
  const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080, serviceWorkers: 'allow' });
  const { page } = wall;
  await kept(page);
  server.clock.pass(13 * MINUTE);
  await lookAgain(server, [wall]);
  await expect(page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'WARNING');
  await server.stop();
  pages.next('newer');
  await server.start();
  const ready = page.getByText('a newer version is ready: opens at a quiet moment');
  // It looks once a second, and asks for the page within a few real ones, so that not all screens ask at once.
  const said = async (): Promise<number> => {
    await passTime(server, [wall], SECOND);
    return ready.count();
  };
  await expect.poll(said, { timeout: 30_000 }).toBe(1);
  for (let n = 0; n < 5; n += 1) expect(await said()).toBe(1);
  expect(await entry(page)).toBe(former);

  await server.do({ type: 'BeginRinse', chair: 2, visit, basin: 91 });
  await server.turn();
  server.clock.pass(SECOND);
  await wall.look();
  await expect.poll(() => entry(page)).toBe('wall-newer.js');
  await lookAgain(server, [wall]);
  await expect(page.locator('[data-chair="2"]')).not.toHaveAttribute('data-level', 'WARNING');
  await expect(ready).toHaveCount(0);
  // The new release's worker is in charge once it was told of the quiet.
  await expect
    .poll(async () => {
      await passTime(server, [wall], 5 * SECOND);
      return page.evaluate(() => caches.keys());
    })
    .toEqual(['basinbell-shell-newer']);

  // Another screen may still be of the former release: it gets its files until the release after this one.
  const status = async (file: string) => (await fetch(`${server.address}/assets/${file}`)).status;
  expect([await status(former), await status('wall-newer.js')]).toEqual([200, 200]);
  pages.next('newest');
  expect([await status(former), await status('wall-newer.js'), await status('wall-newest.js')]).toEqual([
    404, 200, 200,
  ]);
  await wall.close();
  await server.stop();
});

/** Which release the page is of: the name of the script it was opened with. */
function entry(page: Page): Promise<string> {
  return page
    .evaluate(() => document.querySelector('script[src]')?.getAttribute('src')?.split('/').at(-1) ?? '')
    .catch(() => 'just opening');
}
