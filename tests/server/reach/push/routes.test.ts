import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { PushedSalon } from './kit.ts';

let salon: PushedSalon;
beforeAll(async () => {
  salon = await PushedSalon.open();
});
afterAll(() => salon.close());

const good = () => {
  const { endpoint, keys } = salon.service.subscribe();
  return { person: 'person-ama', endpoint, keys };
};

describe('a subscription over HTTP', () => {
  test('[R7] is kept, told without its address, changed with whoever holds the phone, and forgotten', async () => {
    const body = good();
    const told = { device: 'device-one', person: 'person-ama', confirmedAt: null, trouble: null };
    expect(await salon.put('device-one', body)).toMatchObject({ status: 200, body: told });
    expect((await salon.told('device-one')).body).toEqual(told);
    const { madeAt } = salon.server.disk.reach.subscription('device-one') ?? { madeAt: 0 };
    salon.server.disk.reach.confirmSubscription('device-one', 5);
    expect((await salon.put('device-one', { ...body, person: 'person-joss' })).status).toBe(200);
    expect(salon.server.disk.reach.subscription('device-one')).toMatchObject({ person: 'person-joss', madeAt });
    // Another subscription has shown nothing yet.
    expect((await salon.put('device-one', good())).body).toMatchObject({ confirmedAt: null });
    expect((await salon.server.raw('DELETE', '/api/v1/push/subscriptions/device-one')).status).toBe(204);
    expect(await salon.server.raw('DELETE', '/api/v1/push/subscriptions/device-one')).toMatchObject({
      status: 404,
      body: { code: 'not-subscribed' },
    });
    expect((await salon.test('device-one')).body.code).toBe('not-subscribed');
  });

  test('[R7] the key is one and the same, and told only while pushes are on', async () => {
    const one = (await salon.server.raw('GET', '/api/v1/push')).body as unknown as { publicKey: string };
    expect(Buffer.from(one.publicKey, 'base64url')).toHaveLength(65);
    expect((await salon.server.raw('GET', '/api/v1/push')).body).toMatchObject({ on: true, publicKey: one.publicKey });
  });

  test.each([
    ['nobody of this salon', { person: 'person-none' }, 422, 'unknown-person', null],
    ['an address in the house', { endpoint: 'https://192.168.1.1/a' }, 400, 'invalid-body', 'endpoint'],
    ['plain http elsewhere', { endpoint: 'http://push.example/a' }, 400, 'invalid-body', 'endpoint'],
    ['no address at all', { endpoint: 'x' }, 400, 'invalid-body', 'endpoint'],
    ['an endless address', { endpoint: `https://push.example/${'a'.repeat(2_000)}` }, 400, 'invalid-body', 'endpoint'],
    [
      'a key off the curve',
      { keys: { p256dh: `BA${'A'.repeat(85)}`, auth: 'A'.repeat(22) } },
      400,
      'invalid-body',
      'keys.p256dh',
    ],
    ['a short secret', { keys: { p256dh: `BA${'A'.repeat(85)}`, auth: 'AAAA' } }, 400, 'invalid-body', 'keys.auth'],
    ['a field more', { more: 1 }, 400, 'invalid-body', 'more'],
  ])('[R7] is refused with %s', async (_what, change, status, code, field) => {
    const told = await salon.put('device-bad', { ...good(), ...change });
    expect(told).toMatchObject({ status, type: expect.stringContaining('application/problem+json') as string });
    expect(told.body).toMatchObject({ code, field });
    expect(salon.server.disk.reach.subscription('device-bad')).toBeNull();
  });

  test('[R7] a receipt or test that is none is refused in a sentence', async () => {
    const post = (path: string, body: string) => salon.server.raw('POST', `/api/v1/push/${path}`, body);
    expect((await post('receipts', '{}')).body.code).toBe('invalid-body');
    expect((await post('receipts', '{"receipt":7}')).body.code).toBe('invalid-body');
    expect((await post('receipts', 'x')).body.code).toBe('invalid-json');
    expect((await post('test', '{"device":"x"}')).body.code).toBe('invalid-body');
    expect((await post('receipts', JSON.stringify({ receipt: 'x'.repeat(2_000) }))).body.code).toBe('invalid-body');
  });
});
