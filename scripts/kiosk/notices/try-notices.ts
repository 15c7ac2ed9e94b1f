import type { Found } from '../found.ts';
import { WatchedServer } from './watched-server.ts';

const FED = 'WATCHDOG=1';
/** At a third of the watchdog's span each. */
const FEEDS_OF_A_SPAN = 3;

/**
 * A real server under a watchdog of 300 ms: counts its datagrams while it runs, while its event loop stands still for several
 * spans, and after that. A second server beside it measures the time.
 */
export async function tryNotices(spans = 5): Promise<Found> {
  const server = new WatchedServer();
  const beside = new WatchedServer();
  try {
    await Promise.all([server.start(), beside.start()]);
    const { notices } = server;
    await Promise.all([notices.until(FED, 10), beside.notices.until(FED, 10)]);
    const running = notices.count(FED);

    const goOn = await server.standStill();
    const before = { still: notices.count(FED), beside: beside.notices.count(FED) };
    await beside.notices.until(FED, before.beside + spans * FEEDS_OF_A_SPAN);
    const whileStill = notices.count(FED) - before.still;
    goOn();
    await notices.until(FED, before.still + whileStill + FEEDS_OF_A_SPAN);

    const code = await server.end();
    await notices.until('STOPPING=1');
    const [first] = notices.received;
    const last = notices.received.at(-1);
    const lines = [
      `first datagram: ${first?.join(' | ')}`,
      `${running} feeds while it ran`,
      `${whileStill} in the ${spans} spans in which its event loop stood still (1 may have been on its way), ${spans * FEEDS_OF_A_SPAN} of the server beside it`,
      'feeds went on when the loop did',
      `last datagram: ${last?.join(' | ')}; ended with ${code}`,
    ];
    const ok = first?.[0] === 'READY=1' && whileStill <= 1 && last?.[0] === 'STOPPING=1' && code === 0;
    return { ok, lines };
  } finally {
    await Promise.all([server.drop(), beside.drop()]);
  }
}
