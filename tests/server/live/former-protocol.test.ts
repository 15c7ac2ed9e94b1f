import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import type { Bell } from '../../../core/bells/bell.ts';
import type { Floor } from '../../../core/floor.ts';
import type * as translation from '../../../server/live/former-protocol/translation.ts';
import { meantNow, toldFormerly } from '../../../server/live/former-protocol/translation.ts';
import { FORMER_PROTOCOL, PROTOCOL } from '../../../shared/protocol.ts';
import type { CommandRequest, Snapshot } from '../../../shared/wire.ts';
import type { TestServer } from '../routes/kit.ts';
import { listening, Screen } from './kit.ts';

vi.mock('../../../server/live/former-protocol/translation.ts', async (original) => {
  const real = await original<typeof translation>();
  return { ...real, toldFormerly: vi.fn(real.toldFormerly), pushedFormerly: vi.fn(real.pushedFormerly) };
});

let server: TestServer;
let address: string;
let screens: Screen[] = [];
const open = async (): Promise<Screen> => {
  const screen = new Screen(address);
  screens.push(screen);
  return screen.connected();
};

beforeEach(async () => {
  vi.mocked(toldFormerly).mockClear();
  ({ server, address } = await listening());
});
afterEach(async () => {
  for (const { socket } of screens) socket.disconnect();
  screens = [];
  await server.app.http.close();
});

describe('a screen of the former protocol', () => {
  it('[R10] joins, is told that its protocol is spoken, and follows like any other', async () => {
    const [now, former] = [await open(), await open()];
    await now.join();
    const answer = await former.join('floor', FORMER_PROTOCOL);
    const whole = JSON.parse(answer.outcome === 'joined' ? (answer.snapshots[0] ?? '') : '') as Snapshot;
    expect(whole.protocol).toBe(FORMER_PROTOCOL);
    await server.post({ id: 'visit-0001', type: 'BeginApplication', chair: 2 });
    server.hand.pass(27 * MINUTE);
    server.engine.turn();
    await Promise.all([now, former].map((screen) => screen.at(server.engine.revision)));
    const visit = former.entities['visit/visit-0001'];
    expect(visit).toMatchObject({ facts: { stage: 'apply', bells: [{ kind: 'pace' }, { kind: 'rinse' }] } });
    expect(former.gaps).toBe(0);
    // Today's facts are more than it knew.
    expect(Object.keys(now.entities)).toEqual(Object.keys(former.entities));
    expect(visit).toEqual(toldFormerly(now.entities['visit/visit-0001'] as never));
    expect(now.entities['salon']?.facts).toHaveProperty('room');
    expect(former.entities['salon']?.facts).not.toHaveProperty('room');
    expect(former.entities['person/person-ama']?.facts).toEqual({
      id: 'person-ama',
      roles: ['stylist'],
      retired: false,
    });
  });

  it('[R10] hears each change once, and nobody else hears it in its words', async () => {
    const [now, former] = [await open(), await open()];
    await Promise.all([now.join(), former.join('floor', FORMER_PROTOCOL)]);
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await Promise.all([now, former].map((screen) => screen.at(body.revision)));
    expect([now.pushes.length, former.pushes.length]).toEqual([1, 1]);
    await former.join('floor', PROTOCOL);
    const next = await server.post({ id: 'visit-0002', type: 'SeatVisit', chair: 3 });
    await former.at(next.body.revision);
    expect(former.pushes).toHaveLength(2);
    expect(former.pushes[1]).toEqual(now.pushes[1]);
  });

  it('[T5] hears one heartbeat, without what is newer than itself', async () => {
    const [now, former] = [await open(), await open()];
    await Promise.all([now.join(), former.join('floor', FORMER_PROTOCOL)]);
    const beats = Promise.all([now.next('heartbeat'), former.next('heartbeat')]);
    for (const task of server.timers.repeated) task();
    const [beat, told] = await beats;
    expect(beat).toEqual(server.engine.heartbeat());
    expect(Object.keys(told).sort()).toEqual([
      'awayMs',
      'civilOffsetMs',
      'now',
      'revision',
      'run',
      'storage',
      'timescale',
      'unsaved',
    ]);
  });

  it('[R10] costs nothing while none is there, and one translation per revision however many are', async () => {
    const one = await open();
    await one.join();
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await one.at(body.revision);
    expect(toldFormerly).not.toHaveBeenCalled();
    const former = await Promise.all([open(), open(), open()]);
    for (const screen of former) await screen.join('floor', FORMER_PROTOCOL);
    expect(toldFormerly).toHaveBeenCalledTimes(Object.keys(one.entities).length);
  });

  it('[S7] its commands are done', async () => {
    const former = await open();
    await former.join('floor', FORMER_PROTOCOL);
    const { status, body } = await server.post({
      id: 'touch-0001',
      by: 'person-ama',
      device: null,
      seen: null,
      happenedAt: null,
      type: 'BeginRinse',
      chair: 2,
      visit: null,
      basin: 91,
    });
    expect(status).toBe(200);
    await former.at(body.revision);
    expect(Object.keys(former.entities)).toContain('visit/touch-0001');
  });

  it('[T5] one of a protocol further off is told to reload', async () => {
    const screen = await open();
    for (const protocol of [FORMER_PROTOCOL - 1, PROTOCOL + 1]) {
      const answer = await screen.join('floor', protocol);
      expect(answer).toMatchObject({ outcome: 'refused', problem: { code: 'unknown-protocol' } });
    }
  });
});

describe('"I’ll go" to a bell that was told as another one', () => {
  const floor = (causes: readonly string[]): Floor => {
    const bells = causes.map((cause) => ({ cause }) as unknown as Bell);
    return { visits: { 'visit-0001': { facts: { bells } } } } as unknown as Floor;
  };
  const take = (cause: string, visit: string | null = 'visit-0001') => {
    return { type: 'TakeBell', id: 'touch-0001', visit, cause } as unknown as CommandRequest;
  };

  it('[R3] takes the bell that was meant', () => {
    expect(meantNow(take('long-stage'), floor(['off', 'newly-invented']))).toEqual(take('newly-invented'));
  });
  it('[R3] stays as it is where the named bell stands, or no other could be meant', () => {
    for (const [command, causes] of [
      [take('long-stage'), ['long-stage', 'newly-invented']],
      [take('long-stage'), ['off']],
      [take('off'), ['newly-invented']],
      [take('long-stage', null), ['newly-invented']],
      [take('long-stage', 'visit-unknown'), ['newly-invented']],
    ] as const) {
      expect(meantNow(command, floor(causes))).toBe(command);
    }
  });
});
