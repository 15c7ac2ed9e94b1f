import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** They put a module of their own in another's place, and want all modules anew. */
const withMocks = ['tests/server/live/former-protocol.test.ts'];

/**
 * One project per kind of test, so that a kind can be run and counted by itself: `npx vitest run --project laws`. Files of one worker share their
 * modules, which hold no state: reading them anew for each of over two hundred files took longer than many of the tests.
 */
const kind = (name: string, include: string[], isolate = false) => ({
  extends: true as const,
  test: { name, include, isolate, exclude: isolate ? [] : withMocks },
});

export default defineConfig({
  test: {
    // Two cores: more workers would only take turns.
    maxWorkers: 2,
    allowOnly: false,
    testTimeout: 240_000,
    hookTimeout: 120_000,
    coverage: {
      provider: 'v8',
      include: ['core/**/*.ts'],
      reporter: ['text', 'json-summary'],
      reportsDirectory: 'coverage',
    },
    projects: [
      kind('unit', ['tests/{core,shared,server,scripts}/**/*.test.ts']),
      {
        extends: true,
        plugins: [svelte({ configFile: false })],
        resolve: { conditions: ['browser'] },
        test: {
          name: 'web',
          isolate: false,
          include: ['tests/web/**/*.test.ts'],
          environment: './tests/web/page-environment.ts',
          server: { deps: { inline: [/svelte/] } },
        },
      },
      kind('mocks', withMocks, true),
      kind('reference', ['tests/reference/**/*.test.ts']),
      kind('properties', ['tests/properties/**/*.test.ts']),
      kind('model', ['tests/model/**/*.test.ts']),
      kind('contract', ['tests/contract/**/*.test.ts']),
      kind('faults', ['tests/faults/**/*.test.ts']),
      kind('load', ['tests/load/**/*.test.ts']),
      kind('laws', ['tests/laws/**/*.test.ts']),
    ],
  },
});
