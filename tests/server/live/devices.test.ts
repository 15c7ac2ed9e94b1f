import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { PRESENCE_MS, PROTOCOL } from '../../../shared/protocol.ts';
import { reachTold } from '../../../shared/schemas/wire.ts';
import type { Here, ShownBells } from '../../../shared/socket-events.ts';
import type { ReachTold } from '../../../shared/wire.ts';
import type { TestServer } from '../routes/kit.ts';
import { listening, Screen } from './kit.ts';

let server: TestServer;
let address: string;
let screens: Screen[] = [];
const open = async (): Promise<Screen> => {
  const screen = new Screen(address);
  screens.push(screen);
  return screen.connected();
};
const here = (changes: Partial<Here> = {}): Here => ({
  device: 'device-ama',
  screen: 'pocket',
  person: 'person-ama',
  sound: 'on',
  heard: true,
  seen: true,
  mutedUntil: null,
  ...changes,
});
const howOf = ({ people }: ReachTold) => people.map(({ person, how }) => `${person} ${how}`);

beforeEach(async () => {
  ({ server, address } = await listening());
});
afterEach(async () => {
  for (const { socket } of screens) socket.disconnect();
  screens = [];
  await server.app.http.close();
});

describe('a device says that it is there', () => {
  it('[R7] and all screens are told who can be reached, each also as it joins', async () => {
    const [phone, wall] = [await open(), await open()];
    await wall.join('floor-unlabelled');
    const told = Promise.all([phone.next('reach'), wall.next('reach')]);
    expect(await phone.socket.emitWithAck('here', here())).toEqual({ outcome: 'heard' });
    const [own, others] = await told;
    expect(reachTold.parse(others)).toEqual(others);
    expect(own).toEqual(others);
    expect(howOf(others)).toEqual(['person-ama rings']);
    const late = await open();
    const first = late.next('reach');
    await late.join();
    expect(await first).toEqual(others);
  });

  it('[R7] said again unchanged it is told to nobody; gone, it is told to those who stay', async () => {
    const [phone, wall] = [await open(), await open()];
    let heard: ReachTold[] = [];
    wall.socket.on('reach', (reach) => void heard.push(reach));
    await phone.socket.emitWithAck('here', here());
    await phone.socket.emitWithAck('here', here());
    await wall.socket.emitWithAck('clock');
    expect(heard.map(howOf)).toEqual([['person-ama rings']]);
    heard = [];
    const next = wall.next('reach');
    phone.socket.disconnect();
    expect(howOf(await next)).toEqual([]);
  });

  it('[R7] a phone that falls silent without a goodbye is not believed after 12 s', async () => {
    const [phone, wall] = [await open(), await open()];
    const first = wall.next('reach');
    await phone.socket.emitWithAck('here', here());
    await first;
    server.hand.pass(3 * PRESENCE_MS);
    for (const task of server.timers.repeated) task();
    expect(howOf(server.presence.told)).toEqual(['person-ama rings']);
    const next = wall.next('reach');
    server.hand.pass(1);
    for (const task of server.timers.repeated) task();
    expect(howOf(await next)).toEqual([]);
  });

  it.each([
    { ...here(), sound: 'loud' },
    { ...here(), screen: 'salon' },
    { ...here(), person: 'A' },
    { ...here(), heard: 'yes' },
    { ...here(), seen: undefined },
    { ...here(), mutedUntil: -1 },
    { ...here(), more: 1 },
    null,
  ])('[R7] what cannot be understood is refused and believed by nobody: %j', async (packet) => {
    const phone = await open();
    const problem = phone.next('problem');
    phone.say('here', packet, () => undefined);
    expect(await problem).toMatchObject({ code: 'bad-packet' });
    expect(server.presence.told.people).toEqual([]);
  });
});

describe('a device says which bells it shows', () => {
  /** `rinse` at a head of Ama's, who is on shift. */
  async function ringing(): Promise<ShownBells> {
    await server.post({ id: 'command-sh01', type: 'BeginShift', person: 'person-ama' });
    const seat = { id: 'visit-0001', type: 'SeatVisit', chair: 2, stylist: 'person-ama' };
    await server.post(seat);
    await server.post({ id: 'command-be01', type: 'BeginApplication', chair: 2, visit: 'visit-0001' });
    server.hand.pass(15 * MINUTE);
    await server.post({ id: 'command-fi01', type: 'FinishApplication', visit: 'visit-0001' });
    server.hand.pass(12 * MINUTE);
    server.engine.turn();
    const bell = { visit: 'visit-0001', chair: null, cause: 'off', episode: 1, level: 'WARNING' } as const;
    return { device: 'device-ama', person: 'person-ama', bells: [bell] };
  }
  const shown = () => server.engine.floor.visits['visit-0001']?.facts.bells[0]?.shown;

  it('[R7] it is recorded, and every screen sees that it was', async () => {
    const receipt = await ringing();
    const [phone, wall] = [await open(), await open()];
    await Promise.all([phone.join(), wall.join()]);
    const { revision } = server.engine;
    expect(await phone.socket.emitWithAck('shown', receipt)).toEqual({ outcome: 'heard' });
    await wall.at(revision + 1);
    expect(shown()).toMatchObject([{ person: 'person-ama' }]);
    expect(wall.entities['visit/visit-0001']).toMatchObject({
      facts: { bells: [{ kind: 'rinse', shown: [{ person: 'person-ama' }] }] },
    });
    await phone.socket.emitWithAck('shown', receipt);
    const { body } = await server.post({ id: 'visit-0002', type: 'SeatVisit', chair: 3 });
    expect(body.revision).toBe(revision + 2);
  });

  it('[R7] what cannot be understood is refused, whole', async () => {
    const receipt = await ringing();
    const [one] = receipt.bells;
    for (const packet of [
      { ...receipt, bells: [one, { ...one, cause: 'newly-invented' }] },
      { ...receipt, bells: [{ ...one, episode: 0 }] },
      { ...receipt, bells: Array.from({ length: 101 }, () => one) },
      { ...receipt, person: null },
      receipt.bells,
    ]) {
      const phone = await open();
      const problem = phone.next('problem');
      phone.say('shown', packet, () => undefined);
      expect(await problem).toMatchObject({ code: 'bad-packet' });
    }
    server.engine.turn();
    expect(shown()).toEqual([]);
  });

  it('[R7] a screen of the former protocol never says so, and follows all the same', async () => {
    const receipt = await ringing();
    const [phone, former] = [await open(), await open()];
    await former.join('floor', PROTOCOL - 1);
    const { revision } = server.engine;
    await phone.socket.emitWithAck('shown', receipt);
    await former.at(revision + 1);
    expect(former.entities['visit/visit-0001']?.facts).not.toHaveProperty('acts');
    expect(former.gaps).toBe(0);
  });
});
