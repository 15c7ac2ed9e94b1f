/** Who may import whom. One rule per law; tests/laws plants a breach of each and sees it caught. */
const OURS = '^(core|shared|server|web|tests|scripts)/';
const onlyTo = (name, comment, from, ours, packages) => ({
  name,
  comment,
  severity: 'error',
  from: { path: from },
  to: { pathNot: [...ours, ...packages] },
});

module.exports = {
  forbidden: [
    onlyTo('core-only-core', 'core imports nothing but itself.', '^core/', ['^core/'], []),
    onlyTo(
      'shared-only-core-and-zod',
      'shared imports core and zod.',
      '^shared/',
      ['^core/', '^shared/'],
      ['node_modules/zod/'],
    ),
    {
      name: 'shared-types-of-core',
      comment: 'What shared takes from core are types: the wire must not carry the trade.',
      severity: 'error',
      from: { path: '^shared/' },
      to: { path: '^core/', dependencyTypesNot: ['type-only'] },
    },
    {
      name: 'server-not-web',
      comment: 'server and web never import each other.',
      severity: 'error',
      from: { path: '^server/' },
      to: { path: '^web/' },
    },
    {
      name: 'web-not-server',
      comment: 'server and web never import each other.',
      severity: 'error',
      from: { path: '^web/' },
      to: { path: '^server/' },
    },
    {
      name: 'web-no-node',
      comment: "A page has no Node; the build's config file has.",
      severity: 'error',
      from: { path: '^web/src/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'nothing-imports-tests',
      comment: 'Tests are read by nobody but tests and the trials of `npm run faults`.',
      severity: 'error',
      from: { pathNot: '^(tests|scripts/faults)/' },
      to: { path: '^tests/' },
    },
    {
      name: 'nothing-imports-scripts',
      comment: 'Scripts are started, not imported.',
      severity: 'error',
      from: { pathNot: '^(scripts|tests)/' },
      to: { path: '^scripts/' },
    },
    {
      name: 'no-cycles',
      comment: 'No cycles, types included.',
      severity: 'error',
      from: { path: OURS },
      to: { circular: true },
    },
    {
      name: 'all-resolve',
      comment: 'Every import leads somewhere.',
      severity: 'error',
      from: { path: OURS },
      to: { couldNotResolve: true },
    },
    {
      name: 'no-dev-packages-in-the-product',
      comment: 'What runs in a salon is a dependency, not a development tool.',
      severity: 'error',
      from: { path: '^(core|shared|server)/' },
      to: { dependencyTypes: ['npm-dev', 'npm-no-pkg', 'npm-unknown'] },
    },
    {
      name: 'no-drawers',
      comment: 'A folder is named for what is in it.',
      severity: 'error',
      from: {},
      to: { path: '/(util|utils|helper|helpers|common|manager|managers|misc)/', pathNot: 'node_modules' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '(^|/)dist/' },
    tsPreCompilationDeps: true,
    extraExtensionsToScan: [],
    enhancedResolveOptions: {
      extensions: ['.ts', '.svelte', '.svelte.ts', '.js', '.mjs', '.cjs', '.json'],
      conditionNames: ['svelte', 'browser', 'import', 'node', 'default'],
      exportsFields: ['exports'],
      mainFields: ['module', 'main', 'types'],
    },
  },
};
