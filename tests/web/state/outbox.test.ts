import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { problemOf } from '../../../shared/problem.ts';
import { BEGIN, partDone, quiet, TouchingDevice, waterOn, type Net } from '../support/touching-device.ts';

const idsOf = (device: TouchingDevice): string[] => device.server.applied.map(({ request }) => request.id);

describe('sending', () => {
  it('[X3] a touch that goes out at once leaves its time to the server', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    const touch = await page.touch(partDone('visit-1', 0), { seen: 4 });
    expect(touch.state).toBe('done');
    expect(device.server.asked).toMatchObject([{ type: 'MarkPartDone', seen: 4, happenedAt: null, by: 'person-1' }]);
    await quiet();
    expect(device.memory.touches.size).toBe(0);
  });

  const nets: readonly Net[] = ['request-lost', 'answer-lost', 'hangs', 'again', 'failed', 'html', 'html-500', 'odd'];
  it.each(nets)(
    '[S8] "%s" is no outcome: sent again under its id, then naming its time, and done once',
    async (net) => {
      const device = new TouchingDevice();
      const page = await device.open();
      device.server.net = net;
      const touched = page.touch(partDone('visit-1', 0));
      await device.pass(21 * SECOND, page);
      expect(page.outbox.touches).toMatchObject([{ state: 'waiting' }]);
      expect(page.outbox.touches[0]?.tries).toBeGreaterThan(1);
      device.server.net = 'through';
      await device.pass(10 * SECOND, page);
      expect((await touched).state).toBe('done');
      expect(new Set(device.server.asked.map(({ id }) => id)).size).toBe(1);
      expect(device.server.applied.length).toBe(1);
      const [first, ...later] = device.server.asked;
      expect(first?.happenedAt).toBeNull();
      expect(new Set(later.map(({ happenedAt }) => happenedAt))).toEqual(new Set([BEGIN]));
    },
  );

  it('[X3] waits grow from 1.5 s to 10 s, and end at once when the link comes back', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.net = 'request-lost';
    void page.touch(partDone('visit-1', 0));
    await quiet();
    const at: number[] = [0];
    for (let s = 0; s < 120; s++) {
      const before = device.server.asked.length;
      await device.pass(500, page);
      if (device.server.asked.length > before) at.push(device.timers.nowMs);
    }
    expect(at.slice(0, 6)).toEqual([0, 1_500, 4_500, 10_500, 20_500, 30_500]);
    device.server.linked = false;
    await device.pass(20 * SECOND, page);
    const before = device.server.asked.length;
    device.server.linked = true;
    device.server.net = 'through';
    page.outbox.look();
    await quiet();
    expect(device.server.asked.length).toBe(before + 1);
  });

  it('[X3] without a link nothing but water is sent; it goes when the link is there, with its own time', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await device.pass(MINUTE, page);
    void page.touch(partDone('visit-1', 1));
    await device.pass(19 * MINUTE, page);
    expect(device.server.asked).toEqual([]);
    device.server.linked = true;
    await device.pass(SECOND, page);
    expect(device.server.applied.map(({ request, at }) => [request.type, at - BEGIN])).toEqual([
      ['MarkPartDone', 0],
      ['MarkPartDone', MINUTE],
    ]);
  });
});

describe('water and burns', () => {
  it('[S2] go out in the same instant: not waiting for store, lease or link, nor for what is stuck elsewhere', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.net = 'again';
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await quiet();
    device.server.net = 'through';
    void page.touch(waterOn('visit-2'));
    expect(device.server.asked.at(-1)).toMatchObject({ type: 'BeginRinse', happenedAt: null });
  });

  it('[S2] go before the store has opened at all', async () => {
    const device = new TouchingDevice();
    device.memory.readTouches = () => new Promise(() => undefined);
    const page = await device.open();
    void page.touch({ type: 'ReportBurns', chair: 1, visit: null, place: 'eye' });
    expect(device.server.asked).toMatchObject([{ type: 'ReportBurns' }]);
  });

  it('[S2] pass what the server says it cannot take now, at their own head too', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.judge = ({ type }) => (type === 'BeginRinse' ? null : { status: 503, body: problemOf('again') });
    void page.touch(partDone('visit-1', 0));
    await quiet();
    void page.touch(waterOn('visit-1'));
    await quiet();
    expect(device.server.applied.map(({ request }) => request.type)).toEqual(['BeginRinse']);
  });

  it('[S2] the client before it at the chair goes first, though no link is known of', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    device.server.net = 'request-lost';
    void page.touch({ type: 'BeginApplication', chair: 1, visit: null, service: null }, { chair: 1 });
    void page.touch(waterOn(null), { chair: 1 });
    await quiet();
    device.server.net = 'through';
    await device.pass(2 * SECOND, page);
    expect(device.server.applied.map(({ request }) => request.type)).toEqual(['BeginApplication', 'BeginRinse']);
  });

  it('[S2] kept in the server’s memory only: shown so, and asked for again until its disk has it', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    let disk = false;
    const answer = { visit: 'visit-1', version: 1, revision: 0 };
    device.server.post = async (request) => {
      device.server.asked.push(request);
      return { status: disk ? 200 : 202, body: { ...answer, outcome: disk ? 'done' : 'kept-unsaved' } };
    };
    expect((await page.touch(waterOn('visit-1'))).state).toBe('kept-unsaved');
    void page.touch(partDone('visit-1', 3));
    await quiet();
    expect(device.server.asked.length).toBe(2);
    disk = true;
    await device.pass(12 * SECOND, page);
    await device.pass(12 * SECOND, page);
    expect(page.outbox.touches.filter(({ state }) => state === 'kept-unsaved')).toEqual([]);
    expect(device.server.asked.filter(({ type }) => type === 'BeginRinse').length).toBe(2);
  });
});

describe('order', () => {
  it('[S7] the next of a head goes only after the one before has its outcome; heads do not hold each other up', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.judge = ({ type }) => (type === 'SayPrep' ? { status: 503, body: problemOf('again') } : null);
    void page.touch({ type: 'SayPrep', visit: 'visit-1', complete: true });
    void page.touch(partDone('visit-1', 0));
    void page.touch(partDone('visit-2', 0));
    await device.pass(5 * SECOND, page);
    expect(device.server.applied.map(({ request }) => request)).toMatchObject([{ visit: 'visit-2' }]);
    device.server.judge = () => null;
    await device.pass(10 * SECOND, page);
    expect(device.server.applied.slice(1).map(({ request }) => request.type)).toEqual(['SayPrep', 'MarkPartDone']);
  });

  it('[S8] what creates a visit is first of the lane that goes by its id', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    void page.touch({ type: 'BeginApplication', chair: 1, visit: null, service: null }, { chair: 1 });
    const visit = page.outbox.touches[0]?.id ?? '';
    void page.touch(partDone(visit, 0), { chair: 1 });
    void page.touch({ type: 'SeatVisit', chair: 1, service: null, stylist: null, label: null }, { chair: 1 });
    void page.touch({ type: 'SetHeat', visit: page.outbox.touches[2]?.id ?? '', on: true }, { chair: 1 });
    expect(page.outbox.touches.map(({ lane }) => lane)).toEqual([visit, visit, visit, visit]);
    device.server.linked = true;
    await device.pass(SECOND, page);
    expect(device.server.applied.map(({ request }) => request.type)).toEqual([
      'BeginApplication',
      'MarkPartDone',
      'SeatVisit',
      'SetHeat',
    ]);
  });

  it('[S7] a touch made on top of one of our own has seen the version that it made', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0), { seen: 5 });
    const over = page.outbox.touches[0]?.id ?? null;
    void page.touch({ type: 'TakeBack', visit: 'visit-1' }, { seen: 5, over });
    device.server.linked = true;
    for (let version = 1; version <= 8; version++) device.server.applied.push({ at: 0, request: {} as never });
    await device.pass(SECOND, page);
    expect(device.server.asked.map(({ seen }) => seen)).toEqual([5, 9]);
    expect(idsOf(device).length).toBe(10);
  });

  it('[X3] what waited behind a slow first sending does not come before it', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    let through = (): void => undefined;
    const post = device.server.post;
    device.server.post = async (request) => {
      if (request.type === 'SayPrep') await new Promise<void>((resolve) => (through = resolve));
      return post(request);
    };
    void page.touch({ type: 'SayPrep', visit: 'visit-1', complete: true });
    await device.pass(SECOND, page);
    void page.touch(partDone('visit-1', 0));
    await device.pass(3 * SECOND, page);
    through();
    await quiet();
    // The first was recorded at its arrival, four seconds in: the second, touched after one, may not precede it.
    expect(device.server.applied.map(({ at }) => at - BEGIN)).toEqual([4 * SECOND, 4 * SECOND]);
  });
});
