import { describe, expect, test } from 'vitest';
import { trueCore } from './core-chair.ts';
import { commandNames, stateNames } from './dice.ts';
import { described, noCoverage, playSeed, replay, shrink } from './duel.ts';

/** Sequences of 1 to 60 commands; seeds count from here, so that a failing one can be played again. */
const sequences = 10_000;
const firstSeed = 20_260_505;

describe('core and the independent model agree', () => {
  test('[S1, S2, S7, X2, R2] over random sequences at one chair', { timeout: 600_000 }, () => {
    const coverage = noCoverage();
    for (let seed = firstSeed; seed < firstSeed + sequences; seed += 1) {
      const parted = playSeed(seed, trueCore, coverage);
      if (parted !== null) {
        const least = shrink(parted.turns, trueCore);
        throw new Error(`seed ${String(seed)}: ${described(least, replay(least))}`);
      }
    }
    const all = stateNames.flatMap((state) => commandNames.map((command) => `${state} × ${command}`));
    const visited = all.filter((pair) => coverage.pairs.has(pair));
    const share = (100 * visited.length) / all.length;
    console.info(
      `${String(coverage.sequences)} sequences, ${String(coverage.commands)} commands (${String(coverage.done)} done), ` +
        `${String(visited.length)} of ${String(all.length)} pairs of state and command visited (${share.toFixed(1)} %)`,
    );
    expect(coverage.sequences).toBe(sequences);
    expect([...coverage.pairs.keys()].filter((pair) => !all.includes(pair))).toEqual([]);
    expect(share).toBeGreaterThanOrEqual(95);
  });
});
