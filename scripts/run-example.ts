/** Runs one of the examples of examples/api by its name. Run with `npm run example -- <name>`. */
import { readdirSync } from 'node:fs';

const names = readdirSync('examples/api')
  .map((file) => file.replace(/\.ts$/, ''))
  .filter((name) => name !== 'brass-sphere');
const [name = ''] = process.argv.slice(2);
if (names.includes(name)) {
  await import(new URL(`./example-${name}.js`, import.meta.url).href);
} else {
  process.stderr.write(`There is no example "${name}". Name one of: ${names.join(', ')}.\n`);
  process.exitCode = 2;
}
