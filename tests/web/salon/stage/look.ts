/**
 * Takes pictures of the salon page in its states: `node --import tsx tests/web/salon/stage/look.ts [folder]`.
 * They are for looking at; nothing is compared.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium, type Locator, type Page } from '@playwright/test';
import { createServer } from 'vite';

const folder = process.argv[2] ?? 'test-results/look-salon';
mkdirSync(folder, { recursive: true });
const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });

/** A picture of the whole page, or of one piece of it. */
type Shot = (name: string, piece?: Locator) => Promise<void>;

const fill = (page: Page, label: string | RegExp, text: string) => page.getByLabel(label).first().fill(text);
const press = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().click();

async function directionsTyped(page: Page): Promise<void> {
  await fill(page, /^Name/, 'Regular relaxer');
  await fill(page, /^Copied from/, 'leaflet, edition 3');
  await page.getByText('hydroxide', { exact: true }).click();
  await fill(page, /^Whole head applied/, '15');
  await fill(page, /^Least after the end/, '10');
  await fill(page, /^Most after the end/, '15');
  await fill(page, /^Ceiling/, '30');
}

async function firstStart(page: Page, shot: Shot): Promise<void> {
  await shot('first-1-salon');
  await press(page, 'Go on');
  await shot('first-1-missing');
  await fill(page, 'Name of the salon', 'Linden teaching salon');
  await page.getByLabel('Name of the salon').press('Enter');
  await shot('first-2-chairs');
  await fill(page, 'Label of place 2', '1');
  await shot('first-2-label-twice');
  await fill(page, 'Label of place 2', '2');
  await press(page, /Add these/);
  await shot('first-3-basins');
  await press(page, /Add these/);
  await fill(page, /^Name/, 'Ama');
  await press(page, 'Add');
  await shot('first-4-people');
  await page.locator('.now').getByRole('button', { name: 'Go on' }).click();
  await shot('first-5-directions');
  await directionsTyped(page);
  await shot('first-5-directions-typed');
  await fill(page, /^Most after the end/, '8');
  await press(page, 'Keep these directions');
  await shot('first-5-directions-wrong');
  await fill(page, /^Most after the end/, '15');
  await fill(page, /^Rinse at least/, '5');
  await fill(page, /^Each left on/, '2');
  await fill(page, /^Left on for/, '3');
  await press(page, 'Keep these directions');
  await shot('first-6-service');
  await press(page, 'Keep this service');
  await shot('first-7-ready');
}

/** The form in pieces that can be looked at: its minutes, the preview, the parts, the heat. */
async function pieces(page: Page, shot: Shot, name: string): Promise<void> {
  await shot(`${name}-minutes`, page.locator('.sheet > section').nth(1));
  await shot(`${name}-preview`, page.locator('aside.preview'));
  await shot(`${name}-parts`, page.locator('.sheet > details').nth(0));
  await shot(`${name}-heat`, page.locator('.sheet > details').nth(2));
}

/** Every state of the directions: parts, own ceilings, heat, and each thing that can be wrong. */
async function directionsOpen(page: Page, shot: Shot): Promise<void> {
  await page.getByText('Parts of the head').click();
  await press(page, /Add the hairline/);
  await fill(page, 'Own ceiling of part 5', '14');
  await page.getByText('Strand tests', { exact: true }).click();
  await fill(page, /^First strand test/, '5');
  await page.getByRole('heading', { name: 'Heat', exact: true }).click();
  await page.getByText('allowed', { exact: true }).click();
  await fill(page, /^Under heat, least/, '6');
  await fill(page, /^Under heat, most/, '9');
  await fill(page, /^Under heat, ceiling/, '20');
  await pieces(page, shot, 'directions-heat-hairline');
  await page.getByText('under heat', { exact: true }).click();
  await pieces(page, shot, 'directions-under-heat');
  await fill(page, 'Share of part 4', '30');
  await fill(page, 'Own ceiling of part 5', '31');
  await page.getByLabel('Place of part 2').selectOption('nape-left');
  await fill(page, 'Number of parts', '13');
  await fill(page, /^Under heat, ceiling/, '40');
  await fill(page, /^Least after the end/, '-10');
  await fill(page, /^Most after the end/, '600');
  await pieces(page, shot, 'directions-wrong');
  await fill(page, /^Least after the end/, '10');
  await fill(page, /^Most after the end/, '15');
  await fill(page, /^Under heat, ceiling/, '20');
  await fill(page, 'Own ceiling of part 5', '');
  await page.getByLabel('Place of part 2').selectOption('nape-right');
  await press(page, /Equal shares/);
  await fill(page, /^Ceiling/, '');
  await pieces(page, shot, 'directions-no-ceiling');
  await fill(page, /^Ceiling/, '30');
  await fill(page, 'Number of parts', '12');
  await page.getByLabel('Number of parts').press('Tab');
  await page.getByText('part by part, as foils do').click();
  await pieces(page, shot, 'directions-twelve-parts');
}

async function allSections(page: Page, shot: Shot): Promise<void> {
  await shot('all');
  await press(page, 'Change Chair 3');
  await fill(page, /^Chair 3/, 'A');
  await press(page, 'Change Ama');
  await page.getByRole('button', { name: 'Regular: Write a new version' }).click();
  await directionsOpen(page, shot);
  await press(page, /Change Wave/);
  await fill(page, /^Read from/, '40');
  await fill(page, /^Walk to a basin/, '9');
  await shot('all-open');
}

/** All of the page, or only the part of it named on the command line. */
const only = process.argv[3] ?? '';

for (const [size, width, height] of [
  ['desk', 1280, 800],
  ['phone', 390, 844],
  ['narrow', 320, 700],
] as const) {
  for (const theme of size === 'narrow' ? (['light'] as const) : (['light', 'dark'] as const)) {
    const context = await browser.newContext({
      viewport: { width, height },
      timezoneId: 'Europe/Berlin',
      locale: 'en-GB',
    });
    const page = await context.newPage();
    page.on('console', (message) => message.type() !== 'debug' && console.log(message.type(), message.text()));
    page.on('pageerror', (error) => console.log('error', error.message));
    const shot: Shot = async (name, piece) => {
      await page.evaluate(() => document.fonts.ready);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      if (wide > 0) console.log(`${size} ${theme} ${name}: ${wide} px too wide`);
      const path = `${folder}/${size}-${theme}-${name}.png`;
      await (piece === undefined ? page.screenshot({ path, fullPage: true }) : piece.screenshot({ path }));
    };
    await page.goto(`http://localhost:4730/?theme=${theme}&host=192.168.1.4`);
    if (only === '') await firstStart(page, shot);
    await page.goto(`http://localhost:4730/?page=all&theme=${theme}`);
    await allSections(page, shot);
    await context.close();
  }
}
await browser.close();
await server.close();
