import { describe, expect, it } from 'vitest';
import type { Rules, ShampooStep } from '../../../../core/directions/rules.ts';
import { MINUTE } from '../../../../core/time.ts';
import { nextStep, owedOnLeaving, skipped, stepAhead } from '../../../../core/visit/stages/leaving.ts';
import type { Pass, Shampoo, VisitFacts } from '../../../../core/visit/visit.ts';
import { colour, perm, relaxer } from '../../../support/directions-kit.ts';
import { facts, mark, min, pass, water } from '../../../support/pass-kit.ts';

const items = (visit: VisitFacts, minutes: number): string[] =>
  owedOnLeaving(visit, min(minutes)).map((one) => one.item);
const washed = (minutes: number, changes: Partial<Shampoo> = {}): Shampoo => ({
  ...mark(minutes),
  indicator: 'colourless',
  strip: null,
  ...changes,
});
const shampooing = (changes: Partial<ShampooStep>, ...shampoos: Shampoo[]) => {
  const step: ShampooStep = { kind: 'shampoos', count: 2, dwellMs: 2 * MINUTE, proof: 'indicator', stripLimit: null };
  return facts('neutralize', pass({ shampoos }, relaxer({ finishing: [{ ...step, ...changes }] })), {}, 35);
};

describe('leaving rinse', () => {
  it('[S4] wants the rinse minimum, at the instant it is enough', () => {
    const visit = facts('rinse', pass({ water: water(28) }));
    expect(items(visit, 33 - 1 / 60_000)).toEqual(['rinse-short']);
    expect(items(visit, 33)).toEqual([]);
  });

  it('[S4] wants water at all', () => {
    expect(items(facts('rinse'), 50)).toEqual(['not-marked']);
  });

  it('[S4] knows no minimum of an unknown product', () => {
    expect(items(facts('rinse', pass({ water: water(28) }, null)), 28)).toEqual([]);
  });

  it('[S4] names the stage and the pass', () => {
    expect(owedOnLeaving(facts('rinse'), min(3))).toEqual([{ item: 'not-marked', stage: 'rinse', pass: 0 }]);
  });
});

describe('leaving shampoos', () => {
  it('[S4] wants the count, the dwell of the one that is on, and the proof', () => {
    expect(items(shampooing({}), 36)).toEqual(['shampoos-short', 'dwell-short', 'proof-missing']);
    expect(items(shampooing({}), 37)).toEqual(['shampoos-short', 'proof-missing']);
    expect(items(shampooing({}, washed(37)), 38)).toEqual(['shampoos-short', 'dwell-short']);
    expect(items(shampooing({}, washed(37)), 39)).toEqual(['shampoos-short']);
    expect(items(shampooing({}, washed(37), washed(39)), 39)).toEqual([]);
    expect(items(shampooing({}, washed(37), washed(39), washed(41)), 41)).toEqual([]);
  });

  it('[S4] names a shampoo that was marked before its dwell was over', () => {
    expect(items(shampooing({}, washed(37), washed(38)), 45)).toEqual(['dwell-short']);
  });

  it('[S5] a coloured last lather wants one more and is no proof', () => {
    const coloured = { indicator: 'coloured' } as const;
    expect(items(shampooing({}, washed(37), washed(39, coloured)), 45)).toEqual(['shampoos-short', 'proof-missing']);
  });

  it('[S4] proof by strip, by indicator, or by count alone', () => {
    const strip = { proof: 'strip', stripLimit: 7 } as const;
    const none = { indicator: null };
    expect(items(shampooing(strip, washed(37), washed(39)), 45)).toEqual(['proof-missing']);
    expect(items(shampooing(strip, washed(37), washed(39, { strip: 7 })), 45)).toEqual([]);
    expect(items(shampooing({}, washed(37), washed(39, none)), 45)).toEqual(['proof-missing']);
    expect(items(shampooing({ proof: 'count' }, washed(37, none), washed(39, none)), 45)).toEqual([]);
  });
});

describe('leaving a neutralizer', () => {
  const visit = (changes: Partial<Pass>, rules?: Rules) => facts('neutralize', pass(changes, rules ?? perm()), {}, 38);

  it('[S4] wants its time, its water and the rods', () => {
    expect(items(visit({}), 39)).toEqual(['neutralizer-not-timed', 'not-marked', 'rods-not-marked']);
  });

  it('[S4] wants its rinse minimum, at the instant it is enough', () => {
    const rinsed = { neutralizerOn: mark(40), neutralizerWater: water(46), rodsOut: mark(45) };
    expect(items(visit(rinsed), 49 - 1 / 60_000)).toEqual(['rinse-short']);
    expect(items(visit(rinsed), 49)).toEqual([]);
  });

  it('[S4] wants no rods where the directions have none', () => {
    const bare = perm({
      finishing: [{ kind: 'neutralizer', minAfterMs: 0, maxAfterMs: 600_000, rinseMs: 0, rods: false }],
    });
    expect(items(visit({ neutralizerOn: mark(40), neutralizerWater: water(46) }, bare), 46)).toEqual([]);
  });
});

describe('leaving other stages', () => {
  it('[S4] condition wants its dwell, at the instant it is enough', () => {
    const visit = facts('condition', pass(), {}, 45);
    expect(items(visit, 48 - 1 / 60_000)).toEqual(['dwell-short']);
    expect(items(visit, 48)).toEqual([]);
    expect(items(facts('condition', pass({}, relaxer({ finishing: [] })), {}, 45), 45)).toEqual([]);
  });

  it.each(['prep', 'apply', 'process', 'dry', 'finished'] as const)('[S4] %s wants nothing', (stage) => {
    expect(items(facts(stage), 1)).toEqual([]);
  });

  it('[S4] nothing to neutralize wants nothing, nor does a visit of which no pass is known', () => {
    expect(items(facts('neutralize', pass({}, colour())), 1)).toEqual([]);
    expect(items(facts('rinse', null), 1)).toEqual([]);
  });
});

describe('steps on the way', () => {
  const two = (stage: VisitFacts['stage'], at: number): VisitFacts =>
    facts(stage, null, { pass: at, passes: [pass({}, relaxer()), pass({}, colour())] });

  it('[S4] what lies between is not marked', () => {
    expect(skipped(facts('rinse'), { stage: 'dry', pass: 0 })).toEqual([
      { item: 'not-marked', stage: 'neutralize', pass: 0 },
      { item: 'not-marked', stage: 'condition', pass: 0 },
    ]);
    expect(skipped(facts('rinse'), { stage: 'neutralize', pass: 0 })).toEqual([]);
  });

  it('[S4] nothing lies between a step and one before it', () => {
    expect(skipped(facts('dry'), { stage: 'rinse', pass: 0 })).toEqual([]);
    expect(skipped(facts('rinse'), { stage: 'rinse', pass: 0 })).toEqual([]);
  });

  it('[S10] the next step after a pass is the preparation of the next', () => {
    expect(nextStep(two('condition', 0))).toEqual({ stage: 'prep', pass: 1 });
    expect(nextStep(two('dry', 1))).toEqual({ stage: 'finished', pass: 1 });
    expect(nextStep(two('finished', 1))).toEqual({ stage: 'finished', pass: 1 });
  });

  it('[S4] a step ahead is the first of its kind after the present one', () => {
    expect(stepAhead(two('rinse', 0), 'condition')).toEqual({ stage: 'condition', pass: 0 });
    expect(stepAhead(two('condition', 0), 'condition')).toEqual({ stage: 'condition', pass: 1 });
    expect(stepAhead(two('rinse', 0), 'prep')).toEqual({ stage: 'prep', pass: 1 });
    expect(stepAhead(two('dry', 1), 'condition')).toBeNull();
  });
});
