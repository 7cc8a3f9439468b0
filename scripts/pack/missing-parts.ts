import { readdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Installed } from './install.ts';
import { judged, type Tried } from './main-job.ts';
import { type NodeBinary, said } from './nodes.ts';

/** A part that comes as a binary: whose folder in node_modules, what its binaries' folders start with, what needs it. */
interface Part {
  readonly scope: string;
  readonly binaries: string;
  readonly words: readonly string[];
  readonly names: RegExp;
}

const trial = ['--trial', 'RECORDING'];

const parts: readonly Part[] = [
  {
    scope: '@resvg',
    binaries: 'resvg-js-',
    words: ['analyze', 'RECORDING', '--experiment', 'made', '--figure', 'missing.png'],
    names: /as PNG needs the package @resvg.*write it as SVG/s,
  },
  {
    scope: '@myriaddreamin',
    binaries: 'typst-ts-node-compiler-',
    words: ['report', 'made', ...trial, '--to', 'missing.pdf'],
    names: /as PDF needs the package @myriaddreamin.*as HTML/s,
  },
  {
    scope: '@duckdb',
    binaries: 'node-bindings-',
    words: ['query', 'made', 'SELECT 1'],
    names: /needs the package @duckdb.*\.csv/s,
  },
  {
    scope: '@duckdb',
    binaries: 'node-bindings-',
    words: ['export', 'made', '--to', 'missing.parquet'],
    names: /as Parquet needs the package @duckdb.*\.csv/s,
  },
];

/**
 * Takes the binaries out of an installed package, as on a machine for which there are none: the commands that need them
 * must say so, and everything else must go on. The package is not whole afterwards.
 *
 * @param work where the main job was done before
 */
export async function withoutBinaries(
  node: NodeBinary,
  { folder, main }: Installed,
  work: string,
): Promise<readonly Tried[]> {
  const modules = join(folder, 'node_modules');
  for (const { scope, binaries } of parts) {
    const names = await readdir(join(modules, scope));
    const these = names.filter((name) => name.startsWith(binaries));
    await Promise.all(these.map((name) => rm(join(modules, scope, name), { recursive: true, force: true })));
  }
  const found = await readdir(join(work, 'made', 'recordings'), { recursive: true });
  const recording = join('made', 'recordings', found.find((name) => name.endsWith('.txt')) ?? '');
  const tried: Tried[] = [];
  for (const { words, names, scope } of parts) {
    const given = words.map((word) => (word === 'RECORDING' ? recording : word));
    tried.push(judged(`${words[0]} without ${scope}`, await said(node, work, main, given), [2], names));
  }
  const plain = await said(node, work, main, ['analyze', recording, '--experiment', 'made']);
  tried.push(judged('analyze without any', plain, [0, 1], /time constant/i));
  return tried;
}
