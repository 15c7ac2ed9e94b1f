/**
 * Takes pictures of staged scenes: `node --import tsx tests/web/chair/stage/look.ts folder page size theme scene…`.
 * They are for looking at; nothing is compared. A scene may name buttons to touch first: `process>Burns`.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';

const [folder = 'test-results/look', screen = 'chair', size = '1280x800', theme = 'light', ...wanted] =
  process.argv.slice(2);
const [width = 1280, height = 800] = size.split('x').map(Number);
mkdirSync(folder, { recursive: true });

const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage({ viewport: { width, height } });
page.on('console', (message) => message.type() === 'error' && console.log(message.text()));
page.on('pageerror', (error) => console.log('error', error.message));
for (const one of wanted) {
  const [path = '', ...touches] = one.split('>');
  const [scene, state = ''] = path.split('+');
  await page.goto(`${server.resolvedUrls?.local[0]}?screen=${screen}&theme=${theme}&scene=${scene}&state=${state}`);
  await page.evaluate(() => document.fonts.ready);
  await page.waitForSelector('main');
  for (const touch of touches) {
    // A touch within 400 ms of the one before is not heard (W3).
    await page.waitForTimeout(420);
    await page.getByRole('button', { name: touch }).first().click();
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  const tall = await page.evaluate(() => document.documentElement.scrollHeight);
  if (wide > width || tall > height) console.log(`${one}: ${wide} × ${tall}`);
  const name = one.replace(/[^a-z0-9]+/gi, '-');
  await page.screenshot({ path: `${folder}/${screen}-${size}-${theme}-${name}.png`, fullPage: width < 700 });
}
await browser.close();
await server.close();
