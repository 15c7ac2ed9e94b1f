import type { Environment } from 'vitest/environments';

/** Node's globals, but code built as for a page: else runes resolve to Svelte's server build, where nothing reacts. */
const pageEnvironment: Environment = {
  name: 'page',
  viteEnvironment: 'client',
  setup: () => ({ teardown: () => undefined }),
};

export default pageEnvironment;
