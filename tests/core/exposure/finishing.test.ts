import { describe, expect, it } from 'vitest';
import type { ShampooStep } from '../../../core/directions/rules.ts';
import {
  conditionStep,
  failed,
  minimumAt,
  neutralizeStep,
  neutralizerWindow,
  shampooCutShort,
  shampooOnAt,
  shampoosWanted,
} from '../../../core/exposure/finishing.ts';
import { MINUTE } from '../../../core/time.ts';
import type { Shampoo } from '../../../core/visit/visit.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';
import { facts, mark, min, pass, water } from '../../support/pass-kit.ts';

const step: ShampooStep = { kind: 'shampoos', count: 2, dwellMs: 2 * MINUTE, proof: 'strip', stripLimit: 7 };
const washed = (minutes: number, changes: Partial<Shampoo> = {}): Shampoo => ({
  ...mark(minutes),
  indicator: null,
  strip: null,
  ...changes,
});
const good = (minutes: number) => washed(minutes, { indicator: 'colourless' });
const bad = (minutes: number) => washed(minutes, { indicator: 'coloured' });

describe('what the directions ask for', () => {
  it('[S1] either step may be absent', () => {
    expect(neutralizeStep(pass())?.kind).toBe('shampoos');
    expect(neutralizeStep(pass({}, perm()))?.kind).toBe('neutralizer');
    expect(neutralizeStep(pass({}, colour()))).toBeNull();
    expect(neutralizeStep(pass({}, null))).toBeNull();
    expect(conditionStep(pass())?.dwellMs).toBe(3 * MINUTE);
    expect(conditionStep(pass({}, relaxer({ finishing: [] })))).toBeNull();
    expect(conditionStep(pass({}, null))).toBeNull();
  });
});

describe('proof of a shampoo', () => {
  it('[S5] coloured lather fails, colourless does not, unsaid does not', () => {
    expect(failed(bad(0), step)).toBe(true);
    expect(failed(good(0), step)).toBe(false);
    expect(failed(washed(0), step)).toBe(false);
  });

  it('[S5] a strip above the limit fails, at the limit it does not', () => {
    expect(failed(washed(0, { strip: 7.1 }), step)).toBe(true);
    expect(failed(washed(0, { strip: 7 }), step)).toBe(false);
    expect(failed(washed(0, { strip: 9 }), { ...step, stripLimit: null })).toBe(false);
  });

  it('[S5] each failure that could have been the last adds one shampoo, without end', () => {
    const wanted = (...shampoos: Shampoo[]) => shampoosWanted(pass({ shampoos }), step);
    expect(wanted()).toBe(2);
    expect(wanted(bad(1))).toBe(2);
    expect(wanted(bad(1), good(3))).toBe(2);
    expect(wanted(good(1), bad(3))).toBe(3);
    expect(wanted(good(1), bad(3), bad(5))).toBe(4);
    expect(wanted(good(1), bad(3), bad(5), bad(7), bad(9), bad(11))).toBe(7);
    expect(wanted(good(1), bad(3), good(5))).toBe(3);
  });
});

describe('when a shampoo went on', () => {
  it('[S1] as the stage began, then at the one before', () => {
    expect(shampooOnAt(facts('neutralize', pass(), {}, 35), pass())).toBe(min(35));
    const one = pass({ shampoos: [good(38)] });
    expect(shampooOnAt(facts('neutralize', one, {}, 35), one)).toBe(min(38));
  });

  it('[S1] as the stage began anew, after a rinse in between', () => {
    const one = pass({ shampoos: [good(38)] });
    expect(shampooOnAt(facts('neutralize', one, {}, 45), one)).toBe(min(45));
  });

  it('[S4] one marked before its dwell was over is known, at the dwell it is not short', () => {
    const short = (began: number, ...shampoos: Shampoo[]) => {
      const one = pass({ shampoos });
      return shampooCutShort(facts('neutralize', one, {}, began), one, step);
    };
    expect(short(35)).toBe(false);
    expect(short(35, good(37))).toBe(false);
    expect(short(35, good(36.9))).toBe(true);
    expect(short(35, good(37), good(39))).toBe(false);
    expect(short(35, good(37), good(38.9))).toBe(true);
    // Washed before the rinse in between: not of this stay.
    expect(short(45, good(36))).toBe(false);
    expect(short(45, good(45))).toBe(true);
    expect(short(45, good(44), good(47))).toBe(false);
  });
});

describe('a neutralizer', () => {
  it('[S1] has a window from its last touch until its water', () => {
    const on = pass({ neutralizerOn: mark(40) }, perm());
    expect(neutralizerWindow(on)).toEqual({ opensAt: min(45), closesAt: min(50) });
    expect(neutralizerWindow({ ...on, neutralizerWater: water(46) })).toBeNull();
    expect(neutralizerWindow(pass({}, perm()))).toBeNull();
    expect(neutralizerWindow(pass({ neutralizerOn: mark(40) }))).toBeNull();
  });
});

describe('the minimum of a step', () => {
  it('[V1] rinse: the directions’ minutes from water on', () => {
    expect(minimumAt(facts('rinse', pass({ water: water(28) })))).toBe(min(33));
    expect(minimumAt(facts('rinse'))).toBeNull();
    expect(minimumAt(facts('rinse', pass({ water: water(28) }, null)))).toBeNull();
  });

  it('[V1] shampoos: the dwell of the present one, none once all are done', () => {
    const at = (...shampoos: Shampoo[]) => minimumAt(facts('neutralize', pass({ shampoos }), {}, 35));
    expect(at()).toBe(min(37));
    expect(at(good(37))).toBe(min(39));
    expect(at(good(37), good(39))).toBeNull();
    expect(at(good(37), bad(39))).toBe(min(41));
  });

  it('[V1] a neutralizer: its rinse', () => {
    expect(minimumAt(facts('neutralize', pass({ neutralizerOn: mark(40) }, perm())))).toBeNull();
    expect(minimumAt(facts('neutralize', pass({ neutralizerWater: water(46) }, perm())))).toBe(min(49));
  });

  it('[V1] conditioner: its dwell from the beginning of the stage', () => {
    expect(minimumAt(facts('condition', pass(), {}, 50))).toBe(min(53));
    expect(minimumAt(facts('condition', pass({}, relaxer({ finishing: [] })), {}, 50))).toBeNull();
    expect(minimumAt(facts('neutralize', pass({}, colour()), {}, 50))).toBeNull();
  });

  it.each(['prep', 'apply', 'process', 'dry', 'finished'] as const)('[V1] %s has none', (stage) => {
    expect(minimumAt(facts(stage, pass({ water: water(28) })))).toBeNull();
  });

  it('[V1] nor has a visit of which no pass is known', () => {
    expect(minimumAt(facts('rinse', null))).toBeNull();
  });
});
