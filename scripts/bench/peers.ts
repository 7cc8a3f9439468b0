import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import type { Command } from './measure.ts';

/** One who does the classroom analysis by other means. */
export interface Peer extends Command {
  /** With what, and in which versions. */
  readonly versions: string;
}

/** Where polars is looked for, unless told otherwise. */
const polarsFolder = join(tmpdir(), 'emberline-bench-polars');

/** The peers that this machine has, and what is to be done about the others. */
export function findPeers(): { readonly found: readonly Peer[]; readonly missing: readonly string[] } {
  const found: Peer[] = [];
  const missing: string[] = [];
  for (const look of [pandas, dataTable, polars]) {
    const peer = look();
    if (typeof peer === 'string') missing.push(peer);
    else found.push(peer);
  }
  return { found, missing };
}

/**
 * The program itself on other versions of Node, by the executables that EMBERLINE_BENCH_NODES names, with `:` between.
 *
 * @param words of the command, behind the executable
 */
export function otherNodes(words: readonly string[]): readonly Peer[] {
  const named = process.env['EMBERLINE_BENCH_NODES']?.split(':').filter((path) => path !== '') ?? [];
  return named.map((path) => {
    const version = said(path, ['-p', 'process.versions.node']);
    if (version === null) throw new Error(`EMBERLINE_BENCH_NODES names ${path}, which is no Node.`);
    return {
      name: `emberline analyze, Node ${version}`,
      words: [path, ...words],
      versions: `Node ${version}`,
    };
  });
}

const peerFile = (name: string) => resolve('bench', 'peers', name);

/** What a program prints; null where it cannot be run or fails. */
function said(program: string, words: readonly string[]): string | null {
  const { status, stdout } = spawnSync(program, words, { encoding: 'utf8', timeout: 60_000 });
  return status === 0 ? stdout.trim() : null;
}

function pandas(): Peer | string {
  const ask =
    'import sys, pandas, statsmodels; print(sys.version.split()[0], pandas.__version__, statsmodels.__version__)';
  for (const python of ['/usr/bin/python3', 'python3']) {
    const [own, frames, models] = said(python, ['-c', ask])?.split(' ') ?? [];
    if (models === undefined) continue;
    return {
      name: 'pandas + statsmodels',
      words: [python, peerFile('classroom.py')],
      versions: `pandas ${frames}, statsmodels ${models}, Python ${own}`,
    };
  }
  return 'pandas + statsmodels: apt-get install python3-pandas python3-statsmodels';
}

function dataTable(): Peer | string {
  const ask = 'cat(as.character(getRversion()), as.character(packageVersion("data.table")))';
  const [own, tables] = said('Rscript', ['-e', ask])?.split(' ') ?? [];
  if (tables === undefined) return 'R + data.table: apt-get install r-base-core r-cran-data.table';
  return {
    name: 'R: data.table + lm',
    words: ['Rscript', peerFile('classroom.R')],
    versions: `data.table ${tables}, R ${own}`,
  };
}

function polars(): Peer | string {
  const folder = process.env['EMBERLINE_BENCH_POLARS'] ?? polarsFolder;
  const ask = `console.log(require(${JSON.stringify(join(resolve(folder), 'node_modules', 'nodejs-polars', 'package.json'))}).version)`;
  const version = existsSync(folder) ? said(process.execPath, ['-e', ask]) : null;
  if (version === null) {
    return `polars: npm install --prefix ${folder} nodejs-polars@0.25.2 nodejs-polars-linux-x64-gnu@0.25.2`;
  }
  return {
    name: 'nodejs-polars',
    words: [process.execPath, peerFile('classroom-polars.mjs'), folder],
    versions: `nodejs-polars ${version}, Node ${process.versions.node}`,
  };
}
