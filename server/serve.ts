import { randomUUID } from 'node:crypto';
import { renameSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FastifyBaseLogger, FastifyInstance } from 'fastify';
import { openVisits, type Floor } from '../core/floor.ts';
import type { EpochMs } from '../core/time.ts';
import { lanAddresses } from './addresses.ts';
import { buildApp, type App } from './app.ts';
import { orAdvise } from './backup/advice.ts';
import { backupHint, backupPlace, Safekeeping } from './backup/safekeeping.ts';
import type { Clock } from './clock/clock.ts';
import { FileClock } from './clock/file-clock.ts';
import { assertHandClockAllowed } from './clock/hand-clock-allowed.ts';
import { RealClock } from './clock/real-clock.ts';
import type { Config } from './config.ts';
import { exitCodes } from './ending.ts';
import { Engine } from './engine/engine.ts';
import { noBackups } from './engine/storage-facts.ts';
import { realTimers } from './engine/timers.ts';
import { openLog } from './log/open-log.ts';
import { modelDayOf } from './model-day/start-model-day.ts';
import { noticesTo } from './notify/send-notice.ts';
import { statusLine } from './notify/status-line.ts';
import { takeSupervision } from './notify/supervision.ts';
import { Supervisor } from './notify/supervisor.ts';
import { Presence } from './reach/presence.ts';
import type { Store } from './store/store.ts';
import { ServedCertificate } from './tls/served-certificate.ts';

const root = fileURLToPath(new URL('..', import.meta.url));
const LOOPBACK = '127.0.0.1';
/** npm, a terminal and the start script may each pass the same signal on: an echo is no hurry. */
const ECHO_WITHIN = 1_000;
/** A goodbye that takes longer is cut short. */
const LONGEST_GOODBYE = 5_000;

const say = (sentence: string): void => void process.stdout.write(`${sentence}\n`);

/** The process's parts, put together; `openStore` opens the data folder's store. */
export async function serve(config: Config, openStore: (folder: string, wall: () => number) => Store): Promise<void> {
  const { lan, port, clockFile } = config;
  const log = openLog(config.logLevel, realTimers);
  const tls = config.tls === null ? null : new ServedCertificate(config.tls, { timers: realTimers, log });
  const clock = clockFor(config);
  const data = resolve(root, config.data);
  const place = backupPlace(data, config.backups, root);
  let keeping: Safekeeping | null = null;
  const { presence, reach } = watchDevices();
  const { store, engine } = orAdvise({ data, backups: place.folder }, () => {
    const opened = openStore(data, () => clock.read().wall);
    const backups = () => keeping?.state ?? noBackups;
    const deps = { store: opened, clock, timers: realTimers, log, freshId: randomUUID, backups, reach };
    return { store: opened, engine: new Engine(deps) };
  });
  const isModelDay = config.handClockFor === 'model-day';
  // The model day is made anew each time.
  if (!isModelDay) keeping = new Safekeeping({ engine, store, timers: realTimers, log, data, backups: place });
  const modelDay = isModelDay ? null : modelDayOf({ data, lan, log });
  let addresses: readonly string[] = [];
  const { http, live } = await buildApp({
    engine,
    store,
    timers: realTimers,
    log,
    pages: resolve(root, config.pages),
    hostNames: new Set([...config.hostNames, ...(tls?.names ?? [])]),
    tls: tls?.pem ?? null,
    lan,
    addresses: () => addresses,
    handClock: clockFile !== null,
    startModelDay: modelDay === null ? null : modelDay.start,
    backups: () => keeping?.told ?? null,
    presence,
  });
  const supervisor = supervisorOf(engine, live, log);
  const goodbye = async (): Promise<void> => {
    const told = supervisor?.stopping();
    modelDay?.stop();
    tls?.end();
    await http.close();
    engine.stop();
    await keeping?.end();
    store.close();
    await told;
  };
  await listen(http, port, lan).catch(async (error: unknown) => {
    await goodbye();
    throw error;
  });
  tls?.renewOn(http.server);
  endOnSignal(goodbye, log);
  const bound = boundPort(http, port);
  if (lan) addresses = lanAddresses(bound, tls?.names ?? null);
  announce(bound, addresses, config);
  tls?.datesTold(Date.now()).forEach(say);
  if (keeping !== null) backupHint(place, data).forEach(say);
  keeping?.begin();
  void supervisor?.ready();
}

function clockFor({ lan, clockFile, handClockFor }: Config): Clock {
  if (clockFile === null) return new RealClock();
  assertHandClockAllowed({ host: lan ? '::' : LOOPBACK, purpose: handClockFor });
  return new FileClock(clockFile);
}

/** What the system chose where 0 was asked for. */
function boundPort(http: FastifyInstance, asked: number): number {
  const at = http.server.address();
  return typeof at === 'object' && at !== null ? at.port : asked;
}

/** Who can be reached, by what the devices say of themselves (R7). */
function watchDevices() {
  const presence = new Presence({ monotonicNow: () => performance.now(), byPush: () => false });
  return { presence, reach: (floor: Floor, now: EpochMs) => presence.reach(floor, now) };
}

/** Null where nobody watches over this process. */
function supervisorOf(engine: Engine, live: App['live'], log: FastifyBaseLogger): Supervisor | null {
  const { socket, watchdogMs } = takeSupervision(process.env, process.pid);
  if (socket === null) return null;
  return new Supervisor({
    send: noticesTo(socket),
    watchdogMs,
    timers: realTimers,
    log,
    takesTurns: () => engine.takesTurns(),
    status: () =>
      statusLine({
        screens: live.screens(),
        openVisits: openVisits(engine.floor).length,
        trouble: engine.trouble,
        unsaved: engine.heartbeat().unsaved,
      }),
  });
}

/** Both families where the machine has both; some have no IPv6 at all. */
async function listen(http: FastifyInstance, port: number, lan: boolean): Promise<void> {
  if (!lan) return void (await http.listen({ host: LOOPBACK, port }));
  try {
    await http.listen({ host: '::', port });
  } catch (error) {
    const none =
      error instanceof Error && 'code' in error && ['EAFNOSUPPORT', 'EADDRNOTAVAIL'].includes(`${error.code}`);
    if (!none) throw error;
    await http.listen({ host: '0.0.0.0', port });
  }
}

function announce(port: number, addresses: readonly string[], { lan, readyFile, tls }: Config): void {
  const here = `${tls === null ? 'http' : 'https'}://${LOOPBACK}:${port}/`;
  if (readyFile !== null) {
    // Before a word is said, so that whoever acts on the words finds it; renamed into place, so that nobody reads half an address.
    writeFileSync(`${readyFile}.new`, here);
    renameSync(`${readyFile}.new`, readyFile);
  }
  say(`Basinbell is listening on ${here}`);
  for (const address of addresses) say(`  on the salon's network: ${address}`);
  if (lan) say('Anyone on this network can act: seat, ring, change the set-up. Devices cannot be paired yet.');
  else say('Served to this computer only. For phones and tablets: npm start -- --lan');
}

function endOnSignal(goodbye: () => Promise<void>, log: { info: (message: string) => void }): void {
  let endingSince: number | null = null;
  const end = (signal: NodeJS.Signals): void => {
    if (endingSince !== null) {
      if (performance.now() - endingSince > ECHO_WITHIN) process.exit(exitCodes.failed);
      return;
    }
    endingSince = performance.now();
    log.info(`ending on ${signal}`);
    setTimeout(() => process.exit(exitCodes.failed), LONGEST_GOODBYE).unref();
    goodbye().then(
      () => process.exit(0),
      (error: unknown) => {
        console.error(error);
        process.exit(exitCodes.failed);
      },
    );
  };
  for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.on(signal, end);
}
