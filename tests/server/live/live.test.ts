import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { PROTOCOL } from '../../../shared/protocol.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import { clockStamps, heartbeat, push, snapshot } from '../../../shared/schemas/wire.ts';
import { NOON } from '../engine/kit.ts';
import type { TestServer } from '../routes/kit.ts';
import { listening, Screen } from './kit.ts';

let server: TestServer;
let address: string;
let screens: Screen[] = [];
const open = async (headers: Record<string, string> = {}): Promise<Screen> => {
  const screen = new Screen(address, headers);
  screens.push(screen);
  return screen.connected();
};

beforeEach(async () => {
  ({ server, address } = await listening());
});
afterEach(async () => {
  for (const { socket } of screens) socket.disconnect();
  screens = [];
  await server.app.http.close();
});

describe('screens', () => {
  it('[R10] get a snapshot when they join, and then what changed, whole entities only', async () => {
    const [one, two] = [await open(), await open()];
    const answer = await one.join();
    await two.join();
    const whole = JSON.parse(answer.outcome === 'joined' ? (answer.snapshots[0] ?? '') : '') as unknown;
    expect(snapshot.parse(whole)).toEqual(whole);
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await Promise.all([one.at(body.revision), two.at(body.revision)]);
    expect(one.pushes).toHaveLength(1);
    expect(push.parse(one.pushes[0])).toEqual(one.pushes[0]);
    expect(Object.keys(one.pushes[0]?.entities ?? {})).toEqual(['visit/visit-0001']);
    expect(one.entities).toEqual(two.entities);
    expect(one.entities).toEqual((await server.floor()).entities);
  });

  it('[R10] every stream gets every revision, so that a gap shows at once and is filled by one snapshot', async () => {
    const screen = await open();
    await screen.join();
    const first = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await screen.at(first.body.revision);
    // As if a push had been lost on the way.
    screen.revision -= 1;
    delete screen.entities['visit/visit-0001'];
    const second = await server.post({ id: 'visit-0002', type: 'SeatVisit', chair: 3 });
    await screen.at(second.body.revision);
    expect(screen.gaps).toBe(1);
    expect(screen.entities).toEqual((await server.floor()).entities);
    const third = await server.post({ id: 'command-set1', type: 'SetWall', wall: { diagonalIn: 55, distanceM: 4 } });
    await screen.at(third.body.revision);
    expect(screen.gaps).toBe(1);
  });

  it('[R10] are told that a visit is gone', async () => {
    const screen = await open();
    await screen.join();
    await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await server.post({ id: 'command-d001', type: 'Discard', visit: 'visit-0001' });
    server.hand.pass(61 * MINUTE);
    const { body } = await server.post({ id: 'visit-0002', type: 'SeatVisit', chair: 3 });
    await screen.at(body.revision);
    expect(screen.pushes.at(-1)?.entities['visit/visit-0001']).toBeNull();
    expect(Object.keys(screen.entities).filter((key) => key.startsWith('visit/'))).toEqual(['visit/visit-0002']);
  });

  it('[W4] without labels never hear what a client is called; the set-up hears no visits but sources', async () => {
    const [wall, chair, salon] = [await open(), await open(), await open()];
    await Promise.all([wall.join('floor-unlabelled'), chair.join('floor'), salon.join('salon')]);
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2, label: 'red hat' });
    await Promise.all([wall, chair, salon].map((one) => one.at(body.revision)));
    expect(chair.entities['visit/visit-0001']).toMatchObject({ kind: 'visit', label: 'red hat' });
    expect(wall.entities['visit/visit-0001']).toMatchObject({ kind: 'visit', label: null });
    expect(JSON.stringify(wall.pushes)).not.toContain('red hat');
    expect(salon.pushes[0]?.entities).toEqual({});
    expect(salon.entities['directions/directions-1']).toMatchObject({ source: 'invented' });
    expect(chair.entities['directions/directions-1']).toMatchObject({ source: null });
  });

  it('[R10] that named another stream before have left it', async () => {
    const screen = await open();
    await screen.join('floor');
    await screen.join('salon');
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await screen.at(body.revision);
    expect(screen.pushes.map(({ stream }) => stream)).toEqual(['salon']);
  });

  it('[R8] are told the bell that time alone rang', async () => {
    const screen = await open();
    await screen.join();
    await server.post({ id: 'visit-0001', type: 'BeginApplication', chair: 2 });
    server.hand.pass(27 * MINUTE);
    server.engine.turn();
    await screen.at(server.engine.revision);
    expect(screen.entities['visit/visit-0001']).toMatchObject({
      facts: {
        bells: expect.arrayContaining([
          expect.objectContaining({ kind: 'rinse', level: 'WARNING', dueAt: NOON + 27 * MINUTE }),
        ]),
      },
    });
  });

  it('[T5] get a heartbeat, and the two stamps of an exchange', async () => {
    const screen = await open();
    server.hand.pass(1_234);
    const beat = screen.next('heartbeat');
    for (const task of server.timers.repeated) task();
    expect(heartbeat.parse(await beat)).toEqual(server.engine.heartbeat());
    expect((await beat).now).toBe(NOON + 1_234);
    const stamps = await screen.socket.emitWithAck('clock');
    const { timescale, now } = server.engine.heartbeat();
    expect(clockStamps.parse(stamps)).toEqual({ timescale, receivedAt: now, sentAt: now });
  });

  it('[R5] a sound test comes back from the server, to the one that asked', async () => {
    const [one, two] = [await open(), await open()];
    let strayed = 0;
    two.socket.on('ring-test', () => (strayed += 1));
    const rung = one.next('ring-test');
    expect(await one.socket.emitWithAck('test-bell', { level: 'DANGER' })).toEqual({ outcome: 'rung' });
    expect(await rung).toEqual({ level: 'DANGER' });
    await two.socket.emitWithAck('clock');
    expect(strayed).toBe(0);
  });

  it('[T5] of another protocol are told to reload', async () => {
    const screen = await open();
    expect(await screen.join('floor', PROTOCOL + 1)).toMatchObject({
      outcome: 'refused',
      problem: { code: 'unknown-protocol' },
    });
  });
});

describe('packets that cannot be understood', () => {
  const ack = (): void => undefined;
  const packets: readonly [string, string, readonly unknown[]][] = [
    ['an unknown event', 'unknown-event', ['shout', 'x', ack]],
    ['an event named like a property of every object', 'unknown-event', ['constructor', ack]],
    ['a join for nothing known', 'bad-packet', ['join', { streams: ['secrets'], protocol: PROTOCOL }, ack]],
    [
      'a join with an unknown field',
      'bad-packet',
      ['join', { streams: ['floor'], protocol: PROTOCOL, as: 'owner' }, ack],
    ],
    ['a join without anything', 'bad-packet', ['join', ack]],
    ['a join that wants no answer', 'bad-packet', ['join', { streams: ['floor'], protocol: PROTOCOL }]],
    ['a join with too much', 'bad-packet', ['join', { streams: ['floor'], protocol: PROTOCOL }, 1, ack]],
    ['a clock without an answer', 'bad-packet', ['clock']],
    ['a level that is none', 'bad-packet', ['test-bell', { level: 'LOUD' }, ack]],
    ['null', 'bad-packet', ['test-bell', null, ack]],
    ['bytes', 'bad-packet', ['join', Buffer.from([1, 2, 3]), ack]],
  ];
  it.each(packets)('[S8] %s: a problem to the sender alone, nothing stored', async (_what, code, packet) => {
    const [bad, good] = [await open(), await open()];
    await good.join();
    let strayed = 0;
    good.socket.on('problem', () => (strayed += 1));
    const { revision } = server.engine;
    const told = bad.next('problem');
    bad.say(...packet);
    const document = await told;
    expect(problem.parse(document)).toEqual(document);
    expect(document.code).toBe(code);
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await good.at(body.revision);
    expect([strayed, body.revision, bad.socket.connected]).toEqual([0, revision + 1, true]);
  });

  it('[S8] again and again: the sender is let go, nobody else', async () => {
    const [bad, good] = [await open(), await open()];
    await good.join();
    const gone = bad.gone();
    for (let i = 0; i < 5; i++) bad.say('shout');
    expect(await gone).toBe('io server disconnect');
    const { body } = await server.post({ id: 'visit-0001', type: 'SeatVisit', chair: 2 });
    await good.at(body.revision);
    expect(good.gaps).toBe(0);
  });

  it('[S8] larger than the limit: the link ends, nobody else’s', async () => {
    const [bad, good] = [await open(), await open()];
    await good.join();
    const gone = bad.gone();
    bad.say('join', { streams: ['x'.repeat(80_000)] }, ack);
    expect(await gone).toMatch(/transport/);
    expect((await good.socket.emitWithAck('clock')).timescale).toBe(server.engine.heartbeat().timescale);
  });

  it('[S8] a page of another address gets no link', async () => {
    await expect(open({ origin: 'http://elsewhere.example' })).rejects.toThrow();
    await expect(open({ host: 'elsewhere.example' })).rejects.toThrow();
    expect((await open({ origin: address })).socket.connected).toBe(true);
  });
});

it('[R10] ends with screens linked, without waiting for them', async () => {
  const screen = await open();
  await screen.join();
  const gone = screen.gone();
  await server.app.http.close();
  expect(await gone).toBe('io server disconnect');
});
