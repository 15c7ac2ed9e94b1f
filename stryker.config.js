/** Comparisons only: each numbered rule is an inequality, and its boundary is where a mistake would hide. */
const LEFT_ALONE = [
  'ArithmeticOperator',
  'ArrayDeclaration',
  'ArrowFunction',
  'AssignmentOperator',
  'BlockStatement',
  'BooleanLiteral',
  'ConditionalExpression',
  'LogicalOperator',
  'MethodExpression',
  'ObjectLiteral',
  'OptionalChaining',
  'Regex',
  'StringLiteral',
  'UnaryOperator',
  'UpdateOperator',
];

export default {
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: 'tests/mutants.vitest.config.ts', related: false },
  mutate: ['core/**/*.ts'],
  mutator: { excludedMutations: LEFT_ALONE },
  ignorePatterns: ['/data', '/web/dist', '/coverage', '/reports', '/test-results'],
  concurrency: 2,
  reporters: ['clear-text', 'json'],
  clearTextReporter: { reportTests: false },
  jsonReporter: { fileName: 'reports/mutants.json' },
  tempDirName: '.stryker-tmp',
};
