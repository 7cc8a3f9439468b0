/** Bundles the command, the library and the page into dist/, and the scripts into build/. Run with `npm run build`. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { build } from 'rolldown';
import { build as buildPage } from 'vite';

const builtin = [/^node:/, ...builtinModules];

/**
 * What stays outside the bundle: binaries, and the libraries that only figures, documents and exports need.
 * Everything else goes in, because a command that starts by opening three hundred small files is slow.
 */
const external = [
  ...builtin,
  /^@resvg\//,
  /^@observablehq\//,
  /^linkedom/,
  /^@expo-google-fonts\//,
  /^@fontsource-variable\//,
  /^@myriaddreamin\//,
  /^@duckdb\//,
  /^write-excel-file/,
  /^read-excel-file/,
];

/** What only scripts need, and what is installed for development only. */
const scriptExternal = [...external, /^playwright-core/, /^@sparticuz\//];

const filesOf = (folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ts'))
    .map((name) => [name.slice(0, -3), `${folder}/${name}`]);
const benches = filesOf('bench').map(([name, file]) => [`bench-${name}`, file]);
const scripts = [...filesOf('scripts'), ...benches];

await build([
  {
    input: {
      main: 'src/cli/main.ts',
      index: 'src/index.ts',
      'list-worker': 'src/analysis/list-worker.ts',
      'download-process': 'src/server/download-process.ts',
    },
    platform: 'node',
    external,
    output: { dir: 'dist', format: 'esm', chunkFileNames: 'part-[name].js', minify: false, cleanDir: true },
  },
  {
    input: Object.fromEntries(scripts),
    platform: 'node',
    external: scriptExternal,
    output: { dir: 'build', format: 'esm', chunkFileNames: 'part-[name].js', cleanDir: true },
  },
]);

await buildPage({ configFile: 'web/vite.config.ts', logLevel: 'warn' });

// Packed once here, at the highest quality, in place of at each request.
const page = 'dist/web/assets';
for (const name of readdirSync(page).filter((one) => /\.(js|css)$/.test(one))) {
  writeFileSync(join(page, `${name}.br`), brotliCompressSync(readFileSync(join(page, name))));
}
