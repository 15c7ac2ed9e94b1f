import { describe, expect, it } from 'vitest';
import { checkRules } from '../../../core/directions/check.ts';
import { productClasses } from '../../../core/directions/product-class.ts';
import { defaultParts, type FinishingStep, type PartPlan, type Rules } from '../../../core/directions/rules.ts';
import { HOUR, MINUTE } from '../../../core/time.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';

const faults = (changes: Partial<Rules>): string[] =>
  checkRules(relaxer(changes)).map(({ field, fault }) => `${field}:${fault}`);
const parts = (...shares: readonly number[]): PartPlan[] =>
  shares.map((share) => ({ place: 'other', share, ceilingMs: null }));
const equal = (count: number) => parts(...Array.from({ length: count }, () => 1 / count));
const partCeiling = (ceilingMs: number) => defaultParts.map((part, i) => (i === 2 ? { ...part, ceilingMs } : part));

describe('directions that can be used', () => {
  it('[E3] have no fault', () => {
    for (const rules of [relaxer(), perm(), colour()]) expect(checkRules(rules)).toEqual([]);
  });
});

describe('figures out of range', () => {
  it.each([
    ['nominalMs', MINUTE],
    ['minAfterMs', 0],
    ['maxAfterMs', MINUTE],
    ['ceilingMs', MINUTE],
    ['minTotalMs', MINUTE],
    ['firstTestMs', 0],
    ['testEveryMs', MINUTE / 2],
    ['graceMs', 0],
    ['rinseMs', 0],
  ] as const)('[E3] %s from its least, %i ms, to three hours', (field, least) => {
    const fault = `${field}:out-of-range`;
    const wrong = (value: number) => faults({ [field]: value }).includes(fault);
    expect([least - 1, least, least + 0.5, 3 * HOUR, 3 * HOUR + 1].map(wrong)).toEqual([
      true,
      false,
      true,
      false,
      true,
    ]);
    expect(wrong(Number.NaN)).toBe(true);
  });
});

describe('figures that contradict each other', () => {
  it('[E3] maxAfter is at least minAfter', () => {
    expect(faults({ minAfterMs: 10 * MINUTE, maxAfterMs: 10 * MINUTE })).toEqual([]);
    expect(faults({ minAfterMs: 10 * MINUTE, maxAfterMs: 10 * MINUTE - 1 })).toEqual(['maxAfterMs:max-below-min']);
  });

  it.each(productClasses)('[E3] %s without a ceiling', (kind) => {
    const wanted = kind === 'colour' ? [] : ['ceilingMs:ceiling-missing'];
    expect(faults({ class: kind, ceilingMs: null })).toEqual(wanted);
  });

  it('[E3] a ceiling is at least minAfter and the least total', () => {
    expect(faults({ ceilingMs: 10 * MINUTE })).toEqual([]);
    expect(faults({ ceilingMs: 10 * MINUTE - 1 })).toEqual(['ceilingMs:ceiling-below-min']);
    expect(faults({ ceilingMs: 20 * MINUTE, minTotalMs: 20 * MINUTE })).toEqual([]);
    expect(faults({ ceilingMs: 20 * MINUTE - 1, minTotalMs: 20 * MINUTE })).toEqual(['ceilingMs:ceiling-below-min']);
  });
});

describe('parts', () => {
  it('[E4] are one to twelve', () => {
    expect(faults({ parts: [] })).toContain('parts:parts-count');
    expect(faults({ parts: equal(1) })).toEqual([]);
    expect(faults({ parts: equal(12) })).toEqual([]);
    expect(faults({ parts: equal(13) })).toEqual(['parts:parts-count']);
  });

  it('[E4] have shares over zero that sum to one, as far as decimals allow', () => {
    expect(faults({ parts: parts(0.33, 0.33, 0.33) })).toEqual([]);
    expect(faults({ parts: parts(0.5, 0.511) })).toEqual([]);
    expect(faults({ parts: parts(0.5, 0.512) })).toEqual(['parts:shares-sum']);
    expect(faults({ parts: parts(0.5, 0.48) })).toEqual(['parts:shares-sum']);
    expect(faults({ parts: parts(1, 0) })).toEqual(['parts:shares-sum']);
    expect(faults({ parts: parts(1.5, -0.5) })).toEqual(['parts:shares-sum']);
  });

  it('[E4] have ceilings between minAfter and the head’s', () => {
    const low = 'parts.2.ceilingMs:ceiling-below-min';
    const high = 'parts.2.ceilingMs:part-ceiling-above-head';
    expect(faults({ parts: partCeiling(10 * MINUTE) })).toEqual([]);
    expect(faults({ parts: partCeiling(10 * MINUTE - 1) })).toEqual([low]);
    expect(faults({ parts: partCeiling(30 * MINUTE) })).toEqual([]);
    expect(faults({ parts: partCeiling(30 * MINUTE + 1) })).toEqual([high]);
    expect(faults({ class: 'colour', ceilingMs: null, parts: partCeiling(90 * MINUTE) })).toEqual([]);
  });
});

describe('names and heat', () => {
  it('[E4] two parts of one name are refused, but for those told by their number', () => {
    const named = (...places: PartPlan['place'][]) =>
      faults({ parts: places.map((place) => ({ place, share: 1 / places.length, ceilingMs: null })) });
    expect(named('nape-left', 'other', 'other')).toEqual([]);
    expect(named('nape-left', 'nape-right', 'nape-left')).toEqual(['parts.2.place:place-twice']);
  });

  it('[E10] no figure under heat comes later than the same one without', () => {
    const warm = (minAfter: number, maxAfter: number, ceiling: number | null) =>
      faults({
        heat: 'allowed',
        underHeat: {
          minAfterMs: minAfter * MINUTE,
          maxAfterMs: maxAfter * MINUTE,
          ceilingMs: ceiling === null ? null : ceiling * MINUTE,
        },
      });
    expect(warm(10, 15, 30)).toEqual([]);
    expect(warm(10 + 1 / 60, 15, 30)).toEqual(['underHeat.minAfterMs:heat-later']);
    expect(warm(10, 15 + 1 / 60, 30)).toEqual(['underHeat.maxAfterMs:heat-later']);
    expect(warm(10, 15, 30 + 1 / 60)).toEqual(['underHeat.ceilingMs:heat-later']);
    // One thing is said of one field.
    expect(warm(10, 15, null)).toEqual(['underHeat.ceilingMs:ceiling-missing']);
  });
});

describe('finishing steps', () => {
  const shampoos = { kind: 'shampoos', count: 2, dwellMs: MINUTE, proof: 'indicator', stripLimit: null } as const;
  const neutralizer = {
    kind: 'neutralizer',
    minAfterMs: 5 * MINUTE,
    maxAfterMs: 5 * MINUTE,
    rinseMs: 0,
    rods: true,
  } as const;
  const condition = { kind: 'condition', dwellMs: MINUTE } as const;
  const finishing = (...steps: FinishingStep[]) => faults({ finishing: steps });

  it('[S1] either may be absent, none is there twice', () => {
    expect(finishing()).toEqual([]);
    expect(finishing(condition, shampoos)).toEqual([]);
    expect(finishing(shampoos, condition, condition)).toEqual(['finishing.2:step-twice']);
    expect(finishing(shampoos, neutralizer)).toEqual(['finishing.1:step-twice']);
  });

  it('[S1] have no absurd minutes', () => {
    const range = (field: string) => [`finishing.0.${field}:out-of-range`];
    expect(finishing({ ...condition, dwellMs: 0 })).toEqual([]);
    expect(finishing({ ...condition, dwellMs: -1 })).toEqual(range('dwellMs'));
    expect(finishing({ ...shampoos, dwellMs: 3 * HOUR })).toEqual([]);
    expect(finishing({ ...shampoos, dwellMs: 3 * HOUR + 1 })).toEqual(range('dwellMs'));
    expect(finishing({ ...neutralizer, minAfterMs: -1 })).toEqual(range('minAfterMs'));
    expect(finishing({ ...neutralizer, minAfterMs: 0, maxAfterMs: MINUTE })).toEqual([]);
    expect(finishing({ ...neutralizer, minAfterMs: 0, maxAfterMs: MINUTE - 1 })).toEqual(range('maxAfterMs'));
    expect(finishing({ ...neutralizer, rinseMs: 3 * HOUR + 1 })).toEqual(range('rinseMs'));
  });

  it('[S1] a neutralizer’s most is at least its least', () => {
    expect(finishing(neutralizer)).toEqual([]);
    expect(finishing({ ...neutralizer, maxAfterMs: 4 * MINUTE })).toEqual(['finishing.0.maxAfterMs:max-below-min']);
  });

  it('[S5] strips want a limit', () => {
    expect(finishing({ ...shampoos, proof: 'strip' })).toEqual(['finishing.0.stripLimit:strip-limit-missing']);
    expect(finishing({ ...shampoos, proof: 'strip', stripLimit: 7 })).toEqual([]);
    expect(finishing({ ...shampoos, proof: 'count' })).toEqual([]);
  });
});
