import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** One project per kind of test, so that a kind can be run and counted by itself: `npx vitest run --project laws`. */
const kind = (name: string, include: string[]) => ({
  extends: true as const,
  test: { name, include, environment: 'node' },
});

export default defineConfig({
  // Browser resolution, else `mount` and runes come from Svelte's server build.
  plugins: [svelte()],
  resolve: { conditions: ['browser'] },
  test: {
    // Two cores: more workers only take turns.
    maxWorkers: 2,
    // A project may be empty for a while, a whole run may not: scripts/test.mjs counts what was executed.
    passWithNoTests: false,
    allowOnly: false,
    testTimeout: 20_000,
    coverage: {
      provider: 'v8',
      include: ['core/**/*.ts'],
      exclude: ['**/*.d.ts'],
      reporter: ['text', 'json-summary'],
      reportsDirectory: 'coverage',
    },
    projects: [
      kind('unit', ['tests/{core,shared,server,web,scripts}/**/*.test.ts']),
      kind('reference', ['tests/reference/**/*.test.ts']),
      kind('properties', ['tests/properties/**/*.test.ts']),
      kind('contract', ['tests/contract/**/*.test.ts']),
      kind('faults', ['tests/faults/**/*.test.ts']),
      kind('load', ['tests/load/**/*.test.ts']),
      kind('laws', ['tests/laws/**/*.test.ts']),
    ],
  },
});
