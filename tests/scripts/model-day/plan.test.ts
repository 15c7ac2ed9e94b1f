import { describe, expect, test } from 'vitest';
import { MINUTE } from '../../../core/time.ts';
import { plan } from '../../../scripts/model-day/plan.ts';
import { drawsFor } from '../../../scripts/model-day/random.ts';
import { viewOf } from '../../../scripts/model-day/view.ts';
import { temperOf } from '../../../scripts/model-day/whims.ts';
import type { Snapshot } from '../../../shared/wire.ts';
import { relaxer } from '../../support/directions-kit.ts';
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

  test('nobody begins at a head while applying at another', () => {
    const life = FloorLife.salon();
    life.do(
      { type: 'SeatVisit', chair: 1, service: 'service-1', stylist: 'person-ama', label: null },
      { id: 'visit-one' },
    );
    life.do({ type: 'SeatVisit', chair: 2, service: 'service-1', stylist: 'person-joss', label: null });
    expect(actAt(life, 2)?.command.type).toBe('BeginApplication');
    life.do({ type: 'NameStylist', visit: 'visit-one', stylist: 'person-joss' });
    life.do({ type: 'BeginApplication', chair: 1, visit: 'visit-one', service: null });
    expect(actAt(life, 2)).toBeNull();
  });

  test('two heads due at once are taken to two basins, a third waits for one', () => {
    const life = FloorLife.salon();
    for (const chair of [1, 2, 3]) {
      const visit = life.do({ type: 'BeginApplication', chair, visit: null, service: 'service-1' });
      life.do({ type: 'FinishApplication', visit });
    }
    life.pass(14.9);
    const due = plan(look(life), 1).filter(({ at, command }) => command.type === 'BeginRinse' && at <= life.now);
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
    const late = [...Array(200).keys()].find((seed) => temperOf(seed, visit).lateMs > 0) ?? 0;
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
