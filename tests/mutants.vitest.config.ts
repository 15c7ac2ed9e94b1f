import { defineConfig } from 'vitest/config';

/** What a mutant of core has to get past: the tests that look at core's rules, none of those that start programs. */
export default defineConfig({
  test: {
    include: ['tests/core/**/*.test.ts', 'tests/reference/**/*.test.ts', 'tests/properties/**/*.test.ts'],
    testTimeout: 60_000,
  },
});
