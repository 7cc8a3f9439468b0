import { pathCodes } from './cross-check.ts';
import { entryOf } from './entry.ts';
import { parsePattern } from './path-pattern.ts';
import { matchPath, type PathMatch } from './path-reading.ts';
import type { Experiment } from './schema-keys.ts';

/** What a recording is of, as far as its path says. Null for what the path does not name. */
export interface RecordingPlace {
  readonly kind: 'read';
  readonly section: string | null;
  readonly group: string | null;
  readonly bench: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  /** Counted from 1. */
  readonly repeat: number | null;
}

/** A path that a person has to be asked about. */
export type AskedPath = Exclude<PathMatch, { readonly kind: 'read' }>;

/**
 * What a recording is of, by its path and the pattern of the experiment file. Section and bench of a group are taken
 * from the file where the path does not name them.
 *
 * @param path from the experiment folder
 * @returns what the path says, or what has to be asked; nothing is guessed
 */
export function recordingPlace(experiment: Experiment, path: string): RecordingPlace | AskedPath {
  if (experiment.recordings === undefined) {
    return {
      kind: 'asked',
      reason: 'no-fit',
      message: 'The experiment file does not say how paths are built: give it a pattern under recordings.',
    };
  }
  const pattern = parsePattern(experiment.recordings);
  if (!pattern.ok) return { kind: 'asked', reason: 'no-fit', message: pattern.message };
  const match = matchPath(path, pattern.tokens, pathCodes(experiment));
  if (match.kind === 'asked') return match;
  const { codes } = match;
  const group = codes.group === undefined ? undefined : entryOf(experiment.groups, codes.group);
  return {
    kind: 'read',
    section: codes.section ?? group?.section ?? null,
    group: codes.group ?? null,
    bench: codes.bench ?? group?.bench ?? null,
    body: codes.body ?? null,
    flow: codes.flow ?? null,
    repeat: codes.repeat === undefined ? null : Number(codes.repeat),
  };
}
