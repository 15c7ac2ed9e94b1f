import 'fake-indexeddb/auto';
import { describe, expect, it } from 'vitest';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { openDeviceStore } from '../../../web/src/state/device-store.ts';
import { HandTimers } from '../support/hand-timers.ts';
import { BEGIN, partDone, quiet, TouchingDevice } from '../support/touching-device.ts';

describe('the queue in a browser’s database', () => {
  it('[X3] survives the page: read anew, sent in order by their times, and gone once done', async () => {
    const device = new TouchingDevice();
    const open = () => openDeviceStore(new HandTimers(), 'queue-of-a-phone');
    device.store = await open();
    const page = await device.open();
    device.server.linked = false;
    for (const part of [0, 1, 2]) {
      void page.touch(partDone('visit-1', part), { seen: 4 });
      await device.pass(MINUTE, page);
    }
    page.die();
    device.store = await open();
    const next = await device.open();
    expect(next.outbox.touches.map(({ command, seen }) => [command, seen])).toEqual(
      [0, 1, 2].map((part) => [partDone('visit-1', part), 4]),
    );
    device.server.linked = true;
    await device.pass(10 * SECOND, next);
    expect(device.server.applied.map(({ at }) => at - BEGIN)).toEqual([0, MINUTE, 2 * MINUTE]);
    await quiet();
    expect(await device.store.readTouches()).toEqual([]);
  });
});
