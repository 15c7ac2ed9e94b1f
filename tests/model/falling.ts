import { describe, expect, test } from 'vitest';
import { noCoverage, playSeed, replay } from './duel.ts';
import type { Mutant } from './mutants.ts';

/** Less than what the agreement is played with: each mutant has to fall within it. */
const budget = 1_500;

/** Each mutant parts from the model; `least`: how many there are at least, none twice. */
export function allFall(what: string, mutants: readonly Mutant[], least: number): void {
  describe(`planted mutants of ${what} fall in the same duel`, () => {
    test(`there are at least ${String(least)}, no two alike`, () => {
      expect(mutants.length).toBeGreaterThanOrEqual(least);
      expect(new Set(mutants.map((one) => one.does)).size).toBe(mutants.length);
    });

    test.each(mutants)('[$rule] $does', ({ does, core }) => {
      const coverage = noCoverage();
      let caught: string | null = null;
      for (let seed = 1; seed <= budget && caught === null; seed += 1) {
        const parted = playSeed(seed, core, coverage);
        // The very same sequence is no quarrel with core as it is: the mutant is to blame.
        if (parted !== null && replay(parted.turns) === null) caught = parted.difference.what;
      }
      console.info(`${does}: caught by ${String(caught)} in sequence ${String(coverage.sequences)}`);
      expect(caught).not.toBeNull();
    });
  });
}
