import fc from 'fast-check';
import { expect, it } from 'vitest';
import { partsOnHair } from '../../core/exposure/parts.ts';
import { MINUTE } from '../../core/time.ts';
import { relaxer } from '../support/directions-kit.ts';
import { FloorLife } from '../support/floor-life.ts';
import { seconds } from './parts-kit.ts';

const steps = fc.array(
  fc.record({
    waitMs: seconds(1, 240),
    does: fc.constantFrom('joins', 'goes', 'goes', 'marks', 'marks', 'marks'),
    by: fc.constantFrom('person-ama', 'person-joss', null),
    nth: fc.nat(11),
  }),
  { minLength: 4, maxLength: 16 },
);

it('[P0] a part in work when a helper goes keeps its first touch, whoever is done with it and whenever', () => {
  let kept = 0;
  fc.assert(
    fc.property(steps, fc.integer({ min: 3, max: 8 }), (some, count) => {
      const parts = Array.from({ length: count }, () => ({
        place: 'other' as const,
        share: 1 / count,
        ceilingMs: null,
      }));
      const life = FloorLife.salon(relaxer({ parts }));
      const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null }, { by: 'person-ama' });
      const onHair = () => {
        const pass = life.facts(v).passes[0];
        return pass === undefined ? [] : partsOnHair(pass).filter((one) => one.part !== null);
      };
      const begins = new Map<number, number>();
      for (const { waitMs, does, by, nth } of some) {
        life.pass(waitMs / MINUTE);
        if (does === 'joins') life.send({ type: 'JoinAsHelper', visit: v, person: by });
        if (does === 'marks') life.send({ type: 'MarkPartDone', visit: v, part: nth % count }, { by });
        const before = onHair();
        if (does === 'goes' && life.send({ type: 'LeaveAsHelper', visit: v, person: by }).outcome === 'done') {
          kept += before.length;
          for (const { part, begunAt, doneAt } of before) if (doneAt === null) begins.set(part ?? 0, begunAt);
        }
        const now = new Map(onHair().map((one) => [one.part ?? 0, one.begunAt]));
        for (const [part, begunAt] of begins) expect(now.get(part)).toBeLessThanOrEqual(begunAt);
      }
    }),
    { numRuns: 300 },
  );
  expect(kept).toBeGreaterThan(50);
});
