import { expect, test } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { Floor } from './floor.ts';

// The times are those of common practice (no published source): whole head in 15 minutes, 10 to 15 after that, two neutralizing
// shampoos, conditioner, drying.
test('[V1] one visit through all seven stages shows the same figure on wall, chair and pocket, and the phone is rung in time', async ({
  browser,
}) => {
  test.setTimeout(300_000);
  const floor = await Floor.open(browser);
  const { chair, pocket, wall } = floor;

  // Whoever picks a name on the phone is rung; that touch unlocks sound and takes the test on the real path.
  await pocket.page.getByRole('button', { name: 'Ama' }).click();
  await expect.poll(() => pocket.pulses()).toBeGreaterThan(0);
  await floor.touch(pocket, 'Yes');

  await floor.touch(chair, 'Seat a client');
  await chair.page.getByRole('textbox').fill('B.');
  await floor.touch(chair, 'Straightening');
  await floor.touch(chair, 'Seated');
  await floor.stage('prep');
  await floor.expectFigure('');

  await floor.touch(chair, /^Begin/);
  await floor.stage('apply');
  // Begin: ceiling 30 − at least 10 − reserve 2 leaves 18 minutes to finish (P3).
  await floor.expectFigure('18 min');
  await floor.pass(12 * MINUTE);
  await floor.expectFigure('6 min');
  await floor.pass(59 * SECOND);
  await floor.expectFigure('6 min');
  for (const left of ['5:00', '4:59', '4:58', '4:57']) {
    await floor.pass(SECOND);
    await floor.expectFigure(left);
  }
  // 13:03 on hair; the whole head at 15:00.
  await floor.pass(MINUTE + 56 * SECOND);
  await floor.touch(chair, 'All of it is on');
  await floor.stage('process');
  await floor.expectFigure('10 min');

  // 22:00: three minutes before the window opens.
  await floor.pass(7 * MINUTE);
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'NOTICE');
  await floor.countDown(180);
  // 25:00: the window is open, five minutes to its close.
  await floor.expectFigure('5:00');
  await floor.countDown(300, 181);

  // 26:59 to 27:00: the bell to the basin, at its instant and not a second before (R2).
  const before = await pocket.pulses();
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toHaveCount(0);
  await floor.pass(SECOND);
  await floor.expectFigure('3:00');
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'WARNING');
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toBeVisible();
  await expect.poll(() => pocket.pulses()).toBeGreaterThan(before);

  await floor.touch(pocket, /I’ll go to 2/);
  await expect(wall.page.locator('[data-chair="2"] .who')).toContainText('Ama');
  await floor.settle();
  // Within the 90 s for which a bell taken stays quiet (R3).
  await floor.countDown(179, 120);
  await floor.touch(pocket, /Water on at A/);
  await floor.stage('rinse');
  await floor.expectFigure('5:00');
  await floor.countDown(300, 290);
  await floor.pass(290 * SECOND);
  await floor.expectFigure('');

  await floor.touch(chair, 'Clear and off');
  await floor.stage('neutralize');
  await floor.expectFigure('2:00');
  await floor.countDown(120, 110);
  await floor.pass(110 * SECOND);
  await floor.expectFigure('');
  await floor.touch(chair, /Shampoo 1 of 2.*coloured/);
  await floor.stage('neutralize');
  await floor.expectFigure('2:00');
  await floor.pass(2 * MINUTE);
  await floor.touch(chair, /Shampoo 2 of 2.*colourless/);
  await floor.stage('neutralize');
  await floor.touch(chair, 'Conditioner is on');
  await floor.stage('condition');
  await floor.expectFigure('3:00');
  await floor.pass(3 * MINUTE);
  await floor.expectFigure('');
  await floor.touch(chair, 'On to drying');
  await floor.stage('dry');
  await floor.expectFigure('');
  await floor.pass(20 * MINUTE);
  await floor.touch(chair, /Finished/);
  await floor.stage('free');

  const floorNow = await floor.server.floor();
  const visits = Object.values(floorNow.entities).filter((entity) => entity.kind === 'visit');
  expect(visits).toHaveLength(1);
  expect(visits[0]?.kind === 'visit' ? visits[0].facts : null).toMatchObject({ end: 'done', owed: [], bells: [] });
  await floor.close();
});
