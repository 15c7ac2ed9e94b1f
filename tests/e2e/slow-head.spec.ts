import { expect, test } from '@playwright/test';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer, tested } from '../support/directions-kit.ts';
import { Floor } from './floor.ts';

// The times are those of common practice (no published source): whole head in 15 minutes, four parts, 10 to 15 minutes after
// that. Ceiling 30 and reserve 2 are entered: the latest finish is 18 minutes after first touch (P3).

/** Somebody is in chair 2, the phone is Ama's, and it has been heard. */
async function begunFloor(...[browser, rules]: Parameters<typeof Floor.open>): Promise<Floor> {
  const floor = await Floor.open(browser, rules);
  await floor.pocket.page.getByRole('button', { name: 'Ama' }).click();
  await expect.poll(() => floor.pocket.pulses()).toBeGreaterThan(0);
  await floor.touch(floor.pocket, 'Yes');
  await floor.server.do(
    { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: 'B.' },
    { id: 'visit-0001', by: 'person-ama' },
  );
  await floor.settle();
  return floor;
}

/** Touches at the chair so that it counts as done so many minutes after first touch. */
async function at(floor: Floor, begunAt: number, minutes: number, name: string | RegExp): Promise<void> {
  const now = (await floor.server.floor()).now;
  await floor.pass(begunAt + minutes * MINUTE - SECOND - now);
  await floor.touch(floor.chair, name);
  await floor.settle();
}

async function pictures(floor: Floor, name: string): Promise<void> {
  for (const [screen, device] of Object.entries({ wall: floor.wall, chair: floor.chair, pocket: floor.pocket })) {
    await device.page.screenshot({ path: `reports/pictures/${name}-${screen}.png` });
  }
}

test('[P4] a slow application rings for a second pair of hands on all screens, and is withdrawn when a helper joins', async ({
  browser,
}) => {
  test.setTimeout(180_000);
  const floor = await begunFloor(browser);
  const { wall, chair, pocket } = floor;
  const lane = wall.page.locator('[data-chair="2"]');
  await floor.touch(chair, /^Begin/);
  await floor.stage('apply');
  const begunAt = (await floor.server.facts('visit-0001')).passes[0]?.begun?.at ?? 0;

  // One part of four in 6 minutes: r 4:52.5, expected 20:37.5, latest 18:00 (P1, P2, P3).
  await at(floor, begunAt, 6, /^Part 1 done/);
  expect(await lane.getAttribute('data-level')).toBe('CAUTION');
  await expect(lane).toContainText(/help/);
  await floor.expectFigure('12 min');
  await expect(chair.page.locator('main')).toContainText(/Too late by 2:37/);
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toBeVisible();
  await pictures(floor, 'pace-rings');

  // A helper from minute 8: expected 15:45, a minute and more before the latest (P4).
  await at(floor, begunAt, 8, /Helper joins|Helpers/);
  await floor.touch(chair, 'Joss');
  await floor.settle();
  expect(await lane.getAttribute('data-level')).toBeNull();
  await expect(chair.page.locator('main')).not.toContainText(/Too late|Only just/);
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toHaveCount(0);
  await pictures(floor, 'helper-joined');
  const facts = await floor.server.facts('visit-0001');
  expect(facts.passes[0]?.hands.map((one) => one.by)).toEqual([null, 'person-joss']);
  expect(facts.bells).toEqual([]);

  // Two pairs of hands go on; the fourth part ends the application in time, with room.
  await at(floor, begunAt, 11, /^Part 2 done/);
  await at(floor, begunAt, 12.5, /^Part 3 done/);
  await at(floor, begunAt, 15.5, /^Part 4 done/);
  await floor.stage('process');
  await floor.expectFigure('10 min');
  await expect(chair.page.locator('main')).toContainText(/4:30 room/);
  await pictures(floor, 'in-time');
  await floor.close();
});

test('[E4] the moment the room is gone is seen on wall, chair and pocket in the same second; the close wins', async ({
  browser,
}) => {
  test.setTimeout(180_000);
  const floor = await begunFloor(browser);
  const { wall, chair, pocket } = floor;
  await floor.touch(chair, /^Begin/);
  await floor.stage('apply');
  const begunAt = (await floor.server.facts('visit-0001')).passes[0]?.begun?.at ?? 0;
  await pocket.page.locator('[data-chair="2"]').first().click();
  const said = async (): Promise<boolean[]> => {
    await floor.settle();
    return Promise.all([
      wall.page.locator('[data-chair="2"] svg[aria-label^="no room"]').count(),
      chair.page.getByText(/no room/).count(),
      pocket.page.getByText(/no room/).count(),
    ]).then((counts) => counts.map((count) => count > 0));
  };

  // With no part marked the whole head is one part (E5): 20:00 + 10 is the ceiling itself, a second later it is past it.
  await floor.pass(begunAt + 20 * MINUTE - (await floor.server.floor()).now);
  expect(await said()).toEqual([false, false, false]);
  await floor.pass(SECOND);
  expect(await said()).toEqual([true, true, true]);
  await pictures(floor, 'no-room');

  // Six minutes a part, marked late: F = 24, part windows 16–30, 22–36, 28–39, 34–39, room −4.
  for (const [part, minutes] of [6, 12, 18].entries()) {
    await floor.server.do(
      { type: 'MarkPartDone', visit: 'visit-0001', part },
      { happenedAt: begunAt + minutes * MINUTE, seen: (await floor.server.facts('visit-0001')).version },
    );
  }
  await at(floor, begunAt, 24, /^Part 4 done/);
  await floor.stage('process');
  expect(await said()).toEqual([true, true, true]);
  await floor.expectFigure('6 min');
  await pictures(floor, 'no-room-staircase');
  // The close wins: rung in time for 30, and DANGER from 30 on.
  await floor.pass(begunAt + 27 * MINUTE - (await floor.server.floor()).now);
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'WARNING');
  await floor.expectFigure('3:00');
  await floor.pass(3 * MINUTE);
  await expect(wall.page.locator('[data-chair="2"]')).toHaveAttribute('data-level', 'DANGER');
  await floor.expectFigure('0:00');
  await pictures(floor, 'no-room-over');
  await floor.close();
});

test('[R2] a begin that was forgotten is asked for, louder after a while, and added with its time', async ({
  browser,
}) => {
  test.setTimeout(180_000);
  const floor = await begunFloor(browser);
  const { wall, chair, pocket } = floor;
  const lane = wall.page.locator('[data-chair="2"]');
  await floor.touch(chair, /Prep is complete/);
  await floor.settle();
  await floor.pass(3 * MINUTE - SECOND);
  expect(await lane.getAttribute('data-level')).toBeNull();
  await floor.pass(SECOND);
  expect(await lane.getAttribute('data-level')).toBe('NOTICE');
  const before = await pocket.pulses();
  await floor.pass(5 * MINUTE);
  expect(await lane.getAttribute('data-level')).toBe('CAUTION');
  await expect(lane).toContainText(/begun/);
  await expect.poll(() => pocket.pulses()).toBeGreaterThan(before);
  await pictures(floor, 'begun-asked');

  const askedAt = (await floor.server.floor()).now;
  await floor.touch(chair, /It has begun, −5 min|−5 min/);
  await floor.stage('apply');
  const facts = await floor.server.facts('visit-0001');
  expect(facts.passes[0]?.begun?.at).toBe(askedAt + SECOND - 5 * MINUTE);
  expect(facts.bells).toEqual([]);
  // 18 minutes from first touch, 5 of them gone.
  await floor.expectFigure('13 min');
  await pictures(floor, 'begun-added');
  await floor.close();
});

test('[E6] a strand test is due on all screens; ready gives the head two minutes', async ({ browser }) => {
  test.setTimeout(180_000);
  const floor = await begunFloor(browser, relaxer(tested));
  const { wall, chair, pocket } = floor;
  const lane = wall.page.locator('[data-chair="2"]');
  await floor.touch(chair, /^Begin/);
  await floor.stage('apply');
  const begunAt = (await floor.server.facts('visit-0001')).passes[0]?.begun?.at ?? 0;
  await at(floor, begunAt, 15, 'All of it is on');
  await floor.stage('process');
  await floor.expectFigure('5:00');
  await floor.pass(5 * MINUTE);
  expect(await lane.getAttribute('data-level')).toBe('CAUTION');
  await floor.expectFigure('0:00');
  await pictures(floor, 'test-due');
  await floor.touch(chair, 'Strand test');
  await floor.touch(chair, 'Not yet');
  await floor.settle();
  expect(await lane.getAttribute('data-level')).toBeNull();
  await floor.pass(2 * MINUTE);
  await floor.touch(chair, 'Strand test');
  await floor.touch(chair, 'Ready');
  await floor.settle();
  await floor.expectFigure('2:00');
  await expect(lane).toHaveAttribute('data-level', 'WARNING');
  // Somebody has just tested: for a minute the others are shown it and not rung (R3).
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toHaveCount(0);
  await floor.pass(MINUTE);
  await expect(pocket.page.getByRole('button', { name: /I’ll go to 2/ })).toBeVisible();
  await pictures(floor, 'ready');
  await floor.pass(MINUTE);
  await expect(lane).toHaveAttribute('data-level', 'DANGER');
  await floor.close();
});
