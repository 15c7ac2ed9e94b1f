/** Prints how tall the wall's texts are painted: `node --import tsx tests/web/wall/stage/measure.ts`. */
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';
import { arcMinutes, leastDigitHeight, paintedHeight } from '../../../support/painted-height.ts';

const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
for (const [chairs, ratio, theme] of [
  [8, 1, 'light'],
  [12, 1, 'light'],
  [12, 1, 'dark'],
  [12, 2, 'light'],
] as const) {
  const viewport = { width: 1920, height: 1080 };
  const page = await browser.newPage({ viewport, deviceScaleFactor: ratio });
  await page.goto(`${server.resolvedUrls?.local[0]}?chairs=${chairs}&theme=${theme}`);
  await page.waitForSelector('main');
  await page.evaluate(() => document.fonts.load('700 100px "Public Sans"'));
  const seen = { diagonalInches: 43, distanceM: 5, widthPx: 1920, heightPx: 1080 };
  for (const [what, selector] of [
    ['number 1:48', '[data-chair="2"] .figure'],
    ['number 1:00', '[data-chair="7"] .figure'],
    ['deed', '[data-chair="2"] .deed'],
    ['tally', 'header .first'],
    ['clock', 'header .clock'],
  ] as const) {
    const px = await paintedHeight(page.locator(selector).first(), page);
    console.log(`${chairs} chairs, ×${ratio}, ${theme}: ${what} ${px} px, ${arcMinutes(px, seen).toFixed(2)} arcmin`);
  }
  for (const chair of [1, 2, 6]) {
    const px = await leastDigitHeight(page.locator(`[data-chair="${chair}"] .figure`), page);
    console.log(
      `${chairs} chairs, ×${ratio}, ${theme}: least digit of lane ${chair} ${px} px, ${arcMinutes(px, seen).toFixed(2)} arcmin`,
    );
  }
  await page.close();
}
await browser.close();
await server.close();
