import js from '@eslint/js';
import svelte from 'eslint-plugin-svelte';
import globals from 'globals';
import ts from 'typescript-eslint';

const CLOCKS_AND_WORLD = [
  'Date',
  'Intl',
  'setTimeout',
  'setInterval',
  'setImmediate',
  'clearTimeout',
  'clearInterval',
  'queueMicrotask',
  'console',
  'process',
  'performance',
  'crypto',
  'fetch',
  'navigator',
  'window',
  'document',
  'globalThis',
  'require',
  'Buffer',
  'WebSocket',
  'localStorage',
  'structuredClone',
].map((name) => ({
  name,
  message: 'core is handed what it needs to know: no clock, timers, randomness, zones or world (T1).',
}));

const NAMED_ONLY = [
  { selector: 'ExportDefaultDeclaration', message: 'Named exports only.' },
  { selector: 'ExportSpecifier[exported.name="default"]', message: 'Named exports only.' },
  { selector: 'TSEnumDeclaration', message: 'Fixed sets are `as const` objects, not enums.' },
];

const CLOSED_SWITCHES = [
  {
    selector: 'SwitchStatement > SwitchCase[test=null]:not(:has(TSNeverKeyword))',
    message: 'A default that takes whatever comes hides a new kind: list the kinds and end with `never`.',
  },
  { selector: 'SwitchStatement:not(:has(> SwitchCase[test=null]))', message: 'A switch ends with `never`.' },
];

const ON_THE_WIRE = [
  {
    selector:
      'CallExpression[callee.type="MemberExpression"][callee.property.name=/^(optional|nullish|exactOptional)$/]',
    message: 'Nothing on the wire is optional: say null instead.',
  },
  {
    selector: 'CallExpression[callee.property.name="partial"]',
    message: 'Nothing on the wire is optional: say null instead.',
  },
  { selector: 'TSPropertySignature[optional=true]', message: 'Nothing on the wire is optional: say null instead.' },
];

const NOT_RUN = '/^(skip|only|todo|fixme|skipIf|runIf|fails|fail)$/';
const EVERY_TEST_RUNS = [
  `MemberExpression[object.name=/^(test|it|describe|suite|bench|context|ctx|t)$/][property.name=${NOT_RUN}]`,
  `MemberExpression[object.object.name=/^(test|it|describe|suite|bench)$/][property.name=${NOT_RUN}]`,
  'CallExpression[callee.name=/^(xit|xtest|xdescribe|fit|fdescribe)$/]',
  'CallExpression[callee.name=/^(test|it|describe|suite)$/] > ObjectExpression > Property[key.name=/^(skip|only|todo|fails)$/]',
].map((selector) => ({ selector, message: 'No test is skipped, singled out or left for later.' }));

const NO_SLEEPS = [
  'CallExpression[callee.property.name="waitForTimeout"]',
  'NewExpression[callee.name="Promise"] CallExpression[callee.name="setTimeout"]',
  'ImportDeclaration[source.value=/timers.promises/]',
].map((selector) => ({ selector, message: 'No sleeps: move the hand-driven clock and wait for what follows.' }));

const RULE_FIRST = [
  {
    selector:
      'CallExpression[callee.name=/^(test|it)$/] > Literal.arguments:first-child[value!=/^\\[[A-Z]\\d+(, ?[A-Z]\\d+)*\\] /]',
    message: 'A title leads with its rule: `[E3] closes at …`.',
  },
];

/** A law that a comment can switch off is no law. */
const TOLD = { noInlineConfig: true };

export default ts.config(
  { ignores: ['node_modules/', 'data/', '**/dist/', 'coverage/', 'reports/', 'test-results/', '.stryker-tmp/'] },
  { linterOptions: TOLD },
  js.configs.recommended,
  ...ts.configs.recommended,
  ...svelte.configs.recommended,
  {
    languageOptions: { globals: { ...globals.es2022 } },
    rules: {
      'max-lines': ['error', { max: 300, skipBlankLines: false, skipComments: false }],
      'max-lines-per-function': ['error', { max: 60, skipBlankLines: false, skipComments: false, IIFEs: true }],
      'no-restricted-syntax': ['error', ...NAMED_ONLY, ...CLOSED_SWITCHES],
      'no-undef': 'off', // tsc knows better
      'no-unused-vars': 'off',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', varsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-explicit-any': 'error',
      eqeqeq: 'error',
      'prefer-const': 'error',
    },
  },
  {
    files: ['**/*.svelte', '**/*.svelte.ts'],
    languageOptions: {
      parserOptions: { parser: ts.parser, extraFileExtensions: ['.svelte'] },
      globals: globals.browser,
    },
    rules: {
      // `let { a } = $props()` is how Svelte is written.
      'prefer-const': 'off',
      'svelte/prefer-const': 'error',
    },
  },
  {
    files: ['core/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', ...CLOCKS_AND_WORLD],
      'no-restricted-properties': [
        'error',
        { object: 'Math', property: 'random', message: 'core has no randomness (T1).' },
      ],
      'no-restricted-syntax': [
        'error',
        ...NAMED_ONLY,
        ...CLOSED_SWITCHES,
        { selector: 'ImportExpression', message: 'core loads nothing while it runs.' },
        {
          selector: 'VariableDeclarator[init.name="Math"] Property[key.name="random"]',
          message: 'core has no randomness (T1).',
        },
        { selector: 'MemberExpression[property.name=/^toLocale/]', message: 'core knows no locale.' },
        { selector: 'MemberExpression[property.name="localeCompare"]', message: 'core knows no locale.' },
      ],
    },
  },
  {
    // dependency-cruiser sees what Svelte's compiler leaves; this also sees the types that it drops.
    files: ['web/src/**'],
    rules: {
      'no-restricted-imports': [
        'error',
        { patterns: [{ group: ['**/server/**', '**/tests/**', 'node:*'], message: 'A page knows core and shared.' }] },
      ],
    },
  },
  {
    files: ['shared/**/*.ts'],
    rules: { 'no-restricted-syntax': ['error', ...NAMED_ONLY, ...CLOSED_SWITCHES, ...ON_THE_WIRE] },
  },
  {
    files: ['tests/**', 'web/src/words/**'],
    rules: { 'max-lines': 'off', 'max-lines-per-function': 'off' },
  },
  {
    files: ['tests/**'],
    rules: {
      'no-restricted-syntax': ['error', ...NAMED_ONLY, ...EVERY_TEST_RUNS],
    },
  },
  {
    files: ['tests/**/*.{test,spec}.ts'],
    rules: { 'no-restricted-syntax': ['error', ...NAMED_ONLY, ...EVERY_TEST_RUNS, ...NO_SLEEPS] },
  },
  {
    files: ['tests/core/**/*.test.ts', 'tests/reference/**/*.test.ts'],
    rules: { 'no-restricted-syntax': ['error', ...NAMED_ONLY, ...EVERY_TEST_RUNS, ...NO_SLEEPS, ...RULE_FIRST] },
  },
  {
    // Tools ask for a default export.
    files: ['**/*.config.{js,ts}', 'tests/web/page-environment.ts', 'tests/e2e/bundled-server.ts'],
    rules: { 'no-restricted-syntax': 'off' },
  },
);
