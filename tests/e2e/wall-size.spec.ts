import { expect, test } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { arcminOf, pxMm } from '../../web/src/parts/geometry/reading.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { paintedHeight } from '../support/painted-height.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain } from './devices.ts';

/** The wall as it hangs: 43 inches, 1920 by 1080, read from 5 m. */
const screen = { diagonalInches: 43, widthPx: 1920, heightPx: 1080 };
const distanceM = 5;

const arcmin = (px: number): number => arcminOf(px * pxMm(screen), distanceM);

// 20 and 16 arcmin: ISO 9241-303 clause 5.5 and FAA human-factors training pages, see core/RULES.md W1.
for (const chairs of [8, 12]) {
  for (const colorScheme of ['light', 'dark'] as const) {
    test(`[W1] with ${chairs} chairs, ${colorScheme}: painted digits of at least 20 arcmin, orders of at least 16, at 43 inches and 5 m`, async ({
      browser,
    }) => {
      const server = await new ServerProcess(new HandClock()).start();
      await setUpSalon(server, relaxer(), chairs);
      for (let chair = 1; chair <= chairs; chair++) {
        await server.do({ type: 'BeginApplication', chair, visit: null, service: null });
      }
      // 18:00 to finish (P3), less 13:13: 4:47 has flat digits only, the least tall of the face.
      server.clock.pass(13 * MINUTE + 13 * SECOND);
      const wall = await Device.open(browser, server, '/wall', { width: 1920, height: 1080, colorScheme });
      await lookAgain(server, [wall]);

      const lanes = wall.page.locator('[data-chair]');
      await expect(lanes).toHaveCount(chairs);
      const heights: number[] = [];
      for (const chair of [1, chairs]) {
        heights.push(await paintedHeight(wall.page.locator(`[data-chair="${chair}"] .number .figure`), wall.page));
      }
      expect(await wall.page.locator('[data-chair="1"] .number').textContent()).toContain('4:47');
      // Text is measured on its capital (ISO 9241-303): an H painted in the place of the deed.
      const deed = wall.page.locator('[data-chair="1"] .deed');
      const words = await deed.evaluate((one) => {
        const was = one.textContent ?? '';
        one.textContent = 'H';
        return was;
      });
      const capital = await paintedHeight(deed, wall.page);
      await deed.evaluate((one, was) => void (one.textContent = was), words);
      test.info().annotations.push({
        type: 'measured',
        description: `${chairs} chairs ${colorScheme}: digits ${heights.join(' and ')} px = ${heights.map((px) => arcmin(px).toFixed(1)).join(' and ')} arcmin`,
      });
      console.log(
        `    ${chairs} chairs, ${colorScheme}: digits ${heights.join(' and ')} px = ${heights.map((px) => arcmin(px).toFixed(2)).join(' and ')} arcmin; capitals ${capital} px = ${arcmin(capital).toFixed(2)} arcmin`,
      );
      for (const px of heights) expect(arcmin(px)).toBeGreaterThanOrEqual(20);
      expect(arcmin(capital)).toBeGreaterThanOrEqual(16);

      // Nothing overlaps, nothing is cut: every lane lies within the page, one below the other.
      const boxes = await lanes.evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON() as DOMRect));
      boxes.forEach((box, i) => {
        expect(box.bottom).toBeLessThanOrEqual(1080);
        expect(box.top).toBeGreaterThanOrEqual(boxes[i - 1]?.bottom ?? 0);
      });
      await wall.page.screenshot({ path: test.info().outputPath('wall.png') });
      await wall.close();
      await server.stop();
    });
  }
}
