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
      comment: 'No npm package and no node:* in the trade itself, nor in what makes days of it up.',
      severity: 'error',
      from: { path: '^libs/(domain|simulator)/', pathNot: '\\.spec\\.ts$' },
      to: { dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown', 'core'] },
    },
    only('libs/domain', []),
    only('libs/ledger', ['libs/domain']),
    only('libs/simulator', ['libs/domain']),
    only('libs/evidence', ['libs/domain', 'libs/ledger']),
    only('libs/postgres', ['libs/domain', 'libs/ledger', 'migrations']),
    only('libs/queue', ['libs/domain', 'libs/ledger']),
    only('libs/config', []),
    only('libs/station-client', []),
    {
      name: 'station-client-stands-alone',
      comment: 'It is installed at benches by itself: Node and nothing else.',
      severity: 'error',
      from: { path: '^libs/station-client/', pathNot: '\\.spec\\.ts$' },
      to: { dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown'] },
    },
    only('migrations', []),
    {
      name: 'dashboard-carries-only-what-checks',
      comment:
        'What runs in a browser is the check itself and the log that it follows; of the rest it may know the shapes.',
      severity: 'error',
      from: { path: '^apps/dashboard/' },
      to: {
        path: '^(apps|libs|migrations|test)/',
        pathNot: '^(apps/dashboard|libs/evidence/verify|libs/ledger/log/(merkle|notes))/',
        dependencyTypesNot: ['type-only'],
      },
    },
    {
      name: 'checks-run-anywhere',
      comment: 'The same check runs on the command line and in a browser, which has nothing of Node.',
      severity: 'error',
      from: {
        path: '^(apps/dashboard|libs/evidence/verify|libs/ledger/log/(merkle|notes))/|^libs/(ledger/log/census-tree|evidence/(log/jws|canonical-json|digests))\\.ts$',
        pathNot: '\\.(spec|contract)\\.ts$|/vite\\.config\\.ts$',
      },
      to: { dependencyTypes: ['core'] },
    },
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
      // Vite makes the worker of a page from the file before the question mark.
      to: { couldNotResolve: true, pathNot: '\\?worker&inline$' },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'node', 'default'] },
  },
};
