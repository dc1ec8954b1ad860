/** The arrows of the house: domain <- ledger <- postgres | queue | evidence <- apps. */
const only = (room, allowed) => ({
  name: `${room.replace(/[^a-z]+/g, '-')}-looks-only-inward`,
  severity: 'error',
  from: { path: `^${room}/`, pathNot: '\\.spec\\.ts$' },
  to: { path: '^(apps|libs|migrations|test)/', pathNot: `^(${[room, ...allowed].join('|')})/` },
});

module.exports = {
  forbidden: [
    { name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
    {
      name: 'domain-is-pure',
      comment: 'No npm package and no node:* in the trade itself.',
      severity: 'error',
      from: { path: '^libs/domain/', pathNot: '\\.spec\\.ts$' },
      to: { dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown', 'core'] },
    },
    only('libs/domain', []),
    only('libs/ledger', ['libs/domain']),
    only('libs/evidence', ['libs/domain', 'libs/ledger']),
    only('libs/postgres', ['libs/domain', 'libs/ledger', 'migrations']),
    only('libs/queue', ['libs/domain', 'libs/ledger']),
    only('libs/config', []),
    only('migrations', []),
    {
      name: 'product-never-needs-tests',
      severity: 'error',
      from: { path: '^(apps|libs|migrations)/', pathNot: '\\.spec\\.ts$' },
      to: { path: '^test/' },
    },
    {
      name: 'not-to-unresolvable',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default'] },
  },
};
