/**
 * Takes pictures of staged phones: `node --import tsx tests/web/pocket/stage/look.ts folder size theme scene…`. They are for
 * looking at; nothing is compared. A scene may name another holder and buttons to touch first: `pace@person-joss>Open head`; `apply@person-ama+muted`
 * for a phone that is quiet. A page that scrolls is taken whole.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { chromium } from '@playwright/test';
import { createServer } from 'vite';

const [folder = 'test-results/look-pocket', size = '390x844', theme = 'light', ...wanted] = process.argv.slice(2);
const [width = 390, height = 844] = size.split('x').map(Number);
mkdirSync(folder, { recursive: true });

const server = await createServer({ configFile: fileURLToPath(new URL('./vite.config.ts', import.meta.url)) });
await server.listen();
const browser = await chromium.launch({ executablePath: '/usr/bin/chromium', args: ['--no-sandbox'] });
const page = await browser.newPage({ viewport: { width, height } });
page.on('console', (message) => message.type() === 'error' && console.log(message.text()));
page.on('pageerror', (error) => console.log('error', error.message));
for (const one of wanted) {
  const [path = '', ...touches] = one.split('>');
  const [scene, who = 'person-ama'] = path.split('@');
  const [person, ...flags] = who.split('+');
  const asked = flags.map((flag) => `&${flag}`).join('');
  await page.goto(`${server.resolvedUrls?.local[0]}?theme=${theme}&scene=${scene}&person=${person}${asked}`);
  await page.evaluate(() => document.fonts.ready);
  await page.waitForSelector('main');
  for (const touch of touches) {
    // A touch within 400 ms of the one before is not heard, nor one on a button that has just changed (W3).
    await page.waitForTimeout(950);
    await page.getByRole('button', { name: touch }).first().click();
  }
  const wide = await page.evaluate(() => document.documentElement.scrollWidth);
  const tall = await page.evaluate(() => document.documentElement.scrollHeight);
  if (wide > width || tall > height) console.log(`${one}: ${wide} × ${tall}`);
  await page.screenshot({
    fullPage: tall > height,
    path: `${folder}/${size}-${theme}-${one.replace(/[^a-z0-9]+/gi, '-')}.png`,
  });
}
await browser.close();
await server.close();
