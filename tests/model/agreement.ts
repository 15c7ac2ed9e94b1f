import { expect } from 'vitest';
import { trueCore } from './core-chair.ts';
import { commandNames, stateNames } from './dice.ts';
import { described, noCoverage, playSeed, replay, shrink, type Coverage } from './duel.ts';

/**
 * Sequences of 1 to 60 commands per file. The long form takes as many as are asked for:
 * `BASINBELL_SEQUENCES=20000 npx vitest run --project model agreement`.
 */
const sequences = Number(process.env['BASINBELL_SEQUENCES'] ?? 2_000);

const pairs = stateNames.flatMap((state) => commandNames.map((command) => `${state} × ${command}`));

/** Plays that many sequences from a seed on, each by its own seed, so that a failing one can be played again. */
export function expectAgreement(firstSeed: number): void {
  const coverage = noCoverage();
  for (let seed = firstSeed; seed < firstSeed + sequences; seed += 1) {
    const parted = playSeed(seed, trueCore, coverage);
    if (parted !== null) {
      const least = shrink(parted.turns, trueCore);
      throw new Error(`seed ${String(seed)}: ${described(least, replay(least))}`);
    }
  }
  expect(coverage.sequences).toBe(sequences);
  expectPairs(coverage);
}

function expectPairs(coverage: Coverage): void {
  const visited = pairs.filter((pair) => coverage.pairs.has(pair));
  const share = (100 * visited.length) / pairs.length;
  console.info(
    `${String(coverage.sequences)} sequences, ${String(coverage.commands)} commands (${String(coverage.done)} done), ` +
      `${String(visited.length)} of ${String(pairs.length)} pairs of state and command visited (${share.toFixed(1)} %)`,
  );
  expect([...coverage.pairs.keys()].filter((pair) => !pairs.includes(pair))).toEqual([]);
  expect(share).toBeGreaterThanOrEqual(95);
}
