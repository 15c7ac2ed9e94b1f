import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { PushedSalon, MINUTE, SECOND } from './kit.ts';

let salon: PushedSalon;
beforeEach(async () => {
  salon = await PushedSalon.open();
});
afterEach(() => salon.close());

const AMA = 'person-ama';
const ATTEMPT = 8 * SECOND;

describe('a push service in trouble delays neither a command nor another phone', () => {
  test('[R7] one that hangs: the other phone is rung, touches are answered, and it is tried again after 8 s', async () => {
    const hanging = await salon.phone('device-hang', AMA, 'hang');
    const well = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    expect(await salon.had(well, 1)).toHaveLength(1);
    await salon.service.until(() => salon.service.asked >= 2);
    const taken = await salon.server.send({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: AMA });
    expect(taken.status).toBe(200);
    salon.service.behave(hanging, 'take');
    salon.server.timers.fire(ATTEMPT);
    await salon.settled();
    expect((await salon.told('device-hang')).body).toMatchObject({ trouble: 'slow' });
    salon.server.timers.fire(SECOND);
    const [late] = await salon.had(hanging, 1);
    expect(late?.message.notification.title).toBe('1: rinse now');
    await salon.settled();
    expect((await salon.told('device-hang')).body).toMatchObject({ trouble: null });
  });

  test.each([404, 410])('[R7] %i: the subscription is deleted, and nobody is asked there again', async (status) => {
    await salon.phone('device-gone', AMA, { status });
    const well = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.had(well, 1);
    await salon.service.until(() => salon.service.asked >= 2);
    await salon.settled();
    expect(await salon.told('device-gone')).toMatchObject({ status: 404, body: { code: 'not-subscribed' } });
    expect(salon.server.disk.reach.subscription('device-gone')).toBeNull();
    const asked = salon.service.asked;
    await salon.server.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    await salon.had(well, 2);
    await salon.settled();
    // The end to the one that is well, and the last test.
    expect(salon.service.asked).toBe(asked + 2);
  });

  test('[R7] 429: it is left alone for as long as it asks for', async () => {
    const busy = await salon.phone('device-busy', AMA, { status: 429, headers: { 'retry-after': '20' } });
    await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.service.until(() => salon.service.asked >= 1);
    await salon.settled();
    salon.service.behave(busy, 'take');
    salon.server.timers.fire(SECOND);
    await salon.settled();
    expect(salon.service.of(busy)).toEqual([]);
    salon.server.timers.fire(20 * SECOND);
    expect(await salon.had(busy, 1)).toHaveLength(1);
  });

  test('[R7] one that refuses: said to whoever holds the phone, and the next is tried all the same', async () => {
    const strict = await salon.phone('device-strict', AMA, { status: 403 });
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.service.until(() => salon.service.asked >= 1);
    await salon.settled();
    expect((await salon.told('device-strict')).body).toMatchObject({ trouble: 'refused' });
    salon.service.behave(strict, 'take');
    await salon.server.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 });
    expect((await salon.had(strict, 1))[0]?.message.notification.title).toBe('1: no longer needed');
  });

  test('[R7] turned off by the owner, what waits for such a one leaves no more', async () => {
    const busy = await salon.phone('device-busy', AMA, { status: 503 });
    await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.service.until(() => salon.service.asked >= 1);
    await salon.settled();
    await salon.turnPush(false);
    salon.tick();
    const turned = new Promise((resolve) => setImmediate(resolve));
    await turned;
    salon.service.behave(busy, 'take');
    const { asked } = salon.service;
    salon.server.timers.fire(SECOND);
    await salon.turnPush(true);
    // What stands is sent anew, once.
    expect(await salon.had(busy, 1)).toHaveLength(1);
    expect(salon.service.asked).toBe(asked + 1);
  });

  test('[R8] a disk that takes nothing: bells ring, pushes leave, and what could not be kept is asked again', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const fresh = salon.service.subscribe();
    const { reach } = salon.server.disk;
    await salon.processing();
    salon.server.disk.declareDamaged('a planted damage', 'check');
    const body = { person: AMA, endpoint: fresh.endpoint, keys: fresh.keys };
    expect(await salon.put('device-new', body)).toMatchObject({ status: 503, body: { code: 'again' } });
    salon.pass(12 * MINUTE);
    const [rinse] = await salon.had(phone, 1);
    expect((await salon.receipt(rinse?.message.notification.data.receipt ?? null)).status).toBe(200);
    expect(reach.subscription('device-ama')?.confirmedAt).toBeNull();
  });
});
