import { describe, expect, it } from 'vitest';
import { neutralizerOver, neutralizerRinse, neutralizerSoon } from '../../../../core/bells/rules/neutralizer.ts';
import { defaultFigures } from '../../../../core/salon/salon.ts';
import { perm } from '../../../support/directions-kit.ts';
import { facts, mark, min, pass, water } from '../../../support/pass-kit.ts';

const all = [neutralizerSoon, neutralizerRinse, neutralizerOver];
const from = (visit: ReturnType<typeof facts>) => all.map((rule) => rule.from(visit, defaultFigures));
const on = pass({ neutralizerOn: mark(40) }, perm());

describe('a neutralizer’s own window', () => {
  it('[S1] 5 to 10 min after its last touch: soon 3 before it opens, rinse 3 before it closes, over at the close', () => {
    expect(from(facts('neutralize', on))).toEqual([min(42), min(47), min(50)]);
  });

  it('[S1] soon counts from the close where that comes first', () => {
    const tight = perm({
      finishing: [{ kind: 'neutralizer', minAfterMs: 600_000, maxAfterMs: 300_000, rinseMs: 0, rods: false }],
    });
    expect(from(facts('neutralize', pass({ neutralizerOn: mark(40) }, tight)))[0]).toBe(min(42));
  });

  it('[S1] sounds no higher than CAUTION', () => {
    expect(all.map((rule) => rule.level(facts('neutralize', on)))).toEqual(['NOTICE', 'CAUTION', 'CAUTION']);
  });

  it('[S1] rings under a cause of its own', () => {
    expect(new Set(all.map((rule) => rule.cause))).toEqual(new Set(['neutralizer']));
  });

  it('[S1] does not ring before it is on, once its water is, in another stage, or with nothing known', () => {
    const none = [null, null, null];
    expect(from(facts('neutralize', pass({}, perm())))).toEqual(none);
    expect(from(facts('neutralize', { ...on, neutralizerWater: water(46) }))).toEqual(none);
    expect(from(facts('condition', on))).toEqual(none);
    expect(from(facts('neutralize', null))).toEqual(none);
  });
});
