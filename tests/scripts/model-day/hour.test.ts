import { beforeAll, describe, expect, test } from 'vitest';
import { openVisits } from '../../../core/floor.ts';
import { timeOnHair } from '../../../core/exposure/time-on-hair.ts';
import { expectedFinishAt } from '../../../core/exposure/pace.ts';
import { nextTestAt } from '../../../core/exposure/strand-tests.ts';
import { latestFinish, partWindows, windowOf } from '../../../core/exposure/window.ts';
import { MINUTE, SECOND } from '../../../core/time.ts';
import { headline } from '../../../core/visit/headline.ts';
import { currentPass, type Pass, type VisitFacts } from '../../../core/visit/visit.ts';
import { playTheHour } from '../../../scripts/model-day/hour.ts';
import { DAY_SO_FAR, visitId } from '../../../scripts/model-day/opening.ts';
import { Players } from '../../../scripts/model-day/players.ts';
import { assistant, settingUp } from '../../../scripts/model-day/salon.ts';
import { basinOf } from '../../../scripts/model-day/view.ts';
import { temperOf } from '../../../scripts/model-day/whims.ts';
import { wordLimits } from '../../../shared/protocol.ts';
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

function passAt(day: Day, chair: number): Pass {
  const visit = at(day, chair);
  const pass = visit === null ? null : currentPass(visit);
  if (pass === null) throw new Error(`nobody has product at chair ${chair}`);
  return pass;
}

const bellsAt = (day: Day, chair: number): string[] => (at(day, chair)?.bells ?? []).map(({ cause }) => cause);

function latest(day: Day, chair: number): number {
  return latestFinish(passAt(day, chair), day.floor.engine.floor.salon.figures) ?? 0;
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

  test('[V1] leaves the chairs at every stage of the work, and the wall has nearly every deed to tell', () => {
    const stages = [1, 2, 3, 4, 5, 6, 7, 8].map((chair) => at(day, chair)?.stage ?? 'free');
    expect(stages).toEqual(['apply', 'apply', 'process', 'process', 'rinse', 'neutralize', 'dry', 'free']);
    const deeds = [1, 2, 3, 4, 5, 6, 7].map((chair) => deed(day, chair)?.deed);
    expect(deeds).toEqual([
      ...['finish-by', 'finish-by', 'test', 'off-by'],
      ...['rinse-clear', 'neutralizer-off-from', 'dry'],
    ]);
  });

  test('[P4] has one student in time without a bell, and one whose pace bell has just rung and is taken', () => {
    expect(bellsAt(day, 1)).toEqual([]);
    const pass = passAt(day, 1);
    expect(pass.parts).toHaveLength(2);
    expect(expectedFinishAt(pass, day.floor.now)).toBeLessThan(latest(day, 1));
    const rung = at(day, 2)?.bells.find((bell) => bell.cause === 'pace');
    expect(rung?.level).toBe('CAUTION');
    expect(day.floor.now - (rung?.levelAt ?? 0)).toBeLessThan(40 * SECOND);
    expect(rung?.taken?.by).toBe(assistant);
    expect(passAt(day, 2).hands).toHaveLength(1);
    expect(expectedFinishAt(passAt(day, 2), day.floor.now)).toBeGreaterThan(latest(day, 2));
  });

  test('[E6] has a head whose strand test is due', () => {
    expect(bellsAt(day, 3)).toEqual(['test']);
    const dueAt = nextTestAt(passAt(day, 3), Number.POSITIVE_INFINITY) ?? 0;
    expect(day.floor.now - dueAt).toBeGreaterThan(0);
    expect(day.floor.now - dueAt).toBeLessThan(40 * SECOND);
  });

  test('[E4] has a head without room: part windows, tested once, off by its close', () => {
    const pass = passAt(day, 4);
    expect(windowOf(pass, day.floor.now)?.roomMs).toBeLessThan(0);
    expect(partWindows(pass)).toHaveLength(4);
    expect(pass.tests.map(({ result }) => result)).toEqual(['not-yet']);
    expect(deed(day, 4)?.sureness).toBe('firm');
  });

  test('[E10] the perm has been under heat since its last touch', () => {
    expect(passAt(day, 6).heated).toBe(true);
  });

  test('[E1] has a head under water at a basin, its time on hair over', () => {
    const pass = currentPass(at(day, 5) as VisitFacts);
    expect(pass?.water?.basin).toBe(92);
    expect(pass && timeOnHair(pass, day.floor.now, 60 * SECOND)?.running).toBe(false);
  });

  test('[P4] the helper joins within the first minute, does a part, goes again, and the head ends in time', async () => {
    const seen: string[] = [];
    const note = (what: string, holds: boolean): void => void (holds && !seen.includes(what) && seen.push(what));
    let joinedAfter: number | null = null;
    const [from, latestAt] = [day.floor.now, latest(day, 2)];
    const copy = await dayOf(seed);
    await goOn(copy, 13 * MINUTE, () => {
      const pass = passAt(copy, 2);
      const [, helper] = pass.hands;
      if (helper !== undefined) joinedAfter ??= helper.fromAt - from;
      note('joined', helper !== undefined);
      note('withdrawn', helper !== undefined && !bellsAt(copy, 2).includes('pace'));
      note(
        'part done',
        pass.parts.some((one) => one.by === assistant),
      );
      note('gone', typeof helper?.untilAt === 'number');
      note('applied', pass.applied !== null);
    });
    expect(joinedAfter).toBeGreaterThan(40 * SECOND);
    expect(joinedAfter).toBeLessThan(MINUTE);
    expect(seen).toEqual(['joined', 'withdrawn', 'part done', 'gone', 'applied']);
    expect(passAt(copy, 2).applied?.at).toBeLessThanOrEqual(latestAt);
  });

  test('[R2] rings within the first minute, and [R3] somebody has taken it within two', async () => {
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
    expect(at(day, 8)?.stage).toBe('prep');
    expect(refused).toEqual([]);
    // With no room the close wins: they go for it, and not a second past it.
    await goOn(day, 2 * MINUTE);
    const pass = passAt(day, 4);
    expect(pass.firstWater?.at).toBeLessThanOrEqual(windowOf(pass, day.floor.now)?.closesAt ?? 0);
  });
});

describe('a day that goes on', () => {
  test('no two models of a day have the same label, and nobody who works there has it', () => {
    const labels = [1, 12, 77].map((seed) =>
      Array.from({ length: 80 }, (_, i) => temperOf(seed, visitId((i % 8) + 1, Math.floor(i / 8) + 1)).label),
    );
    for (const day of labels) {
      expect(new Set(day).size).toBe(80);
      expect(day.every((label) => label.length <= wordLimits.visitLabel)).toBe(true);
    }
    expect(labels[0]).not.toEqual(labels[1]);
    const staff = settingUp('UTC')
      .flat()
      .flatMap(({ command }) => (command.type === 'AddPerson' ? [command.name] : []));
    expect(staff.length).toBeGreaterThan(5);
    expect(labels.flat().filter((label) => staff.includes(label))).toEqual([]);
  });

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
