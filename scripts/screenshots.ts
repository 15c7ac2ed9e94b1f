/**
 * `npm run screenshots`: the pictures of the README, taken of the model day at a moment when somebody is being called to
 * the basin, a helper is on the way to a slow head, and a strand test is due. The server's clock stands still, so that they
 * come out alike. `npm run screenshots -- --into=DIR wall pace` takes two of them, elsewhere.
 */
import { existsSync, mkdirSync, mkdtempSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Page } from '@playwright/test';
import { SECOND } from '../core/time.ts';
import { askAt } from './model-day/ask.ts';
import { makeAnew } from './model-day/folder.ts';
import { StillHand } from './model-day/hand.ts';
import { playTheHour, playUntil } from './model-day/hour.ts';
import { comingOnShift, type Phones } from './model-day/phones.ts';
import { Players } from './model-day/players.ts';
import { assistant, settingUp } from './model-day/salon.ts';
import { ServerChild } from './model-day/server-child.ts';

const options = process.argv.slice(2);
const INTO = options.find((one) => one.startsWith('--into='))?.slice('--into='.length) ?? 'web/pictures';
/** Kept small: they are part of every clone. */
const MOST_BYTES = 200_000;
/** The hour ends at 14:32 on an invented Tuesday, shown in UTC. */
const BEGINS = Date.UTC(2026, 2, 10, 13, 27);
/** Chair 4 has rung by then and nobody has said "I'll go"; at chair 2 the helper has, and has not joined yet. */
const LOOKED_AT = 40 * SECOND;
const SEED = 12;

interface Picture {
  readonly name: string;
  readonly path: string;
  readonly width: number;
  readonly height: number;
  /** What is touched before, and the piece of the page that is taken; null: all that the screen shows. */
  readonly open?: (page: Page) => Promise<void>;
  readonly piece?: string;
}

const pictures: readonly Picture[] = [
  { name: 'wall', path: 'wall', width: 1920, height: 1080 },
  { name: 'chair', path: 'chair/4', width: 1280, height: 800 },
  { name: 'pace', path: 'chair/2', width: 1280, height: 800 },
  { name: 'pocket', path: 'pocket', width: 390, height: 844 },
  { name: 'preview', path: 'salon', width: 1280, height: 1400, open: openPreview, piece: 'aside.preview' },
];

/** The relaxer's directions with a hairline that must come off earlier, and the window that follows from them. */
async function openPreview(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Relaxer (invented): Write a new version' }).click();
  await page.getByText('Parts of the head').click();
  await page.getByRole('button', { name: 'Add the hairline, last' }).click();
  await page.getByLabel('Own ceiling of part 5').fill('16');
}

const say = (sentence: string): void => console.log(`· ${sentence}`);

async function stage(server: ServerChild, hand: StillHand): Promise<Phones> {
  const ask = askAt(server.address);
  let phones: Phones | null = null;
  const players = new Players(ask, SEED, async (snapshot) => phones?.show(snapshot));
  await players.setUp(settingUp('UTC'));
  phones = await comingOnShift(players, server.address);
  const end = await playTheHour(players, ask, hand);
  await playUntil(() => end + LOOKED_AT, players, ask, hand);
  return phones;
}

function launch(): Promise<Browser> {
  const named = process.env['BASINBELL_CHROMIUM'];
  const executablePath = named ?? ['/usr/bin/chromium', '/usr/bin/chromium-browser'].find((file) => existsSync(file));
  const asRoot = process.getuid?.() === 0;
  return chromium.launch({
    ...(executablePath === undefined ? {} : { executablePath }),
    // As on a kiosk, sound needs no first touch, so that no screen asks for one.
    args: ['--autoplay-policy=no-user-gesture-required', ...(asRoot ? ['--no-sandbox'] : [])],
  });
}

async function take(browser: Browser, address: string, one: Picture): Promise<void> {
  const { name, path, width, height, open, piece } = one;
  const context = await browser.newContext({ viewport: { width, height }, colorScheme: 'light' });
  await context.addInitScript({ content: `localStorage.setItem('basinbell.person', '${assistant}')` });
  const page = await context.newPage();
  await page.goto(new URL(path, address).href);
  // A screen says which second it has painted and whether its clock is sure of it.
  if (open === undefined) await page.waitForSelector('html[data-confirmed="true"]');
  else await open(page);
  // A picture in a fallback typeface would show other digits than the screens have.
  await page.waitForFunction('[...document.fonts].some((face) => face.status === "loaded")');
  await page.evaluate('document.fonts.ready.then(() => undefined)');
  const file = join(INTO, `${name}.png`);
  await (piece === undefined ? page.screenshot({ path: file }) : page.locator(piece).screenshot({ path: file }));
  await context.close();
  const { size } = statSync(file);
  say(`${file}: ${Math.ceil(size / 1_000)} kB`);
  if (size > MOST_BYTES) throw new Error(`${file} is larger than ${MOST_BYTES / 1_000} kB`);
}

/** All, or those named on the command line. */
const names = options.filter((one) => !one.startsWith('--'));
const wanted = pictures.filter(({ name }) => names.length === 0 || names.includes(name));

const folder = mkdtempSync(join(tmpdir(), 'basinbell-pictures-'));
makeAnew(folder);
const hand = new StillHand(folder, BEGINS);
say('Starting a server for the pictures …');
const handDriven = ['--clock-file', hand.file, '--hand-clock-for', 'model-day'];
const server = await ServerChild.start(['--port', '0', '--data', folder, ...handDriven]);
try {
  say('Playing the model day up to the moment of the pictures …');
  const phones = await stage(server, hand);
  mkdirSync(INTO, { recursive: true });
  const browser = await launch();
  try {
    for (const one of wanted) await take(browser, server.address, one);
  } finally {
    phones.putAway();
    await browser.close();
  }
} finally {
  await server.stop();
}
