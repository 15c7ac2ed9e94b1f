import { execFileSync } from 'node:child_process';
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { SECOND, MINUTE } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';

vi.setConfig({ testTimeout: 90_000, hookTimeout: 60_000 });

let server: ServerProcess;
afterEach(() => server.stop());

/** No file of the server's may grow beyond what the largest has now (`prlimit` of util-linux): writing then fails as on a full disk. */
function fill(): void {
  const largest = Math.max(...readdirSync(server.data).map((name) => statSync(join(server.data, name)).size));
  execFileSync('prlimit', ['--pid', String(server.pid), `--fsize=${largest}:unlimited`]);
}

function makeRoom(): void {
  execFileSync('prlimit', ['--pid', String(server.pid), '--fsize=unlimited:unlimited']);
}

/** Words are written until the disk takes no more; each answer must be done or *again*. */
async function writeUntilRefused(visit: string): Promise<number> {
  for (let n = 0; n < 2_000; n++) {
    const { status, body } = await server.send({ type: 'WriteLabel', visit, label: `n${n}` });
    if (status === 503) {
      expect(body['code']).toBe('again');
      return n;
    }
    expect(status).toBe(200);
  }
  throw new Error('the disk never became full');
}

/** No screen is linked here, which is a bell of its own (R7). */
async function unsavedBells() {
  const floor = (await server.floor()).entities['floor-bells'];
  if (floor?.kind !== 'floor-bells') throw new Error('the bells of the floor are not told');
  return floor.facts.bells.filter(({ kind }) => kind !== 'nobody-reached');
}

describe('a full disk', () => {
  it('[S2] takes water on from memory, shown as not saved, refuses the rest in words, and stores it when there is room', async () => {
    server = await new ServerProcess(new HandClock()).start();
    await setUpSalon(server, relaxer(), 3);
    const visit = await server.do({ type: 'SeatVisit', chair: 1, service: 'service-1', stylist: null, label: null });
    const begun = await server.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    server.clock.pass(MINUTE);
    await server.turn();
    fill();
    await writeUntilRefused(visit);

    const water = await server.send(
      { type: 'BeginRinse', chair: 2, visit: begun, basin: 91 },
      { id: 'water-when-full' },
    );
    expect(water).toMatchObject({ status: 202, body: { outcome: 'kept-unsaved', visit: begun } });
    const burns = await server.send(
      { type: 'ReportBurns', chair: 3, visit: null, place: 'eye' },
      { id: 'burns-when-full' },
    );
    expect(burns).toMatchObject({ status: 202, body: { outcome: 'kept-unsaved' } });
    const refused = await server.send({ type: 'FinishApplication', visit: begun });
    expect(refused.status).toBe(503);
    expect(String(refused.body['detail']).length).toBeGreaterThan(20);

    expect(await server.facts(begun)).toMatchObject({ stage: 'rinse' });
    expect((await server.facts('burns-when-full')).bells).toMatchObject([{ kind: 'burns', level: 'DANGER' }]);
    expect(await unsavedBells()).toMatchObject([{ kind: 'not-saved', level: 'WARNING' }]);

    makeRoom();
    server.clock.pass(3 * SECOND);
    await server.turn();
    await server.turn();
    expect(await unsavedBells()).toEqual([]);

    await server.kill();
    await server.start();
    expect(await server.facts(begun)).toMatchObject({ stage: 'rinse' });
    expect((await server.facts('burns-when-full')).burns).toMatchObject({ place: 'eye' });
    const repeated = await server.send(
      { type: 'BeginRinse', chair: 2, visit: begun, basin: 91 },
      { id: 'water-when-full' },
    );
    expect(repeated.body['visit']).toBe(begun);

    const file = readdirSync(server.data).find((name) => name.endsWith('.db')) ?? '';
    const db = new Database(join(server.data, file), { readonly: true });
    expect(db.pragma('integrity_check', { simple: true })).toBe('ok');
    db.close();
  });
});
