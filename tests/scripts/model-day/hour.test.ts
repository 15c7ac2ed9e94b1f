import { beforeAll, describe, expect, test } from 'vitest';
import { openVisits } from '../../../core/floor.ts';
import { timeOnHair } from '../../../core/exposure/time-on-hair.ts';
import { windowOf } from '../../../core/exposure/window.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { headline } from '../../../core/visit/headline.ts';
import { currentPass, type VisitFacts } from '../../../core/visit/visit.ts';
import { playTheHour } from '../../../scripts/model-day/hour.ts';
import { DAY_SO_FAR } from '../../../scripts/model-day/opening.ts';
import { Players } from '../../../scripts/model-day/players.ts';
import { settingUp } from '../../../scripts/model-day/salon.ts';
import { basinOf } from '../../../scripts/model-day/view.ts';
import { FloorByHand, MORNING } from './floor-by-hand.ts';

interface Day {
  readonly floor: FloorByHand;
  readonly players: Players;
}

async function dayOf(seed: number): Promise<Day> {
  const floor = new FloorByHand();
  const players = new Players(floor.ask, seed);
  await players.setUp(settingUp('Europe/Berlin'));
  await playTheHour(players, floor.ask, floor);
  return { floor, players };
}

/** Everybody goes on for so long; what was refused comes back, and `seen` is told at each act and every ten seconds. */
async function goOn({ floor, players }: Day, ms: number, seen: () => void = () => undefined): Promise<string[]> {
  const until = floor.now + ms;
  const refused: string[] = [];
  while (floor.now < until) {
    const { view, acts } = await players.look();
    const due = acts.filter((act) => act.at <= view.now);
    refused.push(...(await players.act(due)));
    if (due.length === 0) {
      floor.pass(Math.min(10 * SECOND, ...acts.map((act) => act.at - view.now)));
      floor.engine.turn();
    }
    seen();
  }
  return refused;
}

function at({ floor }: Day, chair: number): VisitFacts | null {
  return openVisits(floor.engine.floor).find((visit) => visit.chair === chair) ?? null;
}

function deed(day: Day, chair: number) {
  const visit = at(day, chair);
  const { figures } = day.floor.engine.floor.salon;
  return visit === null ? null : headline(visit, { now: day.floor.now, figures, uncertain: false });
}

describe.each([1, 12, 77, 4_000_000_000])('the hour so far, seed %i', (seed) => {
  let day: Day;
  beforeAll(async () => {
    day = await dayOf(seed);
  });

  test('ends on its instant, in a salon that is marked as a demonstration', () => {
    expect(day.floor.now).toBe(MORNING + DAY_SO_FAR);
    expect(day.floor.engine.floor.salon.demonstration).toBe(true);
  });

  test('[V1] leaves the chairs at every stage of the work', () => {
    const stages = [1, 2, 3, 4, 5, 6, 7, 8].map((chair) => at(day, chair)?.stage ?? 'free');
    expect(stages).toEqual(['apply', 'apply', 'process', 'process', 'rinse', 'neutralize', 'dry', 'free']);
    const deeds = [1, 3, 4, 5, 6].map((chair) => deed(day, chair)?.deed);
    expect(deeds).toEqual(['finish-by', 'test', 'test', 'rinse-clear', 'neutralizer-off-from']);
  });

  test('[E4] has one student so slow that the room is gone', () => {
    const pass = currentPass(at(day, 2) as VisitFacts);
    const window = pass && windowOf(pass, day.floor.now);
    expect(window?.roomMs).toBeLessThanOrEqual(0);
    expect(pass?.parts).toHaveLength(3);
  });

  test('[E1] has a head under water at a basin, its time on hair over', () => {
    const pass = currentPass(at(day, 5) as VisitFacts);
    expect(pass?.water?.basin).toBe(92);
    expect(pass && timeOnHair(pass, day.floor.now, 60 * SECOND)?.running).toBe(false);
  });

  test('[R2] rings within the first minute, and [R3] somebody has taken it and gone within two', async () => {
    let rungAfter: number | null = null;
    let taken = false;
    const from = day.floor.now;
    const refused = await goOn(day, 2 * MINUTE, () => {
      const bell = at(day, 4)?.bells.find((one) => one.kind === 'rinse');
      if (bell === undefined) return;
      rungAfter ??= bell.levelAt - from;
      taken ||= bell.taken !== null;
    });
    expect(rungAfter).toBeGreaterThan(0);
    expect(rungAfter).toBeLessThan(MINUTE);
    expect(taken).toBe(true);
    expect(at(day, 4)?.stage).toBe('rinse');
    expect(at(day, 8)?.stage).toBe('prep');
    expect(refused).toEqual([]);
  });
});

describe('a day that goes on', () => {
  test('two starts with the same seed give the same hour; another seed gives another', async () => {
    const [first, second, other] = [await dayOf(5), await dayOf(5), await dayOf(6)];
    expect(first.floor.engine.floor).toEqual(second.floor.engine.floor);
    expect(other.floor.engine.floor.visits).not.toEqual(first.floor.engine.floor.visits);
  });

  test('[S4] takes model after model through all stages, refuses nothing, owes nothing, shares no basin', async () => {
    const day = await dayOf(12);
    const ended = new Map<string, VisitFacts>();
    let shared = false;
    const refused = await goOn(day, 240 * MINUTE, () => {
      for (const { facts } of Object.values(day.floor.engine.floor.visits)) {
        if (facts.stage === 'finished') ended.set(facts.id, facts);
      }
      const taken = openVisits(day.floor.engine.floor).flatMap((visit) => basinOf(visit) ?? []);
      shared ||= new Set(taken).size < taken.length;
    });
    expect(refused).toEqual([]);
    expect(shared).toBe(false);
    expect(ended.size).toBeGreaterThanOrEqual(18);
    for (const visit of ended.values()) {
      expect(visit.end).toBe('done');
      expect(visit.owed).toEqual([]);
    }
  }, 60_000);

  test('[E3] most water is on inside its window, never more than a minute after the close', async () => {
    const day = await dayOf(3);
    const overs = new Map<string, number>();
    await goOn(day, 180 * MINUTE, () => {
      for (const { facts } of Object.values(day.floor.engine.floor.visits)) {
        facts.passes.forEach((pass, i) => {
          const window = windowOf(pass, day.floor.now);
          if (window !== null && pass.firstWater !== null)
            overs.set(`${facts.id}/${i}`, pass.firstWater.at - window.closesAt);
        });
      }
    });
    const all = [...overs.values()];
    expect(all.length).toBeGreaterThan(15);
    expect(Math.max(...all)).toBeLessThan(MINUTE);
    expect(all.filter((over) => over <= 0).length / all.length).toBeGreaterThan(0.8);
  }, 60_000);
});

describe('somebody looks in and touches things', () => {
  test('[S6] burns pressed at a chair are answered: water, and later closed by a person', async () => {
    const day = await dayOf(12);
    const visit = at(day, 3) as VisitFacts;
    const body = { id: 'looks-in-1', type: 'ReportBurns', chair: 3, visit: visit.id, place: 'skin' };
    expect((await day.floor.ask('POST', '/api/v1/commands', body)).status).toBe(200);
    await goOn(day, 8 * MINUTE);
    const { burns } = at(day, 3) as VisitFacts;
    expect(burns?.waterAt).not.toBeNull();
    expect(burns?.closed?.done).toBe('advice-sought');
  });

  test('[S2] water put on by hand from prep of an unknown product ends in a visit that goes on to its end', async () => {
    const day = await dayOf(12);
    const body = { id: 'looks-in-2', type: 'BeginRinse', chair: 8, visit: null, basin: null };
    expect((await day.floor.ask('POST', '/api/v1/commands', body)).status).toBe(200);
    const refused = await goOn(day, 40 * MINUTE);
    expect(day.floor.engine.floor.visits['looks-in-2']?.facts.end).toBe('done');
    expect(refused).toEqual([]);
  });

  test('[X4] a model who left with product on is seen to', async () => {
    const day = await dayOf(12);
    const visit = at(day, 3) as VisitFacts;
    const body = { id: 'looks-in-3', type: 'Abandon', visit: visit.id };
    expect((await day.floor.ask('POST', '/api/v1/commands', body)).status).toBe(200);
    await goOn(day, 2 * MINUTE);
    expect(day.floor.engine.floor.visits[visit.id]?.facts.settled).not.toBeNull();
  });
});
