import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { PushedSalon, MINUTE, SECOND } from './kit.ts';

let salon: PushedSalon;
beforeEach(async () => {
  salon = await PushedSalon.open();
});
afterEach(() => salon.close());

const AMA = 'person-ama';
const JOSS = 'person-joss';

describe('a bell on its way to a phone', () => {
  test('[R7] the pre-bell, the bell with a tag of its own in its place, and a seen end with the last tag', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(7 * MINUTE);
    const [soon] = await salon.had(phone, 1);
    expect(soon).toMatchObject({ ttl: 300, urgency: 'high', claims: { sub: 'mailto:owner@salon.example' } });
    expect(soon?.message).toMatchObject({ web_push: 8030, mutable: true });
    // Noon in Berlin is 13:00; begun then, so it opens at 13:25 and closes at 13:30.
    expect(soon?.message.notification).toMatchObject({
      title: '1: rinse soon',
      body: 'Notice · from 13:25, off by 13:30',
      lang: 'en',
      dir: 'ltr',
      silent: false,
      data: { path: '/pocket', replaces: null },
    });
    salon.pass(5 * MINUTE);
    const [, rinse] = await salon.had(phone, 2);
    expect(rinse?.message.notification).toMatchObject({ title: '1: rinse now', body: 'Warning · off by 13:30' });
    expect(rinse?.message.notification.tag).not.toBe(soon?.message.notification.tag);
    expect(rinse?.message.notification.data.replaces).toBe(soon?.message.notification.tag);
    // One topic: what a sleeping phone has not fetched yet is replaced at the push service.
    expect(rinse?.topic).toBe(soon?.topic);
    await salon.server.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { by: JOSS });
    const [, , ended] = await salon.had(phone, 3);
    expect(ended?.message.notification).toMatchObject({
      title: '1: no longer needed',
      tag: rinse?.message.notification.tag,
      silent: true,
      data: { receipt: null },
    });
    expect(ended?.topic).toBe(rinse?.topic);
    expect(salon.service.faults).toEqual([]);
  });

  test('[R7] names no client and nobody who works there, and leads to this server', async () => {
    const phone = await salon.phone('device-ama', AMA);
    await salon.processing();
    salon.pass(12 * MINUTE);
    const [first] = await salon.had(phone, 1);
    expect(JSON.stringify({ ...first?.message.notification, data: null })).not.toMatch(/Example|Ama|Joss|person-/);
    expect(first?.message.notification.navigate).toMatch(/^http:\/\/localhost:\d+\/pocket$/);
  });

  test('[R6] carried on it reaches further people, and rings again with a fresh tag at those it had reached', async () => {
    await salon.server.send({ type: 'AddPerson', name: 'Noor', roles: ['stylist'] }, { id: 'person-noor' });
    await salon.server.send({ type: 'BeginShift', person: 'person-noor' });
    const ama = await salon.phone('device-ama', AMA);
    const noor = await salon.phone('device-noor', 'person-noor');
    await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.had(ama, 1);
    await salon.settled();
    expect(salon.service.of(noor)).toEqual([]);
    salon.pass(45 * SECOND);
    const [one] = await salon.had(noor, 1);
    const [first, second] = await salon.had(ama, 2);
    expect(one?.message.notification.title).toBe('1: rinse now');
    expect(second?.message.notification.tag).not.toBe(first?.message.notification.tag);
  });

  test('[R3] is not sent to whoever takes it, and asked again says nothing', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    await salon.had(phone, 1);
    await salon.server.send({ type: 'TakeBell', visit, chair: null, cause: 'off' }, { by: AMA });
    for (let i = 0; i < 3; i++) salon.tick();
    await salon.settled();
    expect(salon.service.of(phone)).toHaveLength(1);
    // A taking that has run out rings anew (R3).
    salon.pass(91 * SECOND);
    expect((await salon.had(phone, 2))[1]?.message.notification.title).toMatch(/^1: /);
  });
});

describe('receipts', () => {
  const receiptOf = async (phone: Awaited<ReturnType<PushedSalon['phone']>>, n: number) =>
    (await salon.had(phone, n + 1))[n]?.message.notification.data.receipt ?? null;

  test('[R7] shown is what the phone says, and is recorded once however often it says so', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    const receipt = await receiptOf(phone, 0);
    expect(salon.shown(visit)).toEqual([]);
    expect(await salon.receipt(receipt)).toMatchObject({ status: 200, body: { outcome: 'shown' } });
    expect(await salon.receipt(receipt)).toMatchObject({ status: 200, body: { outcome: 'already' } });
    salon.pass(SECOND);
    expect(salon.shown(visit)).toEqual([AMA]);
    expect((await salon.told('device-ama')).body).toMatchObject({
      person: AMA,
      confirmedAt: expect.any(Number) as number,
    });
  });

  test('[R7] out of order, the one of a lesser level records nothing', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(7 * MINUTE);
    const soon = await receiptOf(phone, 0);
    salon.pass(5 * MINUTE);
    const rinse = await receiptOf(phone, 1);
    salon.pass(3 * MINUTE);
    const over = await receiptOf(phone, 2);
    for (const one of [over, rinse, soon]) expect((await salon.receipt(one)).status).toBe(200);
    salon.pass(SECOND);
    const [bell] = salon.server.engine.floor.visits[visit]?.facts.bells ?? [];
    expect(bell).toMatchObject({ kind: 'over', level: 'DANGER', shown: [{ person: AMA }] });
    expect(salon.shown(visit)).toEqual([AMA]);
  });

  test('[R7] of a bell that has ended, of a phone that somebody else holds, and made up ones', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    salon.pass(12 * MINUTE);
    const receipt = await receiptOf(phone, 0);
    await salon.server.send({ type: 'BeginRinse', chair: 1, visit, basin: 91 }, { by: JOSS });
    expect((await salon.receipt(receipt)).status).toBe(200);
    salon.pass(SECOND);
    expect(salon.shown(visit)).toEqual([]);
    await salon.put('device-ama', { person: JOSS, endpoint: phone.endpoint, keys: phone.keys });
    expect(await salon.receipt(receipt)).toMatchObject({ status: 422, body: { code: 'receipt-unknown' } });
    const [body = ''] = (receipt ?? '').split('.');
    for (const forged of ['x', 'a.b.c', body, `${body}.AAAA`, `${body}.${'A'.repeat(22)}`]) {
      expect(await salon.receipt(forged)).toMatchObject({ status: 422, body: { code: 'receipt-unknown' } });
    }
  });

  test('[R7] a device counts as reached by push only once a push to it was shown', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const reach = () => {
      salon.server.presence.look(salon.server.engine.floor, salon.server.engine.heartbeat().now);
      return salon.server.presence.told.people.find(({ person }) => person === AMA)?.how;
    };
    expect(reach()).toBe('no');
    expect(await salon.test('device-ama')).toMatchObject({ status: 202, body: { outcome: 'sending' } });
    const receipt = await receiptOf(phone, 0);
    expect(salon.service.of(phone)[0]?.message.notification.title).toBe('Test of this phone');
    expect(reach()).toBe('no');
    expect((await salon.receipt(receipt)).status).toBe(200);
    expect(reach()).toBe('push');
    // Its push service takes nothing any more: hope is not enough.
    salon.service.behave(phone, { status: 503 });
    await salon.test('device-ama');
    await salon.service.until(() => salon.service.asked >= 2);
    await salon.settled();
    expect(reach()).toBe('no');
  });
});

describe('whether it is sent', () => {
  test('[R7] not to a phone whose page rings; once it is locked it is, though no event says so', async () => {
    const phone = await salon.phone('device-ama', AMA);
    await salon.processing();
    // It says so every few seconds: nothing older is believed.
    salon.server.hand.pass(12 * MINUTE);
    salon.here('device-ama', AMA);
    salon.server.engine.turn();
    await salon.settled();
    expect(salon.service.of(phone)).toEqual([]);
    salon.here('device-ama', AMA, { seen: false });
    salon.tick();
    expect((await salon.had(phone, 1))[0]?.message.notification.title).toBe('1: rinse now');
  });

  test('[R7] DANGER also to a phone whose page rings', async () => {
    const phone = await salon.phone('device-ama', AMA);
    const visit = await salon.processing();
    // Whoever did something there within three minutes stands there (R3).
    salon.pass(4 * MINUTE);
    salon.here('device-ama', AMA);
    await salon.server.send({ type: 'ReportBurns', chair: 1, visit, place: 'skin' }, { by: JOSS });
    const [burns] = await salon.had(phone, 1);
    expect(burns?.message.notification).toMatchObject({ title: '1: burns or in the eye, water now', body: 'Danger' });
  });

  test('[R7] nothing leaves before the owner turned it on, and nothing after it was turned off', async () => {
    const phone = await salon.phone('device-ama', AMA);
    await salon.turnPush(false);
    await salon.processing();
    salon.pass(12 * MINUTE);
    salon.tick();
    expect((await salon.server.raw('GET', '/api/v1/push')).body).toMatchObject({ on: false, publicKey: null });
    expect((await salon.test('device-ama')).body.code).toBe('push-off');
    await salon.turnPush(true);
    expect(await salon.had(phone, 1)).toHaveLength(1);
  });
});
