/**
 * Takes pictures of the wall: `node --import tsx tests/web/wall/stage/look.ts [folder] [name …]`. For looking at;
 * nothing is compared.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';

const [folder = 'test-results/look-wall', ...only] = process.argv.slice(2);
mkdirSync(folder, { recursive: true });
const looks: [name: string, query: string, width?: number, height?: number, ratio?: number][] = [
  ['8-light', 'chairs=8'],
  ['8-dark', 'chairs=8&theme=dark'],
  ['12-light', 'chairs=12&basins=3'],
  ['12-dark', 'chairs=12&basins=3&theme=dark'],
  ['1-light', 'chairs=1'],
  ['20-first', 'chairs=20&basins=4'],
  ['20-from-13', 'chairs=20&basins=4&from=13'],
  ['24-from-13', 'chairs=24&basins=5&from=13'],
  ['24-from-13-dark', 'chairs=24&basins=5&from=13&theme=dark'],
  ['12-calm', 'chairs=12&calm'],
  ['8-lost', 'chairs=8&lost&gap'],
  ['12-lost-dark', 'chairs=12&lost&gap&theme=dark'],
  ['20-all-wrong', 'chairs=20&lost&gap&unsaved&sound=locked&from=9'],
  ['8-sound-off', 'chairs=8&sound=locked'],
  ['12-sound-off-dark', 'chairs=12&sound=broken&theme=dark'],
  ['12-long', 'chairs=12&long&basins=6'],
  ['24-long', 'chairs=24&long&basins=6&from=9'],
  ['8-refused', 'chairs=8&calm&lost=refused'],
  ['0', 'chairs=0&basins=0'],
  ['8-4k-page', 'chairs=8', 3840, 2160],
  ['12-4k-dense', 'chairs=12&theme=dark', 1920, 1080, 2],
  ['24-4k-65in-4m', 'chairs=24&inches=65&metres=4', 3840, 2160],
  ['8-65in-3m', 'chairs=8&inches=65&metres=3'],
  ['8-hair', 'chairs=8&hair'],
  ['8-hair-dark', 'chairs=8&hair&theme=dark'],
  ['12-hair', 'chairs=12&hair&basins=3'],
  ['12-hair-dark', 'chairs=12&hair&basins=3&theme=dark'],
  ['16-hair-from-9', 'chairs=16&hair&from=5&basins=3'],
  ['8-hair-4k', 'chairs=8&hair', 3840, 2160],
  ['12-hair-4k-dark', 'chairs=12&hair&basins=3&theme=dark', 3840, 2160],
  ['12-hair-lost', 'chairs=12&hair&basins=3&lost'],
  ['12-hair-long', 'chairs=12&hair&basins=3&long'],
  ['8-bells', 'chairs=8&bells'],
  ['8-bells-dark', 'chairs=8&bells&muted&theme=dark'],
  ['12-bells', 'chairs=12&bells&muted&silent&basins=3'],
  ['12-bells-dark', 'chairs=12&bells&basins=3&theme=dark'],
  ['12-bells-nameless', 'chairs=12&bells&nameless&muted&basins=3'],
  ['12-bells-long', 'chairs=12&bells&long&basins=3'],
  ['16-bells-from-9', 'chairs=16&bells&from=9&basins=3'],
  ['12-bells-4k', 'chairs=12&bells&muted&basins=3', 3840, 2160],
  ['12-bells-4k-dark', 'chairs=12&bells&silent&basins=3&theme=dark', 3840, 2160],
  ['1-bells', 'chairs=1&bells'],
  ['8-silent', 'chairs=8&bells&silent&sound=broken'],
  ['8-only-wall', 'chairs=8'],
  ['8-portrait', 'chairs=8', 1080, 1920],
  ['4-small-screen', 'chairs=4&inches=24&metres=5', 1280, 720],
];
const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const [name, query, width = 1920, height = 1080, deviceScaleFactor = 1] of looks) {
  if (only.length > 0 && !only.includes(name)) continue;
  const page = await browser.newPage({ viewport: { width, height }, deviceScaleFactor });
  page.on('console', (message) => console.log(name, message.type(), message.text()));
  page.on('pageerror', (error) => console.log(name, 'error', error.message));
  await page.goto(`${server.resolvedUrls?.local[0]}?${query}`);
  await page.waitForSelector('main');
  await page.evaluate(() => document.fonts.ready);
  await page.screenshot({ path: `${folder}/${name}.png` });
  await page.close();
}
await browser.close();
await server.close();
