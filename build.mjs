/** Bundles the command, the library and the page into dist/, and the scripts into build/. Run with `npm run build`. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { build } from 'rolldown';
import { build as buildPage } from 'vite';
import { noticesOf } from './build-notices.mjs';

const builtin = [/^node:/, ...builtinModules];

/**
 * What stays outside the bundle: binaries, one for each kind of machine, and fonts, which are read as files. Everything
 * else goes in: a command that starts by opening three hundred small files is slow, and what is bundled need not be
 * installed beside it.
 */
const external = [
  ...builtin,
  /^@resvg\//,
  /^@duckdb\//,
  /^@myriaddreamin\//,
  /^@expo-google-fonts\//,
  /^@fontsource-variable\//,
];

/** What only scripts need, what is installed for development only, and the package itself, which examples name. */
const scriptExternal = [...external, /^playwright-core/, /^@sparticuz\//, /^emberline$/];

const filesOf = (folder) =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.ts'))
    .map((name) => [name.slice(0, -3), `${folder}/${name}`]);
const benches = filesOf('bench').map(([name, file]) => [`bench-${name}`, file]);
const examples = filesOf('examples/api').map(([name, file]) => [`example-${name}`, file]);
const scripts = [...filesOf('scripts'), ...benches, ...examples];

const [shipped] = await build([
  {
    input: {
      main: 'src/cli/main.ts',
      index: 'src/index.ts',
      'list-worker': 'src/analysis/list-worker.ts',
      'detail-worker': 'src/analysis/detail-worker.ts',
      'analyze-worker': 'src/cli/analyze-worker.ts',
      'second-thread': 'src/recording/second-thread.ts',
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

const shippedPage = await buildPage({ configFile: 'web/vite.config.ts', logLevel: 'warn' });

// Packed once here, at the highest quality, in place of at each request.
const page = 'dist/web/assets';
for (const name of readdirSync(page).filter((one) => /\.(js|css)$/.test(one))) {
  writeFileSync(join(page, `${name}.br`), brotliCompressSync(readFileSync(join(page, name))));
}

writeFileSync('dist/third-party-notices.txt', noticesOf([shipped, shippedPage]));
