/** Bundles the command, the library and the page into dist/, and the scripts into build/. Run with `npm run build`. */
import { readdirSync } from 'node:fs';
import { builtinModules } from 'node:module';
import { build } from 'rolldown';
import { build as buildPage } from 'vite';

const builtin = [/^node:/, ...builtinModules];

/**
 * What stays outside the bundle: binaries, and the drawing libraries that only a figure needs.
 * Everything else goes in, because a command that starts by opening three hundred small files is slow.
 */
const external = [...builtin, /^@resvg\//, /^@observablehq\//, /^linkedom/, /^@expo-google-fonts\//];

const scripts = readdirSync('scripts')
  .filter((name) => name.endsWith('.ts'))
  .map((name) => [name.slice(0, -3), `scripts/${name}`]);

await build([
  {
    input: { main: 'src/cli/main.ts', index: 'src/index.ts' },
    platform: 'node',
    external,
    output: { dir: 'dist', format: 'esm', chunkFileNames: 'part-[name].js', minify: false, cleanDir: true },
  },
  {
    input: Object.fromEntries(scripts),
    platform: 'node',
    external,
    output: { dir: 'build', format: 'esm', chunkFileNames: 'part-[name].js', cleanDir: true },
  },
]);

await buildPage({ configFile: 'web/vite.config.ts', logLevel: 'warn' });
