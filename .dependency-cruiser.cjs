// The walls of the house: which room may use which. One street, data goes one way (see DEVELOPERS.md).

/** Rooms that read a format. */
const READERS = ['gcode', 'svg'];
/** The parts of the bench that write profiles and sidecars: command line and page write them alike. */
const WRITERS = ['bench/machine', 'bench/sidecar'];
const may = {
  units: [],
  source: [],
  geometry: [],
  model: ['source', 'geometry'],
  ...Object.fromEntries(READERS.map((room) => [room, ['model', 'source', 'geometry']])),
  job: ['model', 'source'],
  physics: [],
  findings: ['source'],
  facts: ['model', 'source', 'geometry', 'job', 'physics'],
  rules: ['facts', 'findings', 'model'],
  bench: ['facts', 'findings', 'physics', 'job', 'model', 'source', 'geometry'],
  fixes: ['facts', 'findings', 'job', 'model', 'source'],
  report: ['findings', 'facts'],
  cli: ['bench', 'fixes', 'report', 'job', 'model', 'source', 'findings', 'rules', 'preflight.ts', 'readers.ts'],
  page: ['preflight.ts', 'readers.ts', 'report', 'job', 'model', 'source', 'findings', 'rules', ...WRITERS],
};
const preflightMay = ['facts', 'findings', 'rules', 'job', 'source'];

const rooms = Object.entries(may).map(([room, open]) => ({
  name: `${room}-keeps-to-its-rooms`,
  comment: `src/${room} may use only: ${['units', ...open].join(', ')}`,
  severity: 'error',
  from: { path: `^src/${room}/` },
  to: {
    path: '^src/',
    pathNot: `^src/(${[room, 'units', ...open].map((o) => (o.endsWith('.ts') ? o.replace('.', '\\.') + '$' : o + '/')).join('|')})`,
  },
}));

module.exports = {
  forbidden: [
    ...rooms,
    {
      name: 'preflight-keeps-to-its-rooms',
      severity: 'error',
      from: { path: '^src/preflight\\.ts$' },
      to: { path: '^src/', pathNot: `^src/(${['units', ...preflightMay].join('|')})/` },
    },
    {
      name: 'one-list-of-readers',
      comment: 'only src/readers.ts knows which readers there are; everyone else is handed its list',
      severity: 'error',
      from: { path: '^(src|action)/', pathNot: `^src/(readers\\.ts$|(${READERS.join('|')})/)` },
      to: { path: `^src/(${READERS.join('|')})/` },
    },
    {
      name: 'readers-are-only-listed',
      severity: 'error',
      from: { path: '^src/readers\\.ts$' },
      to: { path: '^src/', pathNot: `^src/(model/|(${READERS.join('|')})/reader\\.ts$)` },
    },
    {
      name: 'action-uses-the-front-doors',
      severity: 'error',
      from: { path: '^action/' },
      to: { path: '^src/', pathNot: '^src/(units|bench|report|job|source|findings|rules|cli)/|^src/preflight\\.ts$' },
    },
    {
      name: 'rules-stand-alone',
      comment: 'a rule never uses another rule',
      severity: 'error',
      from: { path: '^src/rules/[a-z]+/' },
      to: { path: '^src/rules/[a-z]+/' },
    },
    {
      name: 'core-runs-in-a-browser',
      comment: 'only src/cli and action/ touch Node',
      severity: 'error',
      from: { path: '^src/', pathNot: '^src/cli/' },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'the-fit-stays-outside',
      comment: 'fit/ writes data and documents; nothing that is shipped or measured needs it',
      severity: 'error',
      from: { path: '^(src|action|bench)/' },
      to: { path: '^fit/' },
    },
    { name: 'no-circles', severity: 'error', from: { path: '^(src|action)/' }, to: { circular: true } },
    { name: 'no-lost-imports', severity: 'error', from: { path: '^(src|action)/' }, to: { couldNotResolve: true } },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'require', 'node', 'default'] },
  },
};
