import type { Experiment } from '../experiment/index.ts';
import {
  groupOf,
  type KnownRecording,
  type PlacedRow,
  placeRows,
  readSheet,
  type SheetFault,
} from '../marking/index.ts';
import { findSubmissions, readSubmission, type SubmissionFile } from '../store/index.ts';

/** What a group has handed in, as it stands: its latest file. */
export interface HandedIn {
  readonly group: string;
  readonly file: SubmissionFile;
  /** Files of the group that a later one took the place of, the latest first. */
  readonly earlier: readonly string[];
  readonly rows: readonly PlacedRow[];
  /** Of that file. */
  readonly faults: readonly SheetFault[];
}

/** What lies below `submissions/`, by group. */
export interface HandedInFolder {
  /** By group. */
  readonly groups: readonly HandedIn[];
  /** Files that hold no row of any group, with what is the matter with them. */
  readonly unusable: readonly { readonly path: string; readonly faults: readonly SheetFault[] }[];
  /** One sentence each: files that were left out. */
  readonly faults: readonly string[];
}

/**
 * Reads what groups handed in. Of each group the latest file that has a row of it counts, as a whole.
 *
 * @param recordings all of the folder
 */
export async function readHandedIn(
  folder: string,
  experiment: Experiment,
  recordings: readonly KnownRecording[],
): Promise<HandedInFolder> {
  const { files, faults } = await findSubmissions(folder);
  const groups = new Map<string, HandedIn>();
  const unusable: { path: string; faults: readonly SheetFault[] }[] = [];
  for (const file of files) {
    const cells = await readSubmission(folder, file.path);
    if (!('rows' in cells)) {
      unusable.push({ path: file.path, faults: [{ line: null, column: null, ...cells }] });
      continue;
    }
    const placed = placeRows(readSheet(cells), ownGroup(file, experiment), experiment, recordings);
    if (placed.rows.length === 0) unusable.push({ path: file.path, faults: placed.faults });
    for (const group of new Set(placed.rows.map((row) => row.group))) {
      const before = groups.get(group);
      groups.set(group, {
        group,
        file,
        earlier: before === undefined ? [] : [before.file.path, ...before.earlier],
        rows: placed.rows.filter((row) => row.group === group),
        faults: placed.faults,
      });
    }
  }
  const inOrder = [...groups.values()].sort((a, b) => natural.compare(a.group, b.group));
  return { groups: inOrder, unusable, faults };
}

const natural = new Intl.Collator('en', { numeric: true });

/** The group that a file names by its place: only one that the experiment lists, for a file may be called anything. */
function ownGroup({ named }: SubmissionFile, experiment: Experiment): string | null {
  const group = groupOf(named, experiment);
  return group !== null && Object.hasOwn(experiment.groups, group) ? group : null;
}
