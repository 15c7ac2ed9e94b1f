import { describe, expect, test } from 'vitest';
import { noCoverage, playSeed } from './duel.ts';
import { mutants } from './mutants.ts';

/** A part of what the agreement is played with: each mutant has to fall within it. */
const budget = 1_500;

describe('planted mutants fall in the same duel', () => {
  test('there are at least twelve, no two alike', () => {
    expect(mutants.length).toBeGreaterThanOrEqual(12);
    expect(new Set(mutants.map((one) => one.does)).size).toBe(mutants.length);
  });

  test.each(mutants)('[$rule] $does', { timeout: 120_000 }, ({ does, core }) => {
    const coverage = noCoverage();
    let caught: string | null = null;
    for (let seed = 1; seed <= budget && caught === null; seed += 1) {
      caught = playSeed(seed, core, coverage)?.difference.what ?? null;
    }
    console.info(`${does}: caught by ${String(caught)} in sequence ${String(coverage.sequences)}`);
    expect(caught).not.toBeNull();
  });
});
