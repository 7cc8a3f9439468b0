import { readFile } from 'node:fs/promises';
import { parseDocument } from 'yaml';
import type { Experiment } from '../experiment/index.ts';

/** What the copy of an experiment file has to say beyond the original. */
interface ExperimentChanges {
  readonly experiment: Experiment;
  /** How the paths of the copy's recordings are built. */
  readonly pattern: string;
  /** Groups that the original does not list. */
  readonly groups: readonly {
    readonly code: string;
    readonly section: string | null;
    readonly bench: string;
  }[];
}

/**
 * The text of an experiment file with groups added and the pattern of the paths set, comments kept; the original text
 * where nothing has to change.
 *
 * @param path of the original, which was read and checked before
 */
export async function experimentCopy(path: string, changes: ExperimentChanges): Promise<string> {
  const text = (await readFile(path, 'utf8')).replace(/^\uFEFF/, '');
  const { experiment, pattern, groups } = changes;
  const added = pattern.includes('{group}') ? groups : [];
  if (pattern === experiment.recordings && added.length === 0) return text;
  const document = parseDocument(text, { schema: 'core', stringKeys: true });
  if (pattern !== experiment.recordings) document.set('recordings', pattern);
  for (const { code, section, bench } of added) {
    const own = {
      ...(section !== null && experiment.sections.includes(section) ? { section } : {}),
      ...(experiment.benches.includes(bench) ? { bench } : {}),
    };
    document.setIn(['groups', code], document.createNode(own));
  }
  return document.toString({ lineWidth: 0 });
}
