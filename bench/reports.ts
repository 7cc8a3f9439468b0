/**
 * Times the reports of a class of 12 groups with 8 trials each, as processes: first with nothing analyzed, then with
 * all results kept, then with every trial in full behind each summary. From the root of the project, after a build:
 *
 *   npm run build && node build/bench-reports.js
 *
 * The recordings are simulated from the example experiment; they should be reported within 30 s.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';

const main = resolve('dist', 'main.js');
const scratch = mkdtempSync(join(tmpdir(), 'emberline-reports-'));

/** What a process says as it ends: how long all of its threads worked. */
const telling = `data:text/javascript,${encodeURIComponent(
  "process.on('exit', () => { const { user, system } = process.cpuUsage(); process.stderr.write('worked ' + (user + system)); });",
)}`;

/** Runs a command; seconds by the clock, and of work by all threads together. */
function emberline(...words: string[]): { readonly clock: number; readonly work: number } {
  const start = performance.now();
  const asked = ['--import', telling, main, ...words];
  const { status, stderr } = spawnSync(process.execPath, asked, { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  const work = Number(/worked (\d+)$/.exec(stderr)?.[1] ?? Number.NaN) / 1e6;
  return { clock: (performance.now() - start) / 1000, work };
}

try {
  const course = join(scratch, 'course');
  cpSync(join('examples', 'thornwick'), course, { recursive: true });
  const classroom = join(scratch, 'class');
  const four = ['bare-junction at 120', 'aluminium-12 at 120', 'brass-12 at 120', 'brass-12 at 60'];
  emberline(
    ...['practice', course, '--out', classroom, '--key', join(scratch, 'key.json'), '--seed', 'reports'],
    ...['--groups', '12', '--repeats', '2', '--conditions', four.join(',')],
  );
  const runs: [name: string, words: string[]][] = [
    ['12 groups, nothing analyzed', ['--to', join(scratch, 'first')]],
    ['12 groups, results kept', ['--to', join(scratch, 'second')]],
    ['12 groups, every trial in full', ['--pages', '--to', join(scratch, 'third')]],
  ];
  console.log(`12 groups with 8 trials each; ${availableParallelism()} processors`);
  for (const [name, words] of runs) {
    const { clock, work } = emberline('report', classroom, '--groups', ...words);
    console.log(`${name}: ${clock.toFixed(1)} s, ${work.toFixed(1)} s of work`);
  }
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
