import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** One project per kind of test, so that a kind can be run and counted by itself: `npx vitest run --project laws`. */
const kind = (name: string, include: string[]) => ({ extends: true as const, test: { name, include } });

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
          include: ['tests/web/**/*.test.ts'],
          environment: './tests/web/page-environment.ts',
          server: { deps: { inline: [/svelte/] } },
        },
      },
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
