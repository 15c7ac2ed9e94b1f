import { describe, expect, it } from 'vitest';
import { checkRules } from '../../../core/directions/check.ts';
import { defaultParts } from '../../../core/directions/rules.ts';
import { HOUR, MINUTE } from '../../../core/time.ts';
import { colour, relaxer, warmed } from '../../support/directions-kit.ts';

const withCeiling = (ceilingMs: number) => defaultParts.map((part, i) => (i === 3 ? { ...part, ceilingMs } : part));

describe('figures under heat and ceilings of parts', () => {
  it('[E10] figures under heat contradict one another like the others, and say whose they are', () => {
    const warm = (changes: object) =>
      checkRules(relaxer({ ...warmed, underHeat: { ...warmed.underHeat, ...changes } }));
    expect(warm({})).toEqual([]);
    expect(warm({ maxAfterMs: 5 * MINUTE })).toEqual([{ field: 'underHeat.maxAfterMs', fault: 'max-below-min' }]);
    expect(warm({ ceilingMs: 5 * MINUTE })).toEqual([{ field: 'underHeat.ceilingMs', fault: 'ceiling-below-min' }]);
    expect(warm({ ceilingMs: null })).toEqual([{ field: 'underHeat.ceilingMs', fault: 'ceiling-missing' }]);
    expect(warm({ minAfterMs: -1 })).toContainEqual({ field: 'underHeat.minAfterMs', fault: 'out-of-range' });
  });

  it('[E3] a part’s ceiling is a sensible number of minutes', () => {
    const code = (ceilingMs: number) => checkRules(colour({ minAfterMs: 0, parts: withCeiling(ceilingMs) }));
    expect(code(MINUTE)).toEqual([]);
    for (const absurd of [0, -1, 0.5, NaN, 3 * HOUR + 1])
      expect(code(absurd)).toContainEqual({ field: 'parts.3.ceilingMs', fault: 'out-of-range' });
  });
});
