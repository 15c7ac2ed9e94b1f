import { join } from 'node:path';
import SqliteDatabase from 'better-sqlite3';
import { MINUTE } from '../../../core/time.ts';
import { dataFileName } from '../../../server/store/open-file.ts';
import { problem } from '../../../shared/schemas/problem.ts';
import { relaxer } from '../../../tests/support/directions-kit.ts';
import { HandClock } from '../../../tests/support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../../../tests/support/server-process.ts';
import { Chance } from '../chance.ts';
import { Crowd } from '../crowd/crowd.ts';
import { until } from '../pause.ts';
import type { Trial, TrialContext } from '../trial.ts';
import { badPacket, BrokenScreen } from './packets.ts';
import { badRequest } from './requests.ts';

const TRIED = { short: 500, long: 10_000 } as const;
/** Of ten, so many go by HTTP. */
const BY_HTTP = 0.7;
const AT_ONCE = 8;
const SEED = 91;

/** All that lies in the file, by table: what was stored for something malformed would show here. */
function contents(folder: string): string {
  const db = new SqliteDatabase(join(folder, dataFileName), { readonly: true });
  const tables = db
    .prepare<[], string>("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
    .pluck()
    .all();
  // The sign of life goes on, whatever is sent.
  const held = tables
    .filter((name) => name !== 'alive')
    .map((name) => [name, db.prepare(`SELECT * FROM "${name}"`).all()]);
  db.close();
  return JSON.stringify(held);
}

interface Refused {
  readonly unrefused: string[];
  readonly codes: Map<string, number>;
}

async function sendAll(server: ServerProcess, count: number): Promise<Refused> {
  const chance = new Chance(SEED);
  const refused: Refused = { unrefused: [], codes: new Map() };
  let next = 0;
  const worker = async (): Promise<void> => {
    while (next < count) {
      const { method, path, headers, body } = badRequest(next++, chance);
      const response = await fetch(server.address + path, { method, headers, body });
      const text = await response.text();
      const type = response.headers.get('content-type') ?? '';
      const read = type.startsWith('application/problem+json') ? problem.safeParse(JSON.parse(text)) : null;
      const code = read?.data?.code;
      if (response.status < 400 || response.status >= 500 || code === undefined) {
        refused.unrefused.push(`${method} ${path} ${body?.slice(0, 200)}: ${response.status} ${text.slice(0, 200)}`);
      } else refused.codes.set(code, (refused.codes.get(code) ?? 0) + 1);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
  return refused;
}

async function sayAll(
  server: ServerProcess,
  count: number,
): Promise<{ silent: string[]; letGo: number; codes: string }> {
  const screens = Array.from({ length: AT_ONCE }, () => new BrokenScreen(server.address));
  const silent: string[] = [];
  const chance = new Chance(SEED + 1);
  let next = 0;
  await Promise.all(
    screens.map(async (screen) => {
      while (next < count) {
        const { packet } = badPacket(next++, chance);
        if (!(await screen.say(packet))) silent.push(JSON.stringify(packet));
      }
    }),
  );
  for (const screen of screens) screen.leave();
  const codes = [...new Set(screens.flatMap((screen) => [...screen.codes]))].sort().join(', ');
  return { silent, letGo: screens.reduce((sum, { letGo }) => sum + letGo, 0), codes };
}

async function malformed({ short, built, say, claim }: TrialContext): Promise<void> {
  const tried = short ? TRIED.short : TRIED.long;
  const server = new ServerProcess(new HandClock(), undefined, ['--log-level', 'fatal'], { run: [built.server] });
  await server.start();
  await setUpSalon(server, relaxer(), 4);
  const visit = await server.do({ type: 'BeginApplication', chair: 1, visit: null, service: null });
  const { revision } = await server.turn();
  const others = new Crowd(built.screens, server.address, 6, 1);
  await until('the others are linked', () => others.currentAt(revision) === 6);
  const before = contents(server.data);

  const byHttp = Math.round(tried * BY_HTTP);
  const http = await sendAll(server, byHttp);
  const socket = await sayAll(server, tried - byHttp);
  say(`${byHttp} requests and ${tried - byHttp} packets, half of each one mutation away from valid`);
  say(
    `refused as ${[...http.codes]
      .sort()
      .map(([code, n]) => `${code} ${n}`)
      .join(', ')}; packets as ${socket.codes}`,
  );
  say(`${socket.letGo} times a screen that said nothing right was let go`);
  claim('every request refused with a problem code', http.unrefused.length === 0, first(http.unrefused));
  claim('every packet refused with a problem code', socket.silent.length === 0, first(socket.silent));
  claim('nothing stored', contents(server.data) === before && (await server.floor()).revision === revision);
  server.clock.pass(MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  const after = (await server.floor()).revision;
  await until('the others hear of it', () => others.currentAt(after) === 6);
  claim(
    'nobody else disconnected, and all were told what came next',
    others.losses === 0,
    `${others.losses} lost a link`,
  );
  others.leave();
  await server.stop();
}

const first = (faults: readonly string[]): string =>
  faults.length === 0 ? 'none was not' : `${faults.length}, first ${faults[0]}`;

export const malformedTrials: readonly Trial[] = [
  { name: 'malformed messages and requests', form: 'both', run: malformed },
];
