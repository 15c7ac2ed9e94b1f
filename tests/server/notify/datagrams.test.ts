import { afterEach, describe, expect, it } from 'vitest';
import { noticesTo } from '../../../server/notify/send-notice.ts';
import { NoticeSocket } from '../../../scripts/kiosk/notices/notice-socket.ts';
import { WatchedServer } from '../../../scripts/kiosk/notices/watched-server.ts';

const servers: WatchedServer[] = [];
async function watched(environment?: Readonly<Record<string, string>>): Promise<WatchedServer> {
  const server = new WatchedServer();
  servers.push(server);
  return server.start(environment);
}

const sockets: NoticeSocket[] = [];

afterEach(async () => {
  for (const socket of sockets.splice(0)) await socket.close();
  for (const server of servers.splice(0)) await server.drop();
});

describe('a server that is watched over, by the datagrams it sends', () => {
  it('[T7] says that it listens, feeds the watchdog from its event loop, and ceases while the loop stands still', async () => {
    const [server, other] = await Promise.all([watched(), watched()]);
    const { notices } = server;
    await Promise.all([notices.until('WATCHDOG=1', 5), other.notices.until('WATCHDOG=1', 5)]);
    expect(notices.received[0]).toEqual(['READY=1', 'STATUS=0 screens linked, 0 visits open']);
    expect(notices.received[1]).toEqual(['WATCHDOG=1', 'STATUS=0 screens linked, 0 visits open']);

    const goOn = await server.standStill();
    const fed = notices.count('WATCHDOG=1');
    // The other one measures the time: ten of its feeds are more than three times the span after which the watchdog bites.
    await other.notices.until('WATCHDOG=1', other.notices.count('WATCHDOG=1') + 10);
    // At most the one that was on its way.
    expect(notices.count('WATCHDOG=1') - fed).toBeLessThanOrEqual(1);

    const before = notices.count('WATCHDOG=1');
    goOn();
    await notices.until('WATCHDOG=1', before + 3);
    expect(await server.end()).toBe(0);
    await notices.until('STOPPING=1');
    expect(notices.received.at(-1)).toEqual(['STOPPING=1', 'STATUS=ending']);
    expect(notices.count('READY=1')).toBe(1);
  });

  it('[T7] without a watchdog, or with one that is meant for another process, says only that it listens and ends', async () => {
    const [none, foreign] = await Promise.all([
      watched({}),
      watched({ WATCHDOG_USEC: '300000', WATCHDOG_PID: String(process.pid) }),
    ]);
    for (const server of [none, foreign]) {
      await server.notices.until('READY=1');
      expect(await server.end()).toBe(0);
      await server.notices.until('STOPPING=1');
      expect(server.notices.received.map(([first]) => first)).toEqual(['READY=1', 'STOPPING=1']);
    }
  });

  it('[T7] a socket with an abstract name is reached too; one that nobody opened is said not to be', async () => {
    const name = `@basinbell-test-${process.pid}`;
    await expect(noticesTo(name)(['READY=1'])).rejects.toThrow('systemd-notify ended with');
    const notices = new NoticeSocket(name);
    sockets.push(notices);
    await notices.open();
    await noticesTo(name)(['READY=1', 'STATUS=two words']);
    await notices.until('READY=1');
    expect(notices.received).toEqual([['READY=1', 'STATUS=two words']]);
  });
});
