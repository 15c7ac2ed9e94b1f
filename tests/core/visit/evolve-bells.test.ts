import { describe, expect, it } from 'vitest';
import { endBell, nextEpisode, ring, stepBells, take, type Ringing } from '../../../core/visit/evolve-bells.ts';
import { facts, min } from '../../support/pass-kit.ts';

const silent: Ringing = { bells: [], episodes: [] };
const soon = { cause: 'off', kind: 'soon', level: 'NOTICE', episode: 1, dueAt: min(22) } as const;
const rinse = { ...soon, kind: 'rinse', level: 'WARNING', dueAt: min(27) } as const;
const water = { cause: 'water', kind: 'water', level: 'NOTICE', episode: 3, dueAt: min(33) } as const;

describe('bells folded from their own steps', () => {
  it('[R2] a later row replaces the standing one of its cause; when it first rang and who took it stay', () => {
    const taken = take(ring(ring(silent, water, min(33)), soon, min(22)), 'off', 'person-ama', min(23));
    expect(ring(taken, rinse, min(28)).bells).toEqual([
      { ...water, rungAt: min(33), levelAt: min(33), taken: null },
      { ...rinse, rungAt: min(22), levelAt: min(28), taken: { by: 'person-ama', at: min(23) } },
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
});
