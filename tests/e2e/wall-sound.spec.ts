import { expect, test, type Browser } from '@playwright/test';
import { defaultRoom } from '../../core/salon/room.ts';
import { SECOND } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain, passTime } from './devices.ts';

declare global {
  interface Window {
    /** What the page handed to the browser's voice. */
    spoken: string[];
  }
}

/** Headless Chromium has no voices here: the browser's own are stubbed, and what is handed to them is kept. */
function takeVoices(langs: readonly string[]): void {
  window.spoken = [];
  const speech = {
    getVoices: () => langs.map((lang) => ({ lang, localService: true, name: lang })),
    speak(one: { text: string; onstart: () => void; onend: () => void }) {
      window.spoken.push(one.text);
      one.onstart();
      one.onend();
    },
    cancel: () => undefined,
  };
  Object.defineProperty(window, 'speechSynthesis', { value: speech });
  window.SpeechSynthesisUtterance = class {
    text: string;
    constructor(text: string) {
      this.text = text;
    }
  } as never;
}

async function speakingWall(browser: Browser, langs: readonly string[]) {
  const server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer());
  await server.do({ type: 'SetRoom', room: { ...defaultRoom, spoken: true } });
  const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080 });
  await wall.page.addInitScript(takeVoices, langs);
  await wall.page.reload();
  await expect(wall.page.locator('[data-chair]')).toHaveCount(8);
  return { server, wall, spoken: () => wall.page.evaluate(() => window.spoken) };
}

test('[W4] a touch anywhere tests the wall on the path of a bell: it rings, then says so; then a real bell is rung and said', async ({
  browser,
}) => {
  const { server, wall, spoken } = await speakingWall(browser, ['en-GB']);
  await wall.page.mouse.click(960, 300);
  // Pulses come back by way of the server: `test-bell` up, `ring-test` down.
  await expect.poll(spoken).toEqual(['this is a test']);
  expect(await wall.pulses()).toBeGreaterThanOrEqual(3);
  await passTime(server, [wall], 10 * SECOND);
  await server.do({ type: 'ReportBurns', chair: 6, visit: null, place: 'skin' });
  await lookAgain(server, [wall]);
  await expect.poll(spoken).toContain('chair six, water now');
  await wall.close();
  await server.stop();
});

test('[W4] a page without a voice of its language rings and says nothing', async ({ browser }) => {
  const { server, wall, spoken } = await speakingWall(browser, ['de-DE']);
  await wall.page.mouse.click(960, 300);
  await expect(wall.page.getByRole('status').filter({ hasText: 'a test bell rings now' })).toBeVisible();
  const tested = await wall.pulses();
  expect(tested).toBeGreaterThanOrEqual(3);
  await passTime(server, [wall], 10 * SECOND);
  await server.do({ type: 'ReportBurns', chair: 6, visit: null, place: 'skin' });
  await lookAgain(server, [wall]);
  await expect.poll(() => wall.pulses()).toBeGreaterThanOrEqual(tested + 10);
  expect(await spoken()).toEqual([]);
  await wall.close();
  await server.stop();
});
