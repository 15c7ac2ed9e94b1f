import { describe, expect, it } from 'vitest';
import { NOTHING_UNCERTAIN, lineOf } from '../../support/headlines.ts';
import { headline, headlineFigure } from '../../../core/visit/headline.ts';
import { MINUTE } from '../../../core/time.ts';
import { standing } from '../../support/bell-kit.ts';
import { colour, perm, relaxer } from '../../support/directions-kit.ts';
import { facts, mark, min, pass, water } from '../../support/pass-kit.ts';

const bell = (kind: 'soon' | 'rinse' | 'over') => standing({ kind, dueAt: min(27), rungAt: min(27), levelAt: min(27) });
const to = (minutes: number) => ({ to: min(minutes) });

describe('before and during application', () => {
  it('[V1] prep: prepare, no number', () => {
    expect(lineOf(facts('prep'), 0)).toEqual({
      deed: 'prepare',
      number: null,
      sureness: 'firm',
      corrected: false,
      basin: null,
      count: null,
    });
  });

  it('[V1] apply: finish by the latest finish, certain from first touch', () => {
    expect(lineOf(facts('apply'), 3)).toMatchObject({ deed: 'finish-by', number: to(18), sureness: 'firm' });
    expect(lineOf(facts('apply'), 20)).toMatchObject({ deed: 'finish-by', number: to(18) });
    expect(lineOf(facts('apply', pass(), { bells: [bell('soon')] }), 3)).toMatchObject({ deed: 'finish-by' });
  });

  it('[V1] apply without a ceiling: no number', () => {
    expect(lineOf(facts('apply', pass({}, colour())), 3)).toMatchObject({ deed: 'apply', number: null });
  });

  it.each(['rinse', 'over'] as const)('[V1] apply once %s stands reads as process', (kind) => {
    const visit = facts('apply', pass(), { bells: [bell(kind)] });
    // 27 min after first touch no moment is right for every strand any more: the close comes first, and it is certain.
    expect(lineOf(visit, 27)).toMatchObject({ deed: 'off-by', number: to(30), sureness: 'firm' });
    expect(lineOf(visit, 30)).toMatchObject({ deed: 'rinse-now', number: to(30), sureness: 'firm' });
  });

  it('[V2] a close that moves with an application still running is expected', () => {
    const quick = relaxer({ minAfterMs: 0, maxAfterMs: MINUTE });
    const visit = facts('apply', pass({}, quick), { bells: [bell('rinse')] });
    expect(lineOf(visit, 27)).toMatchObject({ deed: 'off-by', number: to(28), sureness: 'expected' });
    expect(lineOf(visit, 29)).toMatchObject({ deed: 'off-by', number: to(30), sureness: 'firm' });
    const later = relaxer({ minAfterMs: 0, maxAfterMs: 3 * MINUTE, minTotalMs: 29 * MINUTE });
    const soonOpen = facts('apply', pass({}, later), { bells: [bell('rinse')] });
    expect(lineOf(soonOpen, 27)).toMatchObject({ deed: 'rinse-from', number: to(29), sureness: 'expected' });
  });

  it('[V1] apply with an unknown product: apply, and with an unknown begin: rinse now', () => {
    expect(lineOf(facts('apply', pass({}, null)), 3)).toMatchObject({ deed: 'apply', number: null });
    expect(lineOf(facts('process', pass({ beginUnknown: true }, null)), 3)).toMatchObject({ deed: 'rinse-now' });
    expect(lineOf(facts('apply', null), 3)).toMatchObject({ deed: 'apply' });
  });
});

describe('process', () => {
  const visit = facts('process', pass({ applied: mark(15) }));

  it('[V1] rinse from the opening, off by the close, then rinse now with what is over', () => {
    expect(lineOf(visit, 15)).toMatchObject({ deed: 'rinse-from', number: to(25), sureness: 'firm' });
    expect(lineOf(visit, 25 - 1 / 60_000)).toMatchObject({ deed: 'rinse-from' });
    expect(lineOf(visit, 25)).toMatchObject({ deed: 'off-by', number: to(30) });
    expect(lineOf(visit, 30 - 1 / 60_000)).toMatchObject({ deed: 'off-by' });
    expect(lineOf(visit, 30)).toMatchObject({ deed: 'rinse-now', number: to(30) });
  });

  it('[V1] with room below zero it is off by the close all along: there is no "from"', () => {
    const slow = facts('process', pass({ applied: mark(22) }));
    expect(lineOf(slow, 23)).toMatchObject({ deed: 'off-by', number: to(30), sureness: 'firm' });
    expect(lineOf(slow, 30)).toMatchObject({ deed: 'rinse-now' });
  });

  it('[E4] with a room of one moment it is rinse from that moment', () => {
    const only = facts('process', pass({ applied: mark(20) }));
    expect(lineOf(only, 25)).toMatchObject({ deed: 'rinse-from', number: to(30) });
    expect(lineOf(only, 30)).toMatchObject({ deed: 'rinse-now', number: to(30) });
  });

  it('[X1] a close that a correction moved later is marked', () => {
    const bought = facts('process', pass({ applied: mark(15), closeBought: true }));
    expect(lineOf(bought, 16).corrected).toBe(true);
    expect(lineOf(bought, 26).corrected).toBe(true);
    expect(lineOf(facts('apply', pass({ closeBought: true })), 5).corrected).toBe(true);
    expect(lineOf(visit, 16).corrected).toBe(false);
  });
});

describe('water and after', () => {
  it('[V1] rinse: its minimum at the basin, then no number', () => {
    const visit = facts('rinse', pass({ water: water(28) }));
    expect(lineOf(visit, 28)).toMatchObject({ deed: 'rinse-clear', number: to(33), basin: 91 });
    expect(lineOf(visit, 33 - 1 / 60_000).number).not.toBeNull();
    expect(lineOf(visit, 33)).toMatchObject({ deed: 'rinse-clear', number: null, basin: 91 });
    expect(lineOf(facts('rinse', null), 33)).toMatchObject({ basin: null });
  });

  it('[V1] shampoos: which one is on, its dwell, then done', () => {
    const shampoos = (n: number) =>
      Array.from({ length: n }, (_, i) => ({ ...mark(37 + 2 * i), indicator: 'colourless' as const, strip: null }));
    const visit = (n: number) => facts('neutralize', pass({ shampoos: shampoos(n) }), {}, 35);
    expect(lineOf(visit(0), 36)).toMatchObject({ deed: 'shampoo', number: to(37), count: { now: 1, of: 2 } });
    expect(lineOf(visit(0), 37)).toMatchObject({ deed: 'shampoo', number: null });
    expect(lineOf(visit(1), 38)).toMatchObject({ deed: 'shampoo', number: to(39), count: { now: 2, of: 2 } });
    expect(lineOf(visit(2), 40)).toMatchObject({ deed: 'neutralize-done', count: { now: 2, of: 2 } });
  });

  it('[V1] neutralizer: on, off from, off by, off now, its rinse', () => {
    const visit = (changes = {}) => facts('neutralize', pass(changes, perm()), {}, 38);
    const on = visit({ neutralizerOn: mark(40) });
    expect(lineOf(visit(), 39)).toMatchObject({ deed: 'neutralizer-on', number: null });
    expect(lineOf(on, 45 - 1 / 60_000)).toMatchObject({ deed: 'neutralizer-off-from', number: to(45) });
    expect(lineOf(on, 45)).toMatchObject({ deed: 'neutralizer-off-by', number: to(50) });
    expect(lineOf(on, 50 - 1 / 60_000)).toMatchObject({ deed: 'neutralizer-off-by' });
    expect(lineOf(on, 50)).toMatchObject({ deed: 'neutralizer-off-now', number: to(50) });
    const rinsing = visit({ neutralizerOn: mark(40), neutralizerWater: water(46, 92) });
    expect(lineOf(rinsing, 47)).toMatchObject({ deed: 'neutralizer-rinse', number: to(49), basin: 92 });
    expect(lineOf(rinsing, 49)).toMatchObject({ deed: 'neutralizer-rinse', number: null });
  });

  it('[V1] nothing to neutralize is said as done', () => {
    expect(lineOf(facts('neutralize', pass({}, colour())), 40)).toMatchObject({ deed: 'neutralize-done' });
    expect(lineOf(facts('neutralize', null), 40)).toMatchObject({ deed: 'neutralize-done' });
  });

  it('[V1] condition: its dwell; dry and finished: no number', () => {
    expect(lineOf(facts('condition', pass(), {}, 45), 46)).toMatchObject({ deed: 'condition', number: to(48) });
    expect(lineOf(facts('condition', pass(), {}, 45), 48)).toMatchObject({ deed: 'condition', number: null });
    expect(lineOf(facts('dry'), 60)).toMatchObject({ deed: 'dry', number: null });
    expect(lineOf(facts('finished', pass(), { end: 'done' }), 60)).toMatchObject({ deed: 'finished', number: null });
  });

  it('[X4] a client who left with product on is said until somebody saw to it', () => {
    const left = { end: 'abandoned-with-product' } as const;
    expect(lineOf(facts('finished', pass(), left), 60)).toMatchObject({ deed: 'left-with-product' });
    expect(lineOf(facts('finished', pass(), { ...left, settled: mark(61) }), 62)).toMatchObject({ deed: 'finished' });
  });
});

describe('burns', () => {
  const burns = { place: 'skin', at: min(12), by: null, waterAt: null, closed: null } as const;

  it('[V1] to the water, then the count up', () => {
    expect(lineOf(facts('rinse', pass(), { burns }), 12)).toMatchObject({ deed: 'to-the-water', number: null });
    const wet = facts('rinse', pass({ water: water(13) }), { burns: { ...burns, waterAt: min(13) } });
    expect(lineOf(wet, 20)).toMatchObject({ deed: 'keep-rinsing', number: { from: min(13) }, basin: 91 });
    const nowhere = facts('rinse', pass({ water: water(13, null) }), { burns: { ...burns, waterAt: min(13) } });
    expect(lineOf(nowhere, 20)).toMatchObject({ deed: 'keep-rinsing', basin: null });
  });

  it('[V1] closed burns go back to the rinse', () => {
    const closed = { ...mark(30), done: 'eased' } as const;
    const visit = facts('rinse', pass({ water: water(13) }), { burns: { ...burns, waterAt: min(13), closed } });
    expect(lineOf(visit, 31)).toMatchObject({ deed: 'rinse-clear' });
  });
});

describe('the number as painted', () => {
  it('[T3] says so when the time of the floor is uncertain', () => {
    const unsure = { ...NOTHING_UNCERTAIN, uncertain: true };
    const visit = facts('process', pass({ applied: mark(15) }));
    expect(headline(visit, { ...unsure, now: min(16) }).sureness).toBe('uncertain');
    expect(headline(facts('prep'), { ...unsure, now: min(16) }).sureness).toBe('firm');
  });

  it('[T6] counts down to an instant, up from one, or is not there', () => {
    const visit = facts('process', pass({ applied: mark(15) }));
    expect(headlineFigure(lineOf(visit, 20), min(20))).toEqual({ form: 'clock', sign: '', minutes: 5, seconds: 0 });
    expect(headlineFigure(lineOf(visit, 31), min(31))).toEqual({ form: 'clock', sign: '+', minutes: 1, seconds: 0 });
    const burns = { place: 'skin', at: min(12), by: null, waterAt: min(13), closed: null } as const;
    expect(headlineFigure(lineOf(facts('rinse', pass(), { burns }), 20), min(20))).toMatchObject({ minutes: 7 });
    expect(headlineFigure(lineOf(facts('dry'), 20), min(20))).toBeNull();
  });
});
