/**
 * Takes pictures of every part in every state and theme: `node --import tsx tests/web/gallery/look.ts [folder]`.
 * They are for looking at; nothing is compared.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';

const folder = process.argv[2] ?? 'test-results/look';
mkdirSync(folder, { recursive: true });

const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage();
page.on('console', (message) => console.log(message.type(), message.text()));
page.on('pageerror', (error) => console.log('error', error.message));
for (const theme of ['light', 'dark']) {
  await page.setViewportSize({ width: 1080, height: 1300 });
  await page.goto(`http://localhost:4721/?theme=${theme}`);
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: `${folder}/parts-${theme}.png`, fullPage: true });
  for (const chairs of [8, 12]) {
    await page.setViewportSize({ width: 1920, height: 1080 });
    await page.goto(`http://localhost:4721/?page=wall&theme=${theme}&chairs=${chairs}`);
    await page.evaluate(() => document.fonts.ready);
    await page.screenshot({ path: `${folder}/wall-${chairs}-${theme}.png` });
  }
}
await browser.close();
await server.close();
