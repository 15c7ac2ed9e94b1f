import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { productClasses } from '../../core/directions/product-class.ts';
import type { Rules } from '../../core/directions/rules.ts';
import { certainClose, windowOf } from '../../core/exposure/window.ts';
import { MINUTE, SECOND } from '../../core/time.ts';
import { relaxer, tested } from '../support/directions-kit.ts';
import { FloorLife } from '../support/floor-life.ts';
import { seconds } from './parts-kit.ts';

const product = fc.record({
  class: fc.constantFrom(...productClasses),
  manner: fc.constantFrom('whole-head' as const, 'by-part' as const),
});

/** A head begun, with as many parts marked as there are lengths; the last of four ends the application. */
function head(changes: Partial<Rules>, took: readonly number[]) {
  const life = FloorLife.salon(relaxer(changes));
  const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
  for (const ms of took) life.pass(ms / MINUTE).do({ type: 'MarkPartDone', visit: v, part: null });
  return { life, v };
}
const passOf = ({ life, v }: ReturnType<typeof head>) => {
  const pass = life.facts(v).passes[0];
  if (pass === undefined) throw new Error('no pass');
  return pass;
};
const kindOfOff = ({ life, v }: ReturnType<typeof head>) =>
  life.facts(v).bells.find((bell) => bell.cause === 'off')?.kind ?? 'none';

describe('the close', () => {
  it('[E4] always wins: `over` stands from the certain close on, to the second, room or none', () => {
    let [roomy, none] = [0, 0];
    fc.assert(
      fc.property(product, fc.array(seconds(30, 480), { minLength: 4, maxLength: 4 }), (changes, took) => {
        const one = head(changes, took);
        const pass = passOf(one);
        const close = certainClose(pass) ?? NaN;
        const window = windowOf(pass, one.life.now);
        expect(window?.closesAt).toBe(close);
        if ((window?.roomMs ?? 0) < 0) none += 1;
        else roomy += 1;
        if (one.life.now < close) {
          one.life.pass((close - SECOND - one.life.now) / MINUTE);
          expect(kindOfOff(one)).toBe('rinse');
          one.life.pass(SECOND / MINUTE);
        }
        expect(kindOfOff(one)).toBe('over');
        expect(kindOfOff({ ...one, life: one.life.pass(60) })).toBe('over');
      }),
      { numRuns: 150 },
    );
    expect([roomy > 20, none > 20]).toEqual([true, true]);
  });

  it('[E4] `rinse` stands three minutes before the close at the latest, though the last parts are under their least', () => {
    fc.assert(
      fc.property(product, fc.array(seconds(331, 380), { minLength: 4, maxLength: 4 }), (changes, took) => {
        const one = head(changes, took);
        const window = windowOf(passOf(one), one.life.now);
        expect(window?.roomMs).toBeLessThan(0);
        one.life.pass(Math.max(0, (window?.closesAt ?? 0) - 3 * MINUTE - one.life.now) / MINUTE);
        expect(kindOfOff(one)).toBe('rinse');
      }),
      { numRuns: 60 },
    );
  });

  it('[E3] is certain in apply too: `over` stands at first touch + ceiling while product still goes on', () => {
    fc.assert(
      fc.property(product, fc.array(seconds(30, 480), { maxLength: 3 }), (changes, took) => {
        const one = head(changes, took);
        one.life.at(30 - 1 / 60);
        expect(kindOfOff(one)).toBe('rinse');
        one.life.at(30);
        expect([one.life.facts(one.v).stage, kindOfOff(one)]).toEqual(['apply', 'over']);
      }),
      { numRuns: 60 },
    );
  });
});

describe('after ready', () => {
  it('[E6] nothing stands past ready + grace without `over`, in apply or after it, by part or whole', () => {
    const stages: string[] = [];
    fc.assert(
      fc.property(
        product,
        fc.array(seconds(30, 300), { maxLength: 4 }),
        seconds(1, 500),
        seconds(1, 600),
        fc.array(seconds(1, 900), { minLength: 1, maxLength: 4 }),
        (changes, took, wait, graceMs, later) => {
          const one = head({ ...tested, ...changes, graceMs }, took);
          const { life, v } = one;
          life.pass(wait / MINUTE);
          stages.push(life.facts(v).stage);
          const ready = life.now;
          life.do({ type: 'TestStrand', visit: v, place: 'last', result: 'ready', part: 0, note: null });
          expect(['rinse', 'over']).toContain(kindOfOff(one));
          life.pass((graceMs - SECOND) / MINUTE);
          expect(certainClose(passOf(one))).toBeLessThanOrEqual(ready + graceMs);
          if ((certainClose(passOf(one)) ?? 0) > life.now) expect(kindOfOff(one)).toBe('rinse');
          life.pass(SECOND / MINUTE);
          expect(kindOfOff(one)).toBe('over');
          for (const ms of later) {
            life.pass(ms / MINUTE);
            if (life.facts(v).stage === 'apply') life.send({ type: 'MarkPartDone', visit: v, part: null });
            expect(kindOfOff(one)).toBe('over');
          }
        },
      ),
      { numRuns: 150 },
    );
    expect(new Set(stages)).toEqual(new Set(['apply', 'process']));
  });
});
