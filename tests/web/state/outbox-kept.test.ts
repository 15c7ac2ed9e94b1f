import { describe, expect, it } from 'vitest';
import { HOUR, MINUTE, SECOND } from '../../../core/time.ts';
import { problemOf } from '../../../shared/problem.ts';
import type { ProblemCode } from '../../../shared/problem-code.ts';
import type { Response } from '../../../web/src/state/outcome.ts';
import { BEGIN, partDone, quiet, TouchingDevice, waterOn } from '../support/touching-device.ts';

const refusal = (code: ProblemCode): Response => ({ status: problemOf(code).status, body: problemOf(code) });

describe('over a reload', () => {
  it('[X3] a page that dies in the middle of sending: the next sends it again, by its time, done once', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.net = 'answer-lost';
    void page.touch(partDone('visit-1', 0));
    void page.touch(partDone('visit-1', 1));
    await quiet();
    page.die();
    device.server.net = 'through';
    await device.pass(10 * MINUTE);
    const next = await device.open();
    await device.pass(10 * SECOND, next);
    expect(device.server.applied.map(({ request, at }) => [(request as { part?: number }).part, at - BEGIN])).toEqual([
      [0, 0],
      [1, 0],
    ]);
    expect(device.memory.touches.size).toBe(0);
  });

  it('[X3] what was refused stays to be read, also after a reload, until it is put away on any page', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.judge = () => refusal('wrong-stage');
    expect((await page.touch(partDone('visit-1', 0))).problem?.code).toBe('wrong-stage');
    await quiet();
    page.die();
    const next = await device.open();
    const other = await device.open();
    expect(next.outbox.touches).toMatchObject([{ state: 'refused', problem: { code: 'wrong-stage' } }]);
    other.outbox.dismiss(next.outbox.touches[0]?.id ?? '');
    await quiet();
    expect(next.outbox.touches).toEqual([]);
    expect(device.memory.touches.size).toBe(0);
  });

  it('[X3] a refusal that nobody read goes after a day; a touch without an outcome never does', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.judge = ({ type }) => (type === 'SayPrep' ? refusal('wrong-stage') : null);
    await page.touch({ type: 'SayPrep', visit: 'visit-1', complete: true });
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await quiet();
    page.die();
    device.timers.advance(25 * HOUR);
    const next = await device.open();
    expect(next.outbox.touches.map(({ state }) => state)).toEqual(['waiting']);
    device.server.judge = () => refusal('time-too-old');
    device.server.linked = true;
    await device.pass(10 * SECOND, next);
    expect(next.outbox.touches).toMatchObject([{ state: 'refused', problem: { code: 'time-too-old' } }]);
  });
});

describe('what an older version left', () => {
  const id = 'left-by-older-1';
  it('[X3] a touch that lacks what came later is lifted and sent', async () => {
    const device = new TouchingDevice();
    device.memory.touches.set(id, { id, command: partDone('visit-1', 0), touchedAt: BEGIN - MINUTE, seen: 3 });
    const page = await device.open();
    await device.pass(SECOND, page);
    expect(device.server.applied).toMatchObject([{ request: { id, seen: 3, by: null }, at: BEGIN - MINUTE }]);
  });

  it('[X3] with the timescale it knew it goes by its own time', async () => {
    const device = new TouchingDevice();
    const touchedAt = BEGIN - MINUTE;
    device.memory.touches.set(id, { id, command: partDone('visit-1', 0), touchedAt, timescale: 'scale-0' });
    const page = await device.open();
    await device.pass(SECOND, page);
    expect(device.server.applied).toMatchObject([{ at: touchedAt }]);
  });

  it.each([
    ['words', 'part 3 done'],
    ['no command', { id, touchedAt: BEGIN }],
    ['no time', { id, command: partDone('visit-1', 0) }],
    ['another id', { id: 'someone-else-1', command: partDone('visit-1', 0), touchedAt: BEGIN }],
    ['a newer shape', { shape: 2, id, command: partDone('visit-1', 0), touchedAt: BEGIN }],
    ['a number that is none', { id, command: partDone('visit-1', 0), touchedAt: BEGIN, seen: 'three' }],
  ])('[X3] not understood (%s): kept and shown, not sent, gone only when a person says so', async (_why, value) => {
    const device = new TouchingDevice();
    device.memory.touches.set(id, value);
    const page = await device.open();
    await device.pass(MINUTE, page);
    expect(device.server.asked).toEqual([]);
    expect(page.outbox.unreadable).toEqual([{ id, value }]);
    expect(device.memory.touches.get(id)).toEqual(value);
    page.outbox.dismiss(id);
    await device.pass(10 * SECOND, page);
    expect(page.outbox.unreadable).toEqual([]);
    expect(device.memory.touches.size).toBe(0);
  });
});

describe('several pages of one device', () => {
  it('[S8] all show the same queue, one sends, and the page that was touched hears the outcome', async () => {
    const device = new TouchingDevice();
    const first = await device.open();
    const second = await device.open();
    await device.pass(2 * SECOND, first, second);
    expect([first.outbox.sends, second.outbox.sends]).toEqual([true, false]);
    device.server.linked = false;
    const touched = second.touch(partDone('visit-1', 0));
    await quiet();
    expect(first.outbox.touches).toEqual(second.outbox.touches);
    device.server.linked = true;
    await device.pass(2 * SECOND, first, second);
    expect((await touched).state).toBe('done');
    expect(device.server.asked.length).toBe(1);
  });

  it('[S8] they meet in the store where no page hears another', async () => {
    const device = new TouchingDevice();
    device.hub.silent = true;
    const first = await device.open();
    const second = await device.open();
    const touched = second.touch(partDone('visit-1', 0));
    await device.pass(10 * SECOND, first, second);
    expect((await touched).state).toBe('done');
    expect(device.server.asked.length).toBe(1);
  });

  it('[S8] a page that died lets go after six seconds, one that is hidden at once', async () => {
    const device = new TouchingDevice();
    const first = await device.open();
    const second = await device.open();
    first.die();
    await device.pass(5 * SECOND, second);
    expect(second.outbox.sends).toBe(false);
    await device.pass(3 * SECOND, second);
    expect(second.outbox.sends).toBe(true);
    second.hidden = true;
    second.outbox.resume();
    await quiet();
    const third = await device.open();
    expect(third.outbox.sends).toBe(true);
  });

  it('[S8] a lease that lies in the future, because the clock was set back, is none', async () => {
    const device = new TouchingDevice();
    (await device.open()).die();
    device.wallErrorMs = -HOUR;
    expect((await device.open()).outbox.sends).toBe(true);
  });

  it('[S8] a dead page is outlived even where the device’s clock stands still', async () => {
    const device = new TouchingDevice();
    (await device.open()).die();
    const next = await device.open();
    for (let s = 0; s < 20; s++) {
      device.wallErrorMs -= 500;
      await device.pass(500, next);
    }
    expect(next.outbox.sends).toBe(true);
  });
});

describe('storage that fails', () => {
  it('[R8] from the start: each page sends its own, and says that nothing outlives it', async () => {
    const device = new TouchingDevice();
    device.memory.fail('refused');
    const page = await device.open();
    expect(page.outbox.trouble).toBe('refused');
    expect((await page.touch(partDone('visit-1', 0))).state).toBe('done');
  });

  it('[R8] in between: what was touched is sent all the same', async () => {
    const device = new TouchingDevice();
    const first = await device.open();
    const second = await device.open();
    device.server.linked = false;
    const touched = second.touch(partDone('visit-1', 0));
    device.memory.fail('failed');
    first.die();
    device.server.linked = true;
    await device.pass(2 * SECOND, second);
    expect(second.outbox.trouble).toBe('failed');
    expect((await touched).state).toBe('done');
  });
});

describe('what the rules say of late touches', () => {
  it('[X3] moved-on for one that named its time is a statement; for one sent at once it is a refusal', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.judge = () => refusal('moved-on');
    expect((await page.touch(partDone('visit-1', 0))).state).toBe('refused');
    expect((await page.touch(partDone('visit-1', 1), { happenedAt: BEGIN - MINUTE })).state).toBe('statement');
    expect((await page.touch({ type: 'TakeBack', visit: 'visit-1' }, { happenedAt: BEGIN })).state).toBe('refused');
  });

  it('[X3] the time named is never in the server’s future', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await quiet();
    device.memory.touches.forEach((value) => Object.assign(value as object, { touchedAt: BEGIN + HOUR }));
    page.die();
    device.server.linked = true;
    const next = await device.open();
    await device.pass(MINUTE, next);
    expect(device.server.applied[0]?.at).toBeLessThanOrEqual(BEGIN + 10 * SECOND);
  });

  it('[X3] touched before the server was ever heard: as long ago as this device’s clock has gone on since', async () => {
    const device = new TouchingDevice();
    device.wallErrorMs = 3 * HOUR;
    device.timescale = null;
    device.server.linked = false;
    const page = await device.open();
    void page.touch(partDone('visit-1', 0));
    await device.pass(5 * MINUTE, page);
    device.server.linked = true;
    await device.pass(10 * SECOND, page);
    expect(device.server.asked).toEqual([]);
    device.timescale = 'scale-1';
    await device.pass(SECOND, page);
    expect(device.server.applied.map(({ at }) => at)).toEqual([BEGIN]);
  });
});

describe('a timescale that has changed since', () => {
  it('[T3] one that was set right meanwhile: as long ago as this device’s own clock says', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    // The server's time was lost, two hours behind, when it was touched.
    device.lostMs = -2 * HOUR;
    void page.touch(partDone('visit-1', 0));
    await device.pass(5 * MINUTE, page);
    Object.assign(device, { lostMs: 0, timescale: 'scale-2' });
    device.server.linked = true;
    await device.pass(SECOND, page);
    expect(device.server.applied.map(({ at }) => at)).toEqual([BEGIN]);
  });

  it('[T3] one that went on rightly over a restart: the instant of the touch, whatever this device’s clock did', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await device.pass(5 * MINUTE, page);
    Object.assign(device, { wallErrorMs: MINUTE, timescale: 'scale-2' });
    device.server.linked = true;
    await device.pass(SECOND, page);
    expect(device.server.applied.map(({ at }) => at)).toEqual([BEGIN]);
  });
});

describe('another salon’s server', () => {
  it('[S8] is not fed this queue: held, told, and sent once the right one answers again', async () => {
    const device = new TouchingDevice();
    const page = await device.open();
    const { salon } = device.server;
    device.server.linked = false;
    void page.touch(partDone('visit-1', 0));
    await quiet();
    for (const other of ['none', BEGIN] as const) {
      device.server.salon = other;
      device.server.linked = true;
      await device.pass(MINUTE, page);
      expect(device.server.asked).toEqual([]);
      expect(page.outbox.foreign.length).toBe(1);
    }
    // Whoever stands under the water stands under it now, whatever salon this is.
    void page.touch(waterOn(null));
    await quiet();
    expect(device.server.applied.map(({ request }) => request.type)).toEqual(['BeginRinse']);
    device.server.salon = salon;
    await device.pass(MINUTE, page);
    expect(device.server.applied.map(({ request }) => request.type)).toEqual(['BeginRinse', 'MarkPartDone']);
  });
});
