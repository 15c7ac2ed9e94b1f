import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import AxeBuilder from '@axe-core/playwright';
import { expect, test, type Locator } from '@playwright/test';
import { Webhook } from 'standardwebhooks';
import type { HookDocument } from '../../shared/hooks.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';
import { Device, lookAgain } from './devices.ts';

let server: ServerProcess;
test.beforeAll(async () => {
  server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer());
});
test.afterAll(() => server.stop());

/** A lamp that believes only what is signed with its secret (reference library of Standard Webhooks). */
async function lampOn() {
  const heard: HookDocument[] = [];
  let secret = '';
  const lamp = createServer((request, response) => {
    let body = '';
    request.setEncoding('utf8').on('data', (part: string) => (body += part));
    request.on('end', () => {
      try {
        heard.push(new Webhook(secret).verify(body, request.headers as Record<string, string>) as HookDocument);
        response.writeHead(204).end();
      } catch {
        response.writeHead(401).end();
      }
    });
  });
  await new Promise<void>((listens) => lamp.listen(0, '127.0.0.1', listens));
  return {
    heard,
    url: `http://127.0.0.1:${(lamp.address() as AddressInfo).port}/`,
    learns: (told: string) => void (secret = told),
    off: () => lamp.close(),
  };
}

const sections = ['room', 'reach', 'push', 'hooks'] as const;

/** By touch or mouse until it has been held for a second. */
async function hold(device: Device, button: Locator): Promise<void> {
  await button.scrollIntoViewIfNeeded();
  const box = await button.boundingBox();
  if (box === null) throw new Error('nothing to hold');
  await device.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await device.page.mouse.down();
  await expect(button).toBeHidden();
  await device.page.mouse.up();
}

test('[R9] the owner adds a lamp, copies its secret, tests it; a burn lights it; it is put off, and removed by holding', async ({
  browser,
}) => {
  const lamp = await lampOn();
  const salon = await Device.open(browser, server, '/salon');
  await lookAgain(server, [salon]);
  const hooks = salon.page.locator('#hooks');
  const press = (name: string) => hooks.getByRole('button', { name, exact: true }).click();
  await press('Add a light or buzzer');
  await hooks.getByLabel(/^Name/).fill('Lamp');
  await hooks.getByLabel(/^Address/).fill(`${server.address}/`);
  await hooks.getByLabel(/^Address/).press('Enter');
  await expect(hooks).toContainText('is not this server’s own');
  await hooks.getByLabel(/^Address/).fill(lamp.url);
  await hooks.getByLabel(/^Address/).press('Enter');
  lamp.learns(await hooks.getByText(/^whsec_/).innerText());
  await press('I have copied it');
  await expect(hooks.getByText(/whsec_/)).toHaveCount(0);
  await press('Test Lamp');
  await expect(hooks).toContainText('It arrived: answered 204');
  expect(lamp.heard.map(({ type }) => type)).toEqual(['bell.test']);

  await server.do({ type: 'ReportBurns', chair: 2, visit: null, place: 'skin' });
  await expect
    .poll(() => lamp.heard.at(-1)?.data)
    .toMatchObject({
      step: 'rung',
      kind: 'burns',
      level: 'DANGER',
      subject: { chair: 2, label: '2' },
    });
  await press('Put off Lamp');
  await expect(hooks).toContainText('Put off: it is told nothing.');
  await press('Remove Lamp');
  await hold(salon, hooks.getByRole('button', { name: /^Remove Lamp/ }));
  await expect(hooks).toContainText('None yet.');
  await salon.close();
  lamp.off();
});

test('[W4] the room is set, heard by the path of a bell, and stands after a new start of the page', async ({
  browser,
}) => {
  const salon = await Device.open(browser, server, '/salon');
  await lookAgain(server, [salon]);
  const room = salon.page.locator('#room');
  await room.getByText('spoken', { exact: true }).click();
  await expect(room).toContainText('rinse now');
  await room.getByLabel('Volume of CAUTION').fill('90');
  await expect(room).toContainText('may not be softer');
  await room.getByLabel('Volume of CAUTION').fill('45');
  await room.getByRole('button', { name: 'Save' }).first().click();
  await expect(room).toContainText('Saved');
  await room.getByRole('button', { name: 'Hear CAUTION on this device' }).click();
  await expect(room).toContainText('The server rang CAUTION on this device');
  await expect.poll(() => salon.pulses()).toBeGreaterThan(0);

  const push = salon.page.locator('#push');
  await push.getByText('on', { exact: true }).click();
  await push.getByLabel(/^Contact/).fill('owner@corner-salon.example');
  await push.getByRole('button', { name: 'Save' }).first().click();
  await expect(push).toContainText('Saved');
  await salon.page.reload();
  await expect(room.getByLabel('Volume of CAUTION')).toHaveValue('45');
  await expect(push.getByLabel(/^Contact/)).toHaveValue('owner@corner-salon.example');
  await expect(push.getByRole('radio', { name: 'on', exact: true })).toBeChecked();
  await salon.close();
});

for (const colorScheme of ['light', 'dark'] as const) {
  test(`[W3] the sections about reach have names, contrast and room for a finger, ${colorScheme}`, async ({
    browser,
  }) => {
    const made = await fetch(`${server.address}/api/v1/hooks`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name: `Lamp ${colorScheme}`, url: 'http://lamp.invalid/' }),
    });
    expect(made.status).toBe(201);
    const salon = await Device.open(browser, server, '/salon', { colorScheme, width: 390, height: 844 });
    await lookAgain(server, [salon]);
    await salon.page.getByRole('button', { name: `Remove Lamp ${colorScheme}` }).click();
    await salon.page.getByRole('button', { name: 'Add a light or buzzer' }).click();
    const axe = new AxeBuilder({ page: salon.page }).withTags(['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa']);
    const { violations } = await sections.reduce((one, id) => one.include(`#${id}`), axe).analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
    for (const id of sections) {
      const small = await salon.page.locator(`#${id} button:visible`).evaluateAll((all) =>
        all
          .filter((one) => !one.classList.contains('heard'))
          .map((one) => ({ text: one.textContent, box: one.getBoundingClientRect() }))
          .filter(({ box }) => box.width < 64 || box.height < 64)
          .map(({ text }) => text),
      );
      expect(small, id).toEqual([]);
    }
    await salon.close();
  });
}
