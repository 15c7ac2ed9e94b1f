import { describe, expect, test } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { plan } from '../../../scripts/model-day/plan.ts';
import { drawsFor } from '../../../scripts/model-day/random.ts';
import { viewOf } from '../../../scripts/model-day/view.ts';
import { temperOf } from '../../../scripts/model-day/whims.ts';
import type { Snapshot } from '../../../shared/wire.ts';
import { relaxer, tested, warmed } from '../../support/directions-kit.ts';
import { FloorLife } from '../../support/floor-life.ts';

/** A floor's facts as the API tells them. */
function snapshotOf({ floor, now }: FloorLife): Snapshot {
  const entities: Record<string, Snapshot['entities'][string]> = {
    salon: { kind: 'salon', facts: floor.salon, name: null },
  };
  for (const facts of Object.values(floor.places))
    entities[`place/${facts.number}`] = { kind: 'place', facts, label: '' };
  for (const { facts } of Object.values(floor.visits))
    entities[`visit/${facts.id}`] = { kind: 'visit', facts, label: null };
  const time = { timescale: 'one', now, civilOffsetMs: 0 };
  return { ...time, stream: 'floor', run: 'one', protocol: 1, revision: 1, entities };
}

const look = (life: FloorLife) => viewOf(snapshotOf(life), null);
const actAt = (life: FloorLife, chair: number, seed = 1) =>
  plan(look(life), seed).find(({ command }) => 'chair' in command && command.chair === chair) ?? null;

/** The first seed whose whims are as a test wants them. */
function seedWhere(fits: (seed: number) => boolean): number {
  const seed = [...Array(500).keys()].find(fits);
  if (seed === undefined) throw new Error('no such seed among the first 500');
  return seed;
}

function frozen<T>(value: T): T {
  if (value instanceof Set || typeof value !== 'object' || value === null) return value;
  Object.values(value).forEach(frozen);
  return Object.freeze(value);
}

describe('the plan of the day', () => {
  test('is a function of the seed and of the facts: asked twice it says the same, and changes nothing', () => {
    const life = FloorLife.salon();
    life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-ama', label: null });
    const view = frozen(look(life));
    expect(plan(view, 9)).toEqual(plan(view, 9));
    expect(plan(view, 10)).not.toEqual(plan(view, 9));
  });

  test('[S3] the next part is marked at the pace of this student', () => {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    const act = plan(look(life), 4).find(({ command }) => command.type === 'MarkPartDone');
    const share = 0.25 * relaxer().nominalMs;
    expect(act?.at).toBe(Math.ceil((life.now + share * (temperOf(4, visit).pace[0] ?? 0)) / 1_000) * 1_000);
    expect(act?.seen).toBe(life.facts(visit).version);
  });

  test('prep is said to be complete before the first touch', () => {
    const life = FloorLife.salon();
    life.do(
      { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: null },
      { id: 'visit-one' },
    );
    const [said] = plan(look(life), 4).filter(({ seen }) => seen !== null);
    expect(said?.command).toEqual({ type: 'SayPrep', visit: 'visit-one', complete: true });
    life.pass(((said?.at ?? 0) - life.now) / MINUTE);
    life.do({ type: 'SayPrep', visit: 'visit-one', complete: true });
    const begin = actAt(life, 1, 4);
    expect(begin?.command.type).toBe('BeginApplication');
    expect(begin?.at).toBeGreaterThan(life.now + 15_000);
  });

  test('[P0] two pairs of hands mark a part each, and each its own; [P4] a pace bell is taken and then helped', () => {
    const life = FloorLife.salon();
    const visit = life.do(
      { type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' },
      { by: 'person-ama' },
    );
    const seed = seedWhere((one) => temperOf(one, visit).helps);
    life.pass(6);
    life.do({ type: 'MarkPartDone', visit, part: null }, { by: 'person-ama' });
    expect(life.bells(visit)).toEqual(['pace CAUTION #1']);
    expect(plan(look(life), seed).map(({ command }) => command.type)).toContain('TakeBell');
    life.do({ type: 'TakeBell', visit, chair: null, cause: 'pace' }, { by: 'person-joss' });
    expect(plan(look(life), seed).map(({ command, by }) => [command.type, by])).toContainEqual([
      'JoinAsHelper',
      'person-joss',
    ]);
    life.pass(1);
    life.do({ type: 'JoinAsHelper', visit, person: 'person-joss' }, { by: 'person-joss' });
    const mark = plan(look(life), seed).find(({ command }) => command.type === 'MarkPartDone');
    expect(mark?.command).toMatchObject({ part: 1 });
    life.pass(3);
    life.do({ type: 'MarkPartDone', visit, part: 1 }, { by: 'person-ama' });
    const next = plan(look(life), seed).find(({ command }) => command.type === 'MarkPartDone');
    expect([next?.by, next?.command]).toMatchObject(['person-joss', { part: 2 }]);
  });

  test('[E6] a strand test is done after it is due; [E10] heat is said to be on where the directions allow it', () => {
    const life = FloorLife.salon();
    const rules = relaxer({ ...tested, ...warmed, underHeat: null });
    life.do({ type: 'WriteDirections', directions: 'directions-1', name: 'Warm', source: 'leaflet', rules });
    const visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    life.do({ type: 'FinishApplication', visit });
    const applied = life.now;
    expect(plan(look(life), 1).map(({ command }) => command)).toContainEqual({ type: 'SetHeat', visit, on: true });
    life.do({ type: 'SetHeat', visit, on: true });
    const act = plan(look(life), 1).find(({ command }) => command.type === 'TestStrand');
    expect(act?.at).toBe(Math.ceil((applied + tested.firstTestMs + temperOf(1, visit).testMoreMs) / 1_000) * 1_000);
    expect(act?.command).toMatchObject({ place: 'first', result: 'not-yet', part: null });
  });

  test('[E6] a test of foils names the part: the one done first, then the one done last', () => {
    const life = FloorLife.salon();
    const rules = relaxer({ ...tested, manner: 'by-part' });
    life.do({ type: 'WriteDirections', directions: 'directions-1', name: 'Foils', source: 'leaflet', rules });
    const visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    for (const part of [2, 0, 3, 1]) life.do({ type: 'MarkPartDone', visit, part });
    const next = () => plan(look(life), 1).find(({ command }) => command.type === 'TestStrand')?.command;
    expect(next()).toMatchObject({ place: 'first', part: 2 });
    life.pass(5);
    life.do({ type: 'TestStrand', visit, place: 'first', result: 'not-yet', part: 2, note: null });
    expect(next()).toMatchObject({ place: 'last', part: 1 });
  });

  test('nobody begins at a head while applying at another', () => {
    const life = FloorLife.salon();
    life.do(
      { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: null },
      { id: 'visit-one' },
    );
    life.do(
      { type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-joss', label: null },
      { id: 'visit-two' },
    );
    life.do({ type: 'SayPrep', visit: 'visit-two', complete: true });
    expect(actAt(life, 2)?.command.type).toBe('BeginApplication');
    life.do({ type: 'NameStylist', visit: 'visit-one', stylist: 'person-joss' });
    life.do({ type: 'BeginApplication', chair: 1, visit: 'visit-one', service: null });
    expect(actAt(life, 2)).toBeNull();
  });

  test('two heads due at once are taken to two basins, a third waits for one', () => {
    const life = FloorLife.salon();
    const visits = [1, 2, 3].map((chair) => {
      const visit = life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
      life.do({ type: 'FinishApplication', visit });
      return visit;
    });
    // So early in the window that nobody waits for the bell.
    const inTime = seedWhere((seed) =>
      visits.every((visit) => temperOf(seed, visit).lateMs === 0 && temperOf(seed, visit).share < 0.4),
    );
    life.pass(14.9);
    const due = plan(look(life), inTime).filter(({ at, command }) => command.type === 'BeginRinse' && at <= life.now);
    const going = due.map(({ command }) => (command.type === 'BeginRinse' ? command.basin : null));
    expect(going).toEqual([91, 92]);
  });

  test('[R3] a bell that asks for somebody is taken before its water, a NOTICE is not', () => {
    const life = FloorLife.salon();
    const visit = life.do({ type: 'BeginApplication', chair: 1, visit: null, service: 'service-1' });
    life.do({ type: 'FinishApplication', visit });
    life.pass(8);
    expect(life.bells(visit)).toEqual(['soon NOTICE #1']);
    expect(actAt(life, 1)?.command.type).toBe('BeginRinse');
    life.pass(4.2);
    expect(life.bells(visit)).toEqual(['rinse WARNING #1']);
    const late = seedWhere((seed) => temperOf(seed, visit).lateMs > temperOf(seed, visit).takeMs);
    expect(plan(look(life), late).map(({ command }) => command.type)).toContain('TakeBell');
    life.pass(3);
    const act = plan(look(life), late).find(({ command }) => command.type === 'TakeBell');
    expect(act?.at).toBeLessThan(life.now + MINUTE);
  });
});

test('draws are the same for the same seed and thing, lie in [0, 1), and differ between things', () => {
  const some = (seed: number, thing: string) => {
    const draw = drawsFor(seed, thing);
    return Array.from({ length: 1_000 }, () => draw());
  };
  const draws = some(7, 'model-1-1');
  expect(some(7, 'model-1-1')).toEqual(draws);
  expect(some(7, 'model-1-2')).not.toEqual(draws);
  expect(some(8, 'model-1-1')).not.toEqual(draws);
  expect(Math.min(...draws)).toBeGreaterThanOrEqual(0);
  expect(Math.max(...draws)).toBeLessThan(1);
  const mean = draws.reduce((sum, one) => sum + one, 0) / draws.length;
  // Standard error of the mean of 1,000 uniform draws is 0.0091; five of them.
  expect(Math.abs(mean - 0.5)).toBeLessThan(0.046);
});
