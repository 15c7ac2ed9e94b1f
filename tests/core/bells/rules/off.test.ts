import { describe, expect, it } from 'vitest';
import { over, overLate, rinse, soon } from '../../../../core/bells/rules/off.ts';
import type { ProductClass } from '../../../../core/directions/product-class.ts';
import { defaultFigures } from '../../../../core/salon/salon.ts';
import { MINUTE } from '../../../../core/time.ts';
import { colour, relaxer } from '../../../support/directions-kit.ts';
import { facts, mark, min, pass, water } from '../../../support/pass-kit.ts';

const figures = defaultFigures;
const process = (minutes: number, rules = relaxer()) => facts('process', pass({ applied: mark(minutes) }, rules));
const apply = (rules = relaxer()) => facts('apply', pass({}, rules));

describe('soon', () => {
  it('[R2] stands 3 min before the window opens, once the end of application is known', () => {
    expect(soon.from(process(15), figures)).toBe(min(22));
    expect(soon.from(apply(), figures)).toBeNull();
    expect(soon.level(process(15))).toBe('NOTICE');
  });

  it('[R2] counts from the close where that comes first', () => {
    expect(soon.from(process(22), figures)).toBe(min(27));
  });

  it('[R2] follows the salon’s own figure', () => {
    expect(soon.from(process(15), { ...figures, soonMs: 5 * MINUTE })).toBe(min(20));
  });
});

describe('rinse', () => {
  it('[R2] stands the lead of 2 min and the walk of 1 before the certain close, in apply too', () => {
    expect(rinse.from(process(10), figures)).toBe(min(22));
    expect(rinse.from(apply(), figures)).toBe(min(27));
    expect(rinse.from(apply(colour()), figures)).toBeNull();
    expect(rinse.from(process(10), { ...figures, walkMs: 2 * MINUTE, rinseLeadMs: 4 * MINUTE })).toBe(min(19));
  });
});

describe('over', () => {
  it('[R2] stands from the certain close', () => {
    expect(over.from(process(10), figures)).toBe(min(25));
    expect(over.from(apply(), figures)).toBe(min(30));
  });

  it('[R2] colour goes to WARNING 10 min after its close, and nothing else does', () => {
    expect(overLate.from(process(15, colour()), figures)).toBe(min(55));
    expect(overLate.level(process(15, colour()))).toBe('WARNING');
    expect(overLate.from(apply(colour()), figures)).toBeNull();
    expect(overLate.from(process(15), figures)).toBeNull();
  });
});

describe('levels by product', () => {
  it.each<[ProductClass, string, string]>([
    ['hydroxide', 'WARNING', 'DANGER'],
    ['thio', 'WARNING', 'WARNING'],
    ['lightener', 'WARNING', 'WARNING'],
    ['colour', 'CAUTION', 'CAUTION'],
    ['other', 'WARNING', 'WARNING'],
  ])('[R2] %s: rinse %s, over %s', (kind, atRinse, atOver) => {
    const visit = process(15, relaxer({ class: kind }));
    expect([rinse.level(visit), over.level(visit)]).toEqual([atRinse, atOver]);
  });

  it('[R2] an unknown product rings as other', () => {
    expect(over.level(facts('process', pass({}, null)))).toBe('WARNING');
    expect(over.level(facts('process', null))).toBe('WARNING');
  });
});

describe('where nothing waits for water', () => {
  it.each(['prep', 'neutralize', 'condition', 'dry', 'finished'] as const)('[R2] %s has none of them', (stage) => {
    const visit = facts(stage, pass({ applied: mark(15) }, colour()));
    for (const rule of [soon, rinse, over, overLate]) expect(rule.from(visit, figures)).toBeNull();
  });

  it('[R2] water on ends the cause', () => {
    const visit = facts('rinse', pass({ applied: mark(15), water: water(28), firstWater: water(28) }));
    for (const rule of [soon, rinse, over, overLate]) expect(rule.from(visit, figures)).toBeNull();
  });

  it('[R2] nothing is said of a visit of which no pass is known', () => {
    for (const rule of [soon, rinse, over]) expect(rule.from(facts('process', null), figures)).toBeNull();
    expect(soon.from(facts('process', pass({ applied: mark(5) }, null)), figures)).toBeNull();
  });

  it('[S6] burns before any water leave the cause standing', () => {
    const visit = facts('rinse', pass({ applied: mark(15) }));
    expect(over.from(visit, figures)).toBe(min(30));
  });
});
