/**
 * Takes pictures of what the salon page says of bells that reach somebody: room, reach, push, hooks.
 * `node --import tsx tests/web/salon/stage/look-reach.ts [folder]`. They are for looking at; nothing is compared.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Page } from '@playwright/test';
import { createServer } from 'vite';
import type { HookTold } from '../../../../shared/hooks.ts';
import { NOON } from '../../../support/floor-life.ts';

const PORT = 5460;
const folder = process.argv[2] ?? 'test-results/look-reach';
mkdirSync(folder, { recursive: true });
const configFile = fileURLToPath(new URL('./vite.config.ts', import.meta.url));
const server = await createServer({ configFile, server: { port: PORT } });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

const hook = (id: string, over: Partial<HookTold>): HookTold => ({
  id,
  name: 'Lamp over the basins',
  url: 'http://192.168.1.40:8123/api/webhook/basins',
  on: true,
  waiting: 0,
  deliveredAt: NOON - 61_000,
  failing: null,
  ...over,
});
const hooks: readonly HookTold[] = [
  hook('hook-0001', {}),
  hook('hook-0002', {
    name: 'Buzzer in the back room with a name as long as they come',
    url: 'https://relay-in-the-back-room.example/a/path/that/is/longer/than/any/line/of/a/phone?and=more',
    waiting: 3,
    failing: { sinceAt: NOON - 600_000, why: 'answered', status: 503, givenUp: 4 },
  }),
  hook('hook-0003', { name: 'Old lamp', url: 'http://lamp.local/', on: false, deliveredAt: null }),
  hook('hook-0004', { name: 'New', url: 'http://10.0.0.9/', deliveredAt: null }),
];

async function answers(page: Page): Promise<void> {
  await page.route('**/api/v1/hooks', (route) => {
    if (route.request().method() === 'GET') return route.fulfill({ json: hooks });
    const secret = 'whsec_BwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwc=';
    return route.fulfill({ status: 201, json: { hook: hooks[0], secret } });
  });
  await page.route('**/api/v1/hooks/*/test', (route) =>
    route.fulfill({ json: { outcome: 'failed', why: 'refused', status: null, afterMs: 12 } }),
  );
}

const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().click();
const section = (page: Page, id: string) => page.locator(`#${id}`);

for (const [size, width, height] of [
  ['desk', 1280, 800],
  ['phone', 390, 844],
  ['narrow', 320, 700],
] as const) {
  for (const theme of ['light', 'dark'] as const) {
    const context = await browser.newContext({
      viewport: { width, height },
      timezoneId: 'Europe/Berlin',
      locale: 'en-GB',
    });
    const page = await context.newPage();
    page.on('pageerror', (error) => console.log('error', error.message));
    await answers(page);
    await page.goto(`http://localhost:${PORT}/?page=all&theme=${theme}`);
    const shot = async (id: string, name = id): Promise<void> => {
      await page.evaluate(() => document.fonts.ready);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wide > 0) console.log(`${size} ${theme} ${name}: ${wide} px too wide`);
      await section(page, id).screenshot({ path: `${folder}/${size}-${theme}-${name}.png` });
    };
    for (const id of ['room', 'reach', 'push', 'hooks']) await shot(id);
    await section(page, 'room').getByText('spoken', { exact: true }).click();
    await page.getByLabel('Volume of WARNING').fill('60');
    await press(page, 'Hear WARNING on this device');
    await section(page, 'room').getByRole('button', { name: 'Save' }).first().click();
    await shot('room', 'room-wrong');
    await section(page, 'push').getByText('on', { exact: true }).click();
    await page.getByLabel('Contact').fill('owner');
    await section(page, 'push').getByRole('button', { name: 'Save' }).first().click();
    await shot('push', 'push-wrong');
    await page.getByLabel('Contact').fill('owner@corner-salon.example');
    await section(page, 'push').getByRole('button', { name: 'Save' }).first().click();
    await shot('push', 'push-on');
    await press(page, 'Test Lamp over the basins');
    await press(page, 'Remove Old lamp');
    await press(page, 'Add a light or buzzer');
    await section(page, 'hooks').getByRole('button', { name: 'Add it' }).first().click();
    await shot('hooks', 'hooks-adding');
    await section(page, 'hooks').getByLabel(/^Name/).fill('Lamp');
    await section(page, 'hooks')
      .getByLabel(/^Address/)
      .fill('http://192.168.1.40/');
    // A second touch so soon is not heard (W3); Enter is.
    await section(page, 'hooks')
      .getByLabel(/^Address/)
      .press('Enter');
    await page.getByText(/^whsec_/).waitFor();
    await shot('hooks', 'hooks-secret');
    await context.close();
  }
}
await browser.close();
await server.close();
