/**
 * Packs Emberline as it would be published, installs it into an empty folder, and does the main job with what was
 * installed, on the oldest Node that is promised and on later ones, taken from the registry. Run with
 * `npm run pack-check`; `npm run pack-check -- 22 24` takes those versions.
 */
import { mkdtemp, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { oldestNode } from '../src/cli/node-version.ts';
import { type Installed, packAndInstall } from './pack/install.ts';
import { judged, mainJob, type Tried } from './pack/main-job.ts';
import { withoutBinaries } from './pack/missing-parts.ts';
import { type NodeBinary, nodeOf, said } from './pack/nodes.ts';

/** Fails at the first look, and has to be told why. */
const tooOld = '18';
const usual = [`${oldestNode.join('.')}.0`, '20', '22', '24'];

const say = (line: string) => void process.stdout.write(`${line}\n`);

async function check(scratch: string, versions: readonly string[]): Promise<boolean> {
  const installed = await packAndInstall(scratch);
  const { packed, size, packages } = installed;
  say(`Packed ${mega(packed)}; installed ${mega(size)} in ${packages} packages, none of which ran a script.`);
  const nodes = await nodesOf(scratch, versions);
  const [first] = nodes;
  if (first === undefined) {
    say('No Node of those was to be had.');
    return false;
  }
  const rows: [string, readonly Tried[]][] = [];
  for (const node of nodes) rows.push([node.version, await mainJob(node, installed)]);
  const old = await nodeOf(scratch, tooOld, say);
  if (old !== null) rows.push([old.version, [await refused(old, installed)]]);
  const work = join(installed.folder, `work-${first.version}`);
  rows.push([`${first.version}, no binaries`, await withoutBinaries(first, installed, work)]);
  print(rows);
  return rows.every(([, tried]) => tried.every(({ fault }) => fault === null));
}

async function nodesOf(scratch: string, versions: readonly string[]): Promise<NodeBinary[]> {
  const nodes: NodeBinary[] = [];
  for (const version of versions) {
    const node = await nodeOf(scratch, version, say);
    if (node !== null) nodes.push(node);
  }
  return nodes;
}

async function refused(node: NodeBinary, { folder, main }: Installed): Promise<Tried> {
  const sentence = /^emberline: this needs Node \S+ or later[^\n]*\n$/;
  return judged('says what it needs', await said(node, folder, main, ['--help']), [2], sentence);
}

function print(rows: readonly (readonly [string, readonly Tried[]])[]): void {
  const width = Math.max(...rows.map(([name]) => name.length));
  for (const [name, tried] of rows) {
    const steps = tried.map(
      ({ what, seconds, fault }) => `${fault === null ? '' : 'FAILS: '}${what} ${seconds.toFixed(1)} s`,
    );
    say(`${name.padEnd(width)}  ${steps.join(' · ')}`);
    for (const { what, fault } of tried) if (fault !== null) say(`  ${what} ${fault}`);
  }
}

function mega(bytes: number): string {
  return `${(bytes / 1e6).toFixed(1)} MB`;
}

const given = process.argv.slice(2);
const scratch = await realpath(await mkdtemp(join(tmpdir(), 'emberline-pack-')));
try {
  if (!(await check(scratch, given.length > 0 ? given : usual))) process.exitCode = 1;
} finally {
  await rm(scratch, { recursive: true, force: true });
}
