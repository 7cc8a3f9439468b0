import { stat } from 'node:fs/promises';
import { type Verified, verifyFolder } from '../store/index.ts';
import {
  type ExitStatus,
  type Ink,
  inkFor,
  type Progress,
  printable,
  type Surroundings,
  startProgress,
} from './terminal.ts';
import type { VerifyOptions } from './verify-command.ts';
import { entry } from './wrap.ts';

/**
 * The command `verify`.
 *
 * @returns 0 where the folder is whole, 1 where something is missing or was changed
 * @throws Error where there is no such folder
 */
export async function verify(
  folder: string,
  { json }: VerifyOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const found = await stat(folder).catch(() => null);
  if (found === null || !found.isDirectory()) {
    throw new Error(`${folder}: there is no such folder; name the one that holds experiment.yaml`);
  }
  const bars: Promise<Progress>[] = [];
  const verified = await verifyFolder(folder, (done, total) => {
    if (bars.length === 0) bars.push(startProgress(surroundings, Math.max(1, total), 'reading files'));
    for (const bar of bars) void bar.then(({ update }) => update(done));
  });
  for (const bar of bars) (await bar).stop();
  const { stdout, environment } = surroundings;
  const lines = presented(folder, verified, inkFor(stdout, environment));
  stdout.write(json ? `${JSON.stringify({ folder, ...verified })}\n` : `${lines.join('\n')}\n`);
  return verified.whole ? 0 : 1;
}

function presented(folder: string, verified: Verified, ink: Ink): readonly string[] {
  const { whole, trail, recordings, submissions, decisions, archived, bytes, findings } = verified;
  const faults = findings.filter(({ kind }) => kind === 'fault');
  const notes = findings.filter(({ kind }) => kind === 'note');
  const verdict = whole ? ink.strong('whole') : ink.warm('something is missing or was changed');
  const vouched = (of: Verified['recordings']) => `${of.there}, ${of.vouched} of them as the trail says`;
  const end =
    trail.end === null
      ? 'there is none: nothing was done by a server here'
      : `${trail.lines} ${trail.lines === 1 ? 'line' : 'lines'}; the last one is ${trail.end.number}, ${trail.end.chain}`;
  return [
    `${printable(folder)}: ${verdict}`,
    ...entry('trail', end),
    ...entry('recordings', vouched(recordings)),
    ...entry('handed in', vouched(submissions)),
    ...entry('decisions', String(decisions)),
    ...(archived.there === 0
      ? []
      : entry('archived', `${archived.there}, ${archived.alone} of them in place of a text`)),
    ...entry('read', `${(bytes / 1e6).toFixed(1)} MB`),
    ...faults.flatMap(({ message }) => entry('fault', printable(message))),
    ...notes.flatMap(({ message }) => entry('note', printable(message))),
  ];
}
