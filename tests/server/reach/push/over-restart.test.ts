import { afterEach, describe, expect, test } from 'vitest';
import { HOUR, MINUTE } from '../../../../core/time.ts';
import type { PushRequest } from '../../../../server/reach/push/post-push.ts';
import { Pushes } from '../../../../server/reach/push/pushes.ts';
import type { PushMessage } from '../../../../shared/push.ts';
import { opened, PushService, type Subscribed } from '../../../support/push-service.ts';
import { processing, salonBench, type Bench } from '../../engine/kit.ts';

let service: PushService | null = null;
afterEach(() => service?.close());

interface Run {
  readonly pushes: Pushes;
  readonly requests: PushRequest[];
  readonly said: string[];
}

/** Pushes of one run of the server; what leaves is kept and taken. */
function run(bench: Bench): Run {
  const requests: PushRequest[] = [];
  const said: string[] = [];
  const say = (_: object, message: string): void => void said.push(message);
  const pushes = new Pushes({
    tables: bench.disk.reach,
    engine: bench.engine,
    post: (request) => {
      requests.push(request);
      return { posted: Promise.resolve({ is: 'taken' }), abort: () => undefined };
    },
    timers: bench.timers,
    log: { error: say, warn: say, info: say },
    elapsed: () => bench.hand.at.mono,
    wall: () => bench.hand.at.wall,
    freshId: () => 'an-id',
    home: () => 'https://bell.example:4680/',
    ringsByPage: () => false,
    shown: (receipts) => bench.engine.confirm(receipts),
  });
  pushes.begin();
  return { pushes, requests, said };
}

const messages = ({ requests }: Run, one: Subscribed): PushMessage[] =>
  requests.map(({ body }) => JSON.parse(opened(body, one.secrets).toString()) as PushMessage);

/** What is due soon, and what that asks for in turn. */
async function soon(bench: Bench): Promise<void> {
  for (let i = 0; i < 6; i++) {
    bench.timers.runSoon();
    await Promise.resolve();
  }
}

async function atWork(): Promise<{ bench: Bench; phone: Subscribed; first: Run }> {
  const bench = await salonBench();
  await bench.do({ type: 'SetPush', on: true, contact: 'https://salon.example/about' });
  for (const person of ['person-ama', 'person-joss']) await bench.do({ type: 'BeginShift', person });
  service = await PushService.start();
  const phone = service.subscribe();
  const first = run(bench);
  first.pushes.keep('device-ama', { person: 'person-ama', endpoint: 'https://push.example/a', keys: phone.keys });
  return { bench, phone, first };
}

describe('over a restart', () => {
  test('[R8] a bell that rings on has the same tag, so that it is shown once; receipts of before still count', async () => {
    const { bench, phone, first } = await atWork();
    const visit = await processing(bench);
    await bench.do({ type: 'NameStylist', visit, stylist: 'person-ama' });
    bench.pass(12 * MINUTE);
    await soon(bench);
    const [before] = messages(first, phone);
    expect(before?.notification.title).toBe('1: rinse now');
    bench.restart();
    const second = run(bench);
    await soon(bench);
    const [after] = messages(second, phone);
    expect(after?.notification.tag).toBe(before?.notification.tag);
    expect(second.pushes.hear(before?.notification.data.receipt ?? '')).toBe('shown');
    bench.pass(1_000);
    expect(bench.facts(visit).bells[0]?.shown).toMatchObject([{ person: 'person-ama' }]);
    // Its key is the one that phones subscribed with.
    expect(second.pushes.told).toEqual(first.pushes.told);
  });

  test('[R7] a receipt is worth something for a quarter of an hour', async () => {
    const { bench, phone, first } = await atWork();
    first.pushes.test('device-ama');
    await soon(bench);
    const receipt = messages(first, phone)[0]?.notification.data.receipt ?? '';
    bench.hand.pass(16 * MINUTE);
    expect(first.pushes.hear(receipt)).toBe('too-old');
    expect(first.pushes.subscription('device-ama')?.confirmedAt).toBeNull();
    bench.hand.pass(-2 * MINUTE);
    expect(first.pushes.hear(receipt)).toBe('shown');
  });

  test('[T3] while the time is uncertain bells are held back and it is said once; what stands then leaves', async () => {
    const { bench, phone } = await atWork();
    const visit = await processing(bench);
    await bench.do({ type: 'NameStylist', visit, stylist: 'person-ama' });
    bench.pass(MINUTE);
    bench.hand.reboot(-HOUR);
    bench.restart();
    const second = run(bench);
    bench.pass(4 * MINUTE);
    await soon(bench);
    expect(bench.engine.floor.salon.uncertainSince).not.toBeNull();
    expect(bench.bells(visit)).toEqual(['rinse WARNING #1']);
    expect(second.requests).toEqual([]);
    expect(second.said).toEqual(['pushes are held back: the time of the floor is not certain']);
    expect(second.pushes.reaches('person-ama')).toBe(false);
    await bench.do({ type: 'ConfirmTime', awayMs: 8 * MINUTE }, { by: 'person-ama' });
    await soon(bench);
    expect(messages(second, phone).map(({ notification }) => notification.title)).toEqual(['1: rinse now']);
    expect(second.said).toHaveLength(2);
  });
});
