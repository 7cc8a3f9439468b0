/**
 * The rooms, in the order in which data passes through them. A room imports only from rooms above it, and
 * from another room only through its index file.
 */
const rooms = [
  'remark',
  'quantity',
  'statistics',
  'recording',
  'sensing',
  'decay',
  'prediction',
  'experiment',
  'live',
  'rig',
  'class',
  'marking',
  'practice',
  'figure',
  'store',
  'archive',
  'analysis',
  'floor',
  'export',
  'query',
  'report',
  'server',
  'cli',
];

/** Rooms that run in a browser, a worker or a test alike: no Node, no clock. */
const pure = [
  'remark',
  'quantity',
  'statistics',
  'sensing',
  'decay',
  'prediction',
  'experiment',
  'live',
  'rig',
  'class',
  'marking',
  'practice',
  'figure',
];

module.exports = {
  forbidden: [
    { name: 'no-circular', severity: 'error', from: {}, to: { circular: true } },
    { name: 'no-orphans', severity: 'error', from: { orphan: true }, to: {} },
    {
      name: 'only-declared-packages',
      comment:
        'what is bundled is a development dependency, so those are not forbidden; a test holds what stays outside',
      severity: 'error',
      from: { path: '^(src|web/src)' },
      to: { dependencyTypes: ['npm-no-pkg', 'npm-unknown'] },
    },
    ...rooms.map((room, index) => ({
      name: `room-order-${room}`,
      comment: `${room} may import only from the rooms above it`,
      severity: 'error',
      from: { path: `^src/${room}/` },
      to: { path: `^src/(${[...rooms.slice(index + 1), 'none'].join('|')})/` },
    })),
    ...rooms.map((room) => ({
      name: `front-door-${room}`,
      comment: `other rooms enter ${room} by its index file`,
      severity: 'error',
      from: { path: '^src/', pathNot: `^src/${room}/` },
      to: { path: `^src/${room}/`, pathNot: `^src/${room}/(index|files|terminal)[.]ts$` },
    })),
    ...pure.map((room) => ({
      name: `pure-${room}`,
      severity: 'error',
      from: { path: `^src/${room}/` },
      to: { dependencyTypes: ['core'] },
    })),
    {
      name: 'practice-apart',
      comment: 'what simulates shares no code with what estimates',
      severity: 'error',
      from: { path: '^src/practice/' },
      to: { path: '^src/(recording|statistics|decay|class)/' },
    },
    {
      name: 'page-by-the-contract',
      comment: 'the page uses pure rooms by their index, and of the server its contract',
      severity: 'error',
      from: { path: '^web/' },
      to: {
        path: '^src/',
        pathNot: `^src/((${pure.join('|')}|recording)/index[.]ts$|server/contract/)`,
      },
    },
    {
      name: 'pure-recording',
      comment: 'only files.ts of the recording room, and what it is made of, touches disk and threads',
      severity: 'error',
      from: {
        path: '^src/recording/',
        pathNot: '^src/recording/(files|disk|samples|intake|follow|second-reader|second-thread)[.]ts$',
      },
      to: { dependencyTypes: ['core'] },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: { exportsFields: ['exports'], conditionNames: ['import', 'types', 'default'] },
  },
};
