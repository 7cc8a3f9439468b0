/** Where a library ends up. */
type Place = 'installed' | 'bundled' | 'page' | 'tool';

/** A library that package.json names: what a person has to say of it. */
export interface KnownDependency {
  readonly name: string;
  readonly place: Place;
  /** What it does here. */
  readonly reason: string;
  /** What its upkeep looks like; from memory, but for the newest version, which `npm outdated` says. */
  readonly upkeep: string;
}

const steady = 'many releases a year, by a team';
const small = 'small and finished; few releases';
const single = 'releases through the year, by one main author';

/** Every direct dependency; a test holds the names against package.json and against what is bundled. */
export const knownDependencies: readonly KnownDependency[] = [
  {
    name: '@duckdb/node-api',
    place: 'installed',
    reason: 'Parquet files, archives, and questions in SQL. Binary; loaded where one of those is asked for.',
    upkeep: `${steady}, at the engine's own home`,
  },
  {
    name: '@expo-google-fonts/atkinson-hyperlegible-next',
    place: 'installed',
    reason: 'The text family as TrueType, for PDF and PNG. The files are read, its code is not.',
    upkeep: 'follows the fonts, which change seldom',
  },
  {
    name: '@fontsource-variable/atkinson-hyperlegible-next',
    place: 'installed',
    reason: 'The same family as WOFF2, for the page and for documents of one file.',
    upkeep: 'follows the fonts, which change seldom',
  },
  {
    name: '@myriaddreamin/typst-ts-node-compiler',
    place: 'installed',
    reason: 'Sets documents as tagged PDF, with formulas. Binary; loaded with the first PDF.',
    upkeep: 'follows the typesetter a few times a year; below 1.0, so a new minor version may break',
  },
  {
    name: '@resvg/resvg-js',
    place: 'installed',
    reason: 'Figures as PNG without a browser. Binary; loaded with the first PNG.',
    upkeep: 'seldom released; replaceable, as only SVG goes in and bytes come out',
  },
  {
    name: 'zod',
    place: 'installed',
    reason:
      'Schemas of the experiment file, of kept files and of requests: types, messages and JSON Schema from one text. Its code is bundled; it is installed because the declarations of the library speak of its types.',
    upkeep: steady,
  },
  {
    name: '@hono/node-server',
    place: 'bundled',
    reason: 'The server of the page on Node.',
    upkeep: steady,
  },
  {
    name: '@hono/zod-openapi',
    place: 'bundled',
    reason: "Routes that hold requests against their schemas; describes the server's contract.",
    upkeep: steady,
  },
  {
    name: 'hono',
    place: 'bundled',
    reason: 'Routing of requests, cookies, limits of bodies.',
    upkeep: steady,
  },
  {
    name: '@observablehq/plot',
    place: 'bundled',
    reason: 'Marks and axes of every figure, for screen and paper alike.',
    upkeep: 'a few releases a year; below 1.0',
  },
  {
    name: 'linkedom',
    place: 'bundled',
    reason: 'The document in which figures are drawn where there is no browser.',
    upkeep: single,
  },
  {
    name: '@peculiar/x509',
    place: 'bundled',
    reason: 'The certificate that a server in the room makes for itself.',
    upkeep: 'several releases a year, by a firm',
  },
  {
    name: 'reflect-metadata',
    place: 'bundled',
    reason: 'Asked for by @peculiar/x509 at its start.',
    upkeep: small,
  },
  {
    name: 'rate-limiter-flexible',
    place: 'bundled',
    reason: 'Limits on tries at codes and passphrases, and on requests.',
    upkeep: single,
  },
  {
    name: '@stdlib/stats-base-dists-chisquare-quantile',
    place: 'bundled',
    reason: 'Quantiles of the chi-square distribution.',
    upkeep: 'released with the whole of its library, about once a year',
  },
  {
    name: '@stdlib/stats-base-dists-f-quantile',
    place: 'bundled',
    reason: "Quantiles of the F distribution, and by it of Student's.",
    upkeep: 'released with the whole of its library, about once a year',
  },
  {
    name: 'ml-matrix',
    place: 'bundled',
    reason: 'QR decomposition in least squares.',
    upkeep: 'a few releases a year, by a group of chemists',
  },
  {
    name: 'pure-rand',
    place: 'bundled',
    reason: 'Random numbers from a seed, the same on every machine.',
    upkeep: single,
  },
  { name: 'commander', place: 'bundled', reason: 'Words and options of the command line.', upkeep: steady },
  { name: 'cli-progress', place: 'bundled', reason: 'The bar of long work in a terminal.', upkeep: small },
  {
    name: 'fflate',
    place: 'bundled',
    reason: 'Writes the package of results as one ZIP file, the same bytes each time.',
    upkeep: small,
  },
  {
    name: 'read-excel-file',
    place: 'bundled',
    reason: 'Sheets that groups hand in as XLSX.',
    upkeep: single,
  },
  { name: 'write-excel-file', place: 'bundled', reason: 'Results and sheets as XLSX.', upkeep: single },
  {
    name: 'temml',
    place: 'bundled',
    reason: 'Formulas of documents of one file as MathML, without fonts or scripts.',
    upkeep: single,
  },
  {
    name: 'yaml',
    place: 'bundled',
    reason: 'Reads the experiment file with the line of every value, and writes it with comments kept.',
    upkeep: single,
  },
  { name: 'react', place: 'page', reason: 'The page.', upkeep: steady },
  { name: 'react-dom', place: 'page', reason: 'The page, in a browser.', upkeep: steady },
  {
    name: '@tanstack/react-query',
    place: 'page',
    reason: 'What the page knows of the server, and when it asks again.',
    upkeep: steady,
  },
  { name: 'wouter', place: 'page', reason: 'Addresses within the page.', upkeep: single },
  {
    name: 'tus-js-client',
    place: 'page',
    reason: 'Hands files in from a phone and goes on after a lost connection (tus 1.0.0, an open protocol).',
    upkeep: 'a few releases a year, at the home of the protocol',
  },
  { name: 'rolldown', place: 'tool', reason: 'Bundles command, library and scripts.', upkeep: steady },
  { name: 'vite', place: 'tool', reason: 'Bundles the page.', upkeep: steady },
  { name: '@vitejs/plugin-react', place: 'tool', reason: 'JSX of the page.', upkeep: steady },
  {
    name: 'typescript',
    place: 'tool',
    reason: 'Types, and the declarations of the library. Held at 5.9.',
    upkeep: steady,
  },
  { name: '@biomejs/biome', place: 'tool', reason: 'Format and lint.', upkeep: steady },
  { name: 'dependency-cruiser', place: 'tool', reason: 'Order of the rooms, circles.', upkeep: single },
  {
    name: 'knip',
    place: 'tool',
    reason: 'Exports, files and dependencies that nothing uses.',
    upkeep: single,
  },
  {
    name: 'typedoc',
    place: 'tool',
    reason: 'The reference of the API (`npm run api`). Refuses a newer TypeScript than it knows.',
    upkeep: steady,
  },
  {
    name: 'typedoc-plugin-missing-exports',
    place: 'tool',
    reason: 'Puts types into it that exported ones only mention.',
    upkeep: single,
  },
  { name: 'vitest', place: 'tool', reason: 'Runs the tests.', upkeep: steady },
  { name: 'fast-check', place: 'tool', reason: 'Tests of what must hold for any input.', upkeep: single },
  {
    name: 'playwright-core',
    place: 'tool',
    reason: 'Tests of the page in a browser; fetches none by itself.',
    upkeep: steady,
  },
  {
    name: '@sparticuz/chromium',
    place: 'tool',
    reason: 'A browser out of the registry, so that tests need nothing else.',
    upkeep: 'follows the browser',
  },
  { name: 'axe-core', place: 'tool', reason: 'Finds what bars people from the page (WCAG).', upkeep: steady },
  { name: 'pdfjs-dist', place: 'tool', reason: 'Reads PDFs again in tests.', upkeep: steady },
  {
    name: 'jstat',
    place: 'tool',
    reason: 'Quantiles to hold ours against, from other hands.',
    upkeep: 'hardly released; used in tests alone',
  },
  {
    name: 'simple-statistics',
    place: 'tool',
    reason: 'Statistics to hold ours against, from other hands.',
    upkeep: single,
  },
  {
    name: '@types/node',
    place: 'tool',
    reason: 'Types of Node, of the oldest that is promised.',
    upkeep: steady,
  },
  { name: '@types/react', place: 'tool', reason: 'Types of react.', upkeep: steady },
  { name: '@types/react-dom', place: 'tool', reason: 'Types of react-dom.', upkeep: steady },
  { name: '@types/cli-progress', place: 'tool', reason: 'Types of cli-progress.', upkeep: small },
];
