import { describe, expect, it } from 'vitest';
import { backToRinse } from '../../../../core/bells/rules/shampoos.ts';
import { defaultFigures as figures } from '../../../../core/salon/salon.ts';
import type { Shampoo } from '../../../../core/visit/visit.ts';
import { perm, relaxer } from '../../../support/directions-kit.ts';
import { FloorLife } from '../../../support/floor-life.ts';
import { facts, mark, min, pass, saw } from '../../../support/pass-kit.ts';

/** The relaxer asks for two shampoos, each shown neutral by a colourless lather. */
const lather = (...colours: readonly Shampoo['indicator'][]): Shampoo[] =>
  colours.map((indicator, i) => ({ ...mark(40 + i), indicator, strip: null }));
const from = (shampoos: readonly Shampoo[], stage: 'neutralize' | 'condition' = 'neutralize', rules = relaxer()) =>
  backToRinse.from(facts(stage, pass({ shampoos }, rules)), figures);

describe('back to the rinse', () => {
  it('[S5] from the second extra shampoo that failed; those that the directions ask for do not count', () => {
    expect(from(lather('coloured', 'coloured'))).toBeNull();
    expect(from(lather('coloured', 'coloured', 'coloured'))).toBeNull();
    expect(from(lather('coloured', 'coloured', 'coloured', 'coloured'))).toBe(min(43));
    expect(from(lather('coloured', 'coloured', 'coloured', 'coloured', 'coloured'))).toBe(min(43));
  });
  it('[S5] a later one that shows it neutral answers it', () => {
    expect(from(lather('coloured', 'coloured', 'coloured', 'coloured', 'colourless'))).toBeNull();
  });
  it('[S5] asks only at the shampoos', () => {
    const failed = lather('coloured', 'coloured', 'coloured', 'coloured');
    expect(from(failed, 'condition')).toBeNull();
    expect(from(failed, 'neutralize', perm())).toBeNull();
    expect(backToRinse.from(facts('neutralize', null), figures)).toBeNull();
  });
  it('[S5] rings CAUTION until water is on', () => {
    const life = FloorLife.salon();
    const v = life.do({ type: 'BeginApplication', chair: 2, visit: null, service: null });
    life.at(15).do({ type: 'FinishApplication', visit: v });
    life.at(26).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 });
    life.at(32).do({ type: 'ClearAndOff', visit: v });
    for (const minute of [34, 36, 38, 40])
      life.at(minute).do({ type: 'MarkShampoo', visit: v, indicator: 'coloured', strip: null }, saw(life, v));
    expect(life.bells(v)).toContain('back-to-rinse CAUTION #1');
    life.at(41).do({ type: 'BeginRinse', chair: 2, visit: v, basin: 91 }, saw(life, v));
    expect(life.bells(v)).not.toContain('back-to-rinse CAUTION #1');
  });
});
