import { describe, expect, it } from 'vitest';
import {
  bellsMoved,
  endBell,
  miss,
  nextEpisode,
  pass,
  ring,
  show,
  stepBells,
  take,
  widen,
  type Ringing,
} from '../../../core/visit/evolve-bells.ts';
import { facts, min } from '../../support/pass-kit.ts';

const silent: Ringing = { bells: [], episodes: [] };
const asks = { circle: 0, helper: null } as const;
const soon = { cause: 'off', kind: 'soon', level: 'NOTICE', episode: 1, dueAt: min(22), ...asks } as const;
const rinse = { ...soon, kind: 'rinse', level: 'WARNING', dueAt: min(27), helper: 'person-joss' } as const;
const nobodyYet = { passed: [], shown: [], unreached: [] };
const water = { cause: 'water', kind: 'water', level: 'NOTICE', episode: 3, dueAt: min(33), ...asks } as const;

describe('bells folded from their own steps', () => {
  it('[R2] a later row replaces the standing one of its cause; when it first rang and who took it stay', () => {
    const taken = take(ring(ring(silent, water, min(33)), soon, min(22)), 'off', 'person-ama', min(23));
    expect(ring(taken, rinse, min(28)).bells).toEqual([
      { ...water, rungAt: min(33), levelAt: min(33), soundAt: null, circleAt: min(33), taken: null, ...nobodyYet },
      {
        ...rinse,
        rungAt: min(22),
        levelAt: min(28),
        soundAt: min(28),
        circleAt: min(28),
        taken: { by: 'person-ama', at: min(23) },
        ...nobodyYet,
      },
    ]);
  });

  it('[R2] each cause has episodes of its own, counted on after an end', () => {
    const both = ring(ring(silent, soon, min(22)), water, min(33));
    expect(nextEpisode(silent, 'off')).toBe(1);
    expect(nextEpisode(endBell(both, 'off'), 'off')).toBe(2);
    expect(nextEpisode(both, 'water')).toBe(4);
    expect(endBell(both, 'off').bells.map((one) => one.cause)).toEqual(['water']);
    expect(take(both, 'water', 'person-ama', min(34)).bells.map((one) => one.taken !== null)).toEqual([false, true]);
  });

  it('[R3] a taking by nobody is none', () => {
    const visit = stepBells(facts('process'), { type: 'BellRung', ...soon }, { at: min(22), by: null });
    const taken = (by: string | null) => stepBells(visit, { type: 'BellTaken', cause: 'off' }, { at: min(23), by });
    expect(taken(null)).toBe(visit);
    expect(taken('person-ama').bells[0]?.taken).toEqual({ by: 'person-ama', at: min(23) });
    const ended = stepBells(
      visit,
      { type: 'BellEnded', cause: 'off', episode: 1, why: 'cleared' },
      { at: 0, by: null },
    );
    expect(ended.bells).toEqual([]);
  });

  const rang = ring(silent, rinse, min(27));
  const of = { cause: 'off', episode: 1, level: 'WARNING', person: 'person-ama' } as const;
  const [one] = rang.bells;

  it('[R7] a receipt counts once, for this episode and level, and late is better than never', () => {
    const missed = miss(miss(rang, of), of);
    expect(missed.bells[0]?.unreached).toEqual(['person-ama']);
    const shown = show(show(missed, of, min(28)), of, min(29));
    expect(shown.bells[0]).toMatchObject({ shown: [{ person: 'person-ama', at: min(28) }], unreached: [] });
    for (const other of [{ episode: 2 }, { level: 'NOTICE' }, { level: 'DANGER' }] as const) {
      expect(show(rang, { ...of, ...other }, min(28)).bells).toEqual([one]);
      expect(miss(rang, { ...of, ...other }).bells).toEqual([one]);
    }
    expect(show(rang, { ...of, cause: 'pace' }, min(28)).bells).toEqual([one]);
  });

  it('[R3] who cannot go takes back what they said before; who said it twice has said it once', () => {
    const taken = take(rang, 'off', 'person-ama', min(28));
    expect(pass(taken, 'off', 'person-ama').bells[0]).toMatchObject({ passed: ['person-ama'], taken: null });
    expect(pass(taken, 'off', 'person-joss').bells[0]).toMatchObject({
      passed: ['person-joss'],
      taken: { by: 'person-ama' },
    });
    expect(pass(pass(rang, 'off', 'person-joss'), 'off', 'person-joss').bells[0]?.passed).toEqual(['person-joss']);
    const step = { type: 'BellPassed', cause: 'off' } as const;
    expect(stepBells(rang, step, { at: min(28), by: null })).toBe(rang);
    expect(stepBells(rang, step, { at: min(28), by: 'person-ama' }).bells[0]?.passed).toEqual(['person-ama']);
  });

  it('[R6] carried on, it remembers since when', () => {
    expect(widen(rang, 'off', 1, min(28)).bells).toEqual([{ ...one, circle: 1, circleAt: min(28) }]);
    const step = { type: 'BellWidened', cause: 'off', episode: 1, circle: 2, why: 'untaken' } as const;
    expect(stepBells(rang, step, { at: min(29), by: null }).bells).toMatchObject([{ circle: 2, circleAt: min(29) }]);
  });

  it('[R7] a higher level asks everybody anew; another row of the same level does not', () => {
    const stands = pass(show(miss(rang, { ...of, person: 'person-joss' }), of, min(28)), 'off', 'person-sena');
    const wide = widen(stands, 'off', 1, min(28));
    const alike = ring(wide, { ...rinse, kind: 'over', circle: 1 }, min(30)).bells[0];
    expect(alike).toMatchObject({ kind: 'over', levelAt: min(30), soundAt: min(27), circle: 1, circleAt: min(28) });
    expect(alike).toMatchObject({ passed: ['person-sena'], unreached: ['person-joss'] });
    expect(alike?.shown.map(({ person }) => person)).toEqual(['person-ama']);
    const louder = ring(wide, { ...rinse, kind: 'over', level: 'DANGER', circle: 2 }, min(30)).bells[0];
    expect(louder).toMatchObject({ circle: 2, circleAt: min(30), soundAt: min(27), ...nobodyYet });
  });

  it('[R7] steps of the log say the same', () => {
    const notReached = { type: 'BellNotReached', ...of } as const;
    const shown = { type: 'BellShown', ...of } as const;
    const after = stepBells(rang, notReached, { at: min(27.2), by: null });
    expect(after.bells[0]?.unreached).toEqual(['person-ama']);
    expect(stepBells(after, shown, { at: min(28), by: null }).bells).toEqual(show(after, of, min(28)).bells);
  });

  it('[T3] instants since the time was lost lie so much later, those before it stay', () => {
    const stands = take(show(widen(rang, 'off', 1, min(28)), of, min(28.5)), 'off', 'person-ama', min(29));
    const [moved] = bellsMoved(stands, min(28), 60_000).bells;
    expect(moved).toMatchObject({ dueAt: min(27), rungAt: min(27), levelAt: min(27), soundAt: min(27) });
    expect(moved).toMatchObject({ circleAt: min(29), taken: { at: min(30) }, shown: [{ at: min(29.5) }] });
    const [all] = bellsMoved(stands, min(27), 60_000).bells;
    expect(all).toMatchObject({ dueAt: min(28), rungAt: min(28), levelAt: min(28), soundAt: min(28) });
    expect(bellsMoved(ring(silent, soon, min(22)), min(20), 60_000).bells[0]?.soundAt).toBeNull();
  });
});
