import { defineConfig } from 'vitest/config';

/**
 * What a mutant of core has to get past: the tests that look at single rules at their boundaries. The properties are left
 * out: they take seconds each, and a boundary that only a random sequence guards is guarded by luck.
 */
export default defineConfig({
  test: {
    include: ['tests/core/**/*.test.ts', 'tests/reference/**/*.test.ts'],
    testTimeout: 60_000,
  },
});
