/**
 * Times the whole of `emberline analyze` as a process, on a trial of 6 million samples at 10 kHz (113 MB), beside
 * processes that only read and that only hash the same bytes. From the root of the project, after a build:
 *
 *   npm run build && node build/bench-analyzing.js
 *
 * A number as argument changes how many million samples there are.
 */
import { spawnSync } from 'node:child_process';
import { statSync } from 'node:fs';
import { resolve } from 'node:path';
import { largeTrial } from './large-trial.ts';

const millions = Number(process.argv[2] ?? 6);
const runs = 7;
const path = largeTrial(millions);

/** Runs a module in a process of its own, which says its peak memory as it ends. */
function once(code: string): { seconds: number; memory: number } {
  const telling = `process.on('exit', () => process.stderr.write('peak ' + process.resourceUsage().maxRSS));`;
  const start = performance.now();
  const { stderr, status } = spawnSync(
    process.execPath,
    ['--input-type=module', '-e', `${telling}${code}`, path],
    { encoding: 'utf8', maxBuffer: 1 << 26 },
  );
  const seconds = (performance.now() - start) / 1000;
  const memory = Number(/peak (\d+)/.exec(stderr)?.[1] ?? Number.NaN) / 1024;
  if (status === 2) throw new Error(stderr);
  return { seconds, memory };
}

const main = JSON.stringify(resolve('dist', 'main.js'));
const commands = {
  'emberline analyze': `process.argv = [process.argv[0], 'emberline', 'analyze', ${JSON.stringify(path)}]; await import(${main});`,
  'hash alone': `const { createHash } = await import('node:crypto'); const { createReadStream } = await import('node:fs');
    const hash = createHash('sha256'); for await (const piece of createReadStream(${JSON.stringify(path)}, { highWaterMark: 1 << 21 })) hash.update(piece); hash.digest();`,
  'read alone': `const { createReadStream } = await import('node:fs');
    let n = 0; for await (const piece of createReadStream(${JSON.stringify(path)}, { highWaterMark: 1 << 21 })) n += piece.length;`,
};

console.log(`${path}: ${(statSync(path).size / 1e6).toFixed(1)} MB; median of ${runs} runs, taken in turn`);
const taken = new Map(Object.keys(commands).map((name) => [name, { seconds: [] as number[], memory: 0 }]));
for (let run = 0; run < runs; run++) {
  for (const [name, code] of Object.entries(commands)) {
    const { seconds, memory } = once(code);
    const list = taken.get(name);
    list?.seconds.push(seconds);
    if (list) list.memory = Math.max(list.memory, memory);
  }
}
for (const [name, { seconds, memory }] of taken) {
  const sorted = seconds.toSorted((a, b) => a - b);
  const [least, middle, most] = [sorted[0], sorted[Math.floor(runs / 2)], sorted.at(-1)].map((s) =>
    (s ?? Number.NaN).toFixed(2),
  );
  console.log(`${name}: ${middle} s (${least} to ${most}), peak ${memory.toFixed(0)} MiB`);
}
