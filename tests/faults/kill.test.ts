import { afterEach, describe, expect, it, vi } from 'vitest';
import { headline } from '../../core/visit/headline.ts';
import { HOUR, MINUTE, SECOND } from '../../core/time.ts';
import type { VisitRecord } from '../../shared/wire.ts';
import { relaxer } from '../support/directions-kit.ts';
import { HandClock } from '../support/hand-clock.ts';
import { ServerProcess, setUpSalon } from '../support/server-process.ts';

vi.setConfig({ testTimeout: 90_000, hookTimeout: 60_000 });

let server: ServerProcess;
afterEach(() => server.stop());

async function processing(): Promise<string> {
  server = await new ServerProcess(new HandClock()).start();
  await setUpSalon(server, relaxer(), 2);
  const visit = await server.do({
    type: 'SeatVisit',
    chair: 2,
    service: 'service-1',
    stylist: 'person-ama',
    label: null,
  });
  await server.do({ type: 'BeginApplication', chair: 2, visit, service: null });
  server.clock.pass(15 * MINUTE);
  await server.do({ type: 'FinishApplication', visit });
  return visit;
}

async function record(visit: string): Promise<VisitRecord> {
  return (await (await fetch(`${server.address}/api/v1/visits/${visit}`)).json()) as VisitRecord;
}

async function numberNow(visit: string): Promise<{ deed: string; leftMs: number }> {
  const { now } = await server.turn();
  const floor = await server.floor();
  const salon = floor.entities['salon'];
  if (salon?.kind !== 'salon') throw new Error('no salon');
  const line = headline(await server.facts(visit), {
    now,
    figures: salon.facts.figures,
    uncertain: salon.facts.uncertainSince !== null,
  });
  return { deed: line.deed, leftMs: line.number !== null && 'to' in line.number ? line.number.to - now : Number.NaN };
}

describe('killed in the middle of processing', () => {
  it('[R8] goes on with the same countdown and the same bell, nothing twice, whatever the wall clock did meanwhile', async () => {
    const visit = await processing();
    server.clock.pass(7 * MINUTE);
    await server.turn();
    server.clock.pass(5 * MINUTE + 30 * SECOND);
    await server.turn();
    const before = {
      number: await numberNow(visit),
      bells: (await server.facts(visit)).bells,
      revision: (await server.floor()).revision,
    };
    expect(before.number).toEqual({ deed: 'off-by', leftMs: 2 * MINUTE + 30 * SECOND });
    expect(before.bells).toMatchObject([{ kind: 'rinse', level: 'WARNING', episode: 1 }]);

    await server.kill();
    server.clock.stepWall(HOUR);
    await server.start();

    expect(await numberNow(visit)).toEqual(before.number);
    expect((await server.facts(visit)).bells).toEqual(before.bells);
    const { events } = await record(visit);
    expect(
      events.filter(({ event }) => event.type === 'BellRung').map(({ event }) => ('kind' in event ? event.kind : '')),
    ).toEqual(['soon', 'rinse']);
    expect(new Set(events.map((one) => one.seq)).size).toBe(events.length);
    expect(events.map((one) => one.version)).toEqual(events.map((_, i) => i + 1));
  });

  it('[R8] a bell that fell due while nobody watched rings at once, and only once', async () => {
    const visit = await processing();
    await server.kill();
    server.clock.pass(16 * MINUTE);
    await server.start();
    expect((await server.facts(visit)).bells).toMatchObject([{ kind: 'over', level: 'DANGER', episode: 1 }]);
    expect(await numberNow(visit)).toEqual({ deed: 'rinse-now', leftMs: -MINUTE });
    await server.kill();
    await server.start();
    const rung = (await record(visit)).events.filter(({ event }) => event.type === 'BellRung');
    expect(rung).toHaveLength(1);
    const gap = (await server.floor()).entities['gap'];
    expect(gap?.kind === 'gap' && gap.facts !== null ? gap.facts.why : null).toBe('restarted');
  });

  it('[S8] an acknowledged touch sent again after the kill is answered as before and done once', async () => {
    const visit = await processing();
    const water = { type: 'BeginRinse', chair: 2, visit, basin: 91 } as const;
    const first = await server.send(water, { id: 'water-on-once' });
    await server.kill();
    await server.start();
    const again = await server.send(water, { id: 'water-on-once' });
    expect(again).toEqual(first);
    expect((await record(visit)).events.filter(({ event }) => event.type === 'RinseBegun')).toHaveLength(1);
  });
});
