import { networkInterfaces } from 'node:os';
import type { Snapshot } from '../../shared/wire.ts';
import { askAt } from './ask.ts';
import { makeAnew } from './folder.ts';
import { BehindHand } from './hand.ts';
import { playTheHour, takeTurn } from './hour.ts';
import { goOn } from './live.ts';
import { DAY_SO_FAR } from './opening.ts';
import type { Options } from './options.ts';
import { Players } from './players.ts';
import { comingOnShift, type Phones } from './phones.ts';
import { settingUp } from './salon.ts';
import { ServerChild } from './server-child.ts';

export interface Telling {
  /** What is being done, for whoever waits. */
  readonly say: (sentence: string) => void;
  /** The floor is alive under this address. */
  readonly open: (address: string) => void;
}

/** A whole model day: a server of its own, the hour so far, and then real time until `over`. */
export async function modelDay(options: Options, over: AbortSignal, { say, open }: Telling): Promise<void> {
  makeAnew(options.folder);
  const hand = new BehindHand(options.folder, DAY_SO_FAR);
  const common = ['--data', options.folder, '--hand-clock-for', 'model-day'];
  say('Starting a server for the model day …');
  const handDriven = ['--clock-file', hand.file];
  let server = await ServerChild.start([...common, '--port', `${options.port}`, ...handDriven]);
  let phones: Phones | null = null;
  try {
    const ask = askAt(server.address);
    const look = async (snapshot: Snapshot): Promise<void> => phones?.show(snapshot);
    const players = new Players(ask, options.seed, look);
    say(`Playing the hour so far (seed ${options.seed}) …`);
    await players.setUp(settingUp(Intl.DateTimeFormat().resolvedOptions().timeZone));
    phones = await comingOnShift(players, server.address);
    await playTheHour(players, ask, hand);
    hand.toRealTime();
    await takeTurn(ask);
    if (options.lan) server = await onTheNetwork(server, options, common);
    open(reachableAt(server.address, options.lan));
    const gone = new AbortController();
    void server.gone.then(() => gone.abort());
    await goOn(new Players(askAt(server.address), options.seed, look), AbortSignal.any([over, gone.signal]), say);
    if (!over.aborted) say('The server of the model day has ended.');
  } finally {
    phones?.putAway();
    await server.stop();
  }
}

/**
 * A clock moved by hand is refused on any network, so the hour is played on loopback; then the server starts again on the same
 * file with the machine's clocks. It is the same boot, so the timescale goes on (T3); the second between is told as a gap.
 */
async function onTheNetwork(server: ServerChild, { port }: Options, common: readonly string[]): Promise<ServerChild> {
  await server.stop();
  const same = port === 0 ? new URL(server.address).port : `${port}`;
  return ServerChild.start([...common, '--port', same, '--lan']);
}

/** A server that listens everywhere is reached under an address of this machine's. */
function reachableAt(address: string, lan: boolean): string {
  const url = new URL(address);
  const ours = Object.values(networkInterfaces()).flatMap((list) => list ?? []);
  const outward = lan ? ours.find((one) => one.family === 'IPv4' && !one.internal) : undefined;
  return `http://${outward?.address ?? url.hostname}:${url.port}/`;
}
