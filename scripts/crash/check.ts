import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { recordingList } from '../../src/server/contract/index.ts';
import {
  readDecisions,
  readReleases,
  readRigChecks,
  readTrail,
  recordingPaths,
  verifyFolder,
} from '../../src/store/index.ts';
import { type Ledger, sha256 } from './ledger.ts';

/**
 * Holds a folder whose server was killed against what that server had acknowledged.
 *
 * @returns what was lost or is half-written, a sentence each
 */
export async function lossesIn(folder: string, ledger: Ledger): Promise<readonly string[]> {
  const lost: string[] = [];
  const hashOf = (path: string) => {
    try {
      return sha256(readFileSync(join(folder, path)));
    } catch {
      return null;
    }
  };
  for (const [path, hash] of ledger.kept) {
    const found = hashOf(path);
    if (found !== hash)
      lost.push(`${path} was acknowledged and ${found === null ? 'is gone' : 'has other bytes'}`);
  }
  const there = new Set<string | null>();
  for (const path of (await recordingPaths(folder, 'recordings')).paths) {
    const hash = hashOf(path);
    there.add(hash);
    if (!ledger.sent.has(hash ?? '')) lost.push(`${path} is listed, and nobody sent these bytes`);
  }
  for (const hash of ledger.keptSomewhere) {
    if (!there.has(hash)) lost.push(`a file whose bytes were all safe is gone (SHA-256 ${hash})`);
  }
  for (const [path, signed] of ledger.decisions) {
    const deciders = new Set((await readDecisions(folder, path)).map(({ who }) => who));
    for (const who of signed)
      if (!deciders.has(who)) lost.push(`the decision about ${path} by ${who} is gone`);
  }
  const checks = new Set((await readRigChecks(folder)).checks.map(({ who }) => who));
  for (const who of ledger.checks) if (!checks.has(who)) lost.push(`the check by ${who} is gone`);
  const releases = new Set((await readReleases(folder)).map(({ who }) => who));
  for (const who of ledger.releases) if (!releases.has(who)) lost.push(`the release by ${who} is gone`);
  const experiment = readFileSync(join(folder, 'experiment.yaml'), 'utf8');
  if (experiment !== ledger.experiment && experiment !== ledger.underWay) {
    lost.push('experiment.yaml is neither what was acknowledged last nor what was under way');
  }
  lost.push(...(await missingInTrail(folder, ledger)));
  const { findings } = await verifyFolder(folder);
  lost.push(...findings.filter(({ kind }) => kind === 'fault').map(({ message }) => `verify: ${message}`));
  return lost;
}

/** Whatever was acknowledged stands in the trail. */
async function missingInTrail(folder: string, ledger: Ledger): Promise<readonly string[]> {
  const signed = new Set<string>();
  const files = new Set<string>();
  const entered = new Set<string>();
  for await (const { lines } of readTrail(folder)) {
    for (const { about, sha256: hash, note, done } of lines) {
      files.add(`${about} ${hash}`);
      const who = /, signed (.+)$/.exec(note)?.[1];
      if (who !== undefined) signed.add(who);
      if (done === 'entered values') entered.add(about);
    }
  }
  const words = [...ledger.checks, ...ledger.releases, ...[...ledger.decisions.values()].flat()];
  return [
    ...words.filter((who) => !signed.has(who)).map((who) => `what ${who} signed is not in the trail`),
    ...[...ledger.kept]
      .filter(([path, hash]) => !files.has(`${path} ${hash}`))
      .map(([path]) => `${path} is not in the trail`),
    ...missingValues(folder, ledger, entered),
  ];
}

/** Values that were acknowledged stand in one of the sheets that the trail names. */
function missingValues(folder: string, ledger: Ledger, entered: ReadonlySet<string>): readonly string[] {
  const text = [...entered].map((path) => readFileSync(join(folder, path), 'utf8')).join('\n');
  const gone = [...ledger.values].filter(([note]) => !text.includes(note));
  return gone.map(([note, group]) => `the values ${note} of group ${group} are gone`);
}

/** Recordings that a server lists and that are not on the disk as somebody sent them. */
export async function halfWritten(base: string, folder: string, ledger: Ledger): Promise<readonly string[]> {
  const { recordings, unplaced } = recordingList.parse(await (await fetch(`${base}/api/recordings`)).json());
  return [...recordings, ...unplaced]
    .map(({ path }) => path)
    .filter((path) => !ledger.sent.has(sha256(readFileSync(join(folder, path)))))
    .map((path) => `the server lists ${path}, and nobody sent these bytes`);
}
