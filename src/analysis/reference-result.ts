import { isAbsolute, join } from 'node:path';
import { type Experiment, recordingPlace, staysInside } from '../experiment/index.ts';
import type { ReferenceResult } from '../rig/index.ts';
import { leadsOut, recordingSource, traitsOf } from '../store/index.ts';
import { FolderEntry } from './folder-entry.ts';
import { hashOf } from './kept-result.ts';
import { type Analyst, analyzeForList } from './list-work.ts';
import { beganAt } from './rig-of-recording.ts';

/** Folders deep that a recording may lie. */
const deepest = 8;

/** What a recording is of, as far as its path or a person says. */
export interface ReferencePlace {
  readonly bench: string | null;
  readonly body: string | null;
  readonly flow: string | null;
}

/** A recording that cannot be kept as a reference run. */
export class ReferenceRunError extends Error {
  override readonly name = 'ReferenceRunError';
  readonly mend: string;

  constructor(what: string, mend: string) {
    super(what);
    this.mend = mend;
  }
}

/**
 * What a reference run is of: what a person says, and the rest from its path where that fits the pattern of the
 * experiment file. Reference runs may lie outside the pattern, so that they are not taken for a group's.
 *
 * @param recording path from the experiment folder, with / between its parts
 */
export function referencePlace(
  experiment: Experiment,
  recording: string,
  said: ReferencePlace,
): ReferencePlace {
  const read = recordingPlace(experiment, recording);
  const place = read.kind === 'read' ? read : { bench: null, body: null, flow: null };
  return {
    bench: said.bench ?? place.bench,
    body: said.body ?? place.body,
    flow: said.flow ?? place.flow,
  };
}

/**
 * Analyzes the recording of a reference run, with what people decided about it.
 *
 * @param folder of the experiment
 * @param recording path from there, with / between its parts
 * @throws ReferenceRunError where it is not in the folder or cannot be read
 */
export async function referenceResult(
  folder: string,
  experiment: Experiment,
  recording: string,
  { bench, body, flow }: ReferencePlace,
  analyst: Analyst = analyzeForList,
): Promise<ReferenceResult> {
  const named = JSON.stringify(recording.slice(0, 200));
  if (isAbsolute(recording) || !staysInside(recording, deepest)) {
    throw new ReferenceRunError(
      `${named} is no recording inside the experiment folder.`,
      'Put the recording into the folder, such as below reference/, and name it from there.',
    );
  }
  const source = await recordingSource(folder, recording);
  const traits = await traitsOf(join(folder, source));
  if (traits === null || (await leadsOut(folder, join(folder, source)))) {
    throw new ReferenceRunError(
      `There is no recording ${named} here.`,
      'Name a file of the experiment folder.',
    );
  }
  const place = { kind: 'read', section: null, group: null, bench, body, flow, repeat: null } as const;
  const condition = { body: body ?? '', flow: flow ?? '' };
  const entry = new FolderEntry(folder, experiment, {
    path: recording,
    place,
    condition,
    archived: source,
  });
  await entry.look();
  await entry.analyze(analyst);
  const { result, history } = entry;
  if (result === null) {
    throw new ReferenceRunError(
      `${named} changed while it was read.`,
      'Wait until it is written, and try again.',
    );
  }
  if (result.kind === 'unreadable') {
    throw new ReferenceRunError(`${named} cannot be read.`, result.message);
  }
  const { essence } = result;
  const { rejected } = history;
  const sha256 = entry.sha256 ?? (await hashOf(join(folder, source)));
  if (sha256 === null) throw new ReferenceRunError(`${named} cannot be read.`, 'Look at its permissions.');
  return {
    recording,
    sha256,
    timeConstant: essence.timeConstant,
    excluded: rejected === null ? essence.excluded : `${rejected.who} took it out: ${rejected.why}`,
    began: beganAt({
      startedAt: essence.startedAt,
      duration: essence.duration,
      modified: traits.modified,
    }),
  };
}
