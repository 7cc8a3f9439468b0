import type { SubmissionDesk } from '../analysis/index.ts';
import { type Experiment, entryOf } from '../experiment/index.ts';
import { aboutWords, groupOf, type KnownRecording, readSheet } from '../marking/index.ts';
import { sheetCells } from '../store/index.ts';
import type { EnterRequest, MineSubmission } from './contract/index.ts';
import { RequestProblem } from './problem.ts';

/**
 * What a group handed in, as it wrote it; null where nothing counts. Its sheets are held against its own recordings
 * alone: whether there is one of another group cannot be found out by naming it.
 *
 * @param own recordings of the group
 */
export async function ownSubmission(
  desk: SubmissionDesk,
  experiment: Experiment,
  group: string,
  own: readonly KnownRecording[],
): Promise<MineSubmission | null> {
  const { groups } = await desk.handedIn(own);
  const found = groups.find((one) => one.group === group);
  if (found === undefined) return null;
  // A sheet about several groups has faults of theirs as well.
  const alone = groupOf(found.file.named, experiment) === group;
  return {
    at: found.file.at,
    rows: found.rows.map((placed) => ({
      recording: placed.recording,
      about: aboutWords(placed),
      note: placed.row.note,
      values: placed.row.values.map(({ quantity, written }) => ({ quantity, written })),
    })),
    faults: alone ? found.faults.map((one) => ({ ...one })) : [],
  };
}

/**
 * Refuses typed values that are not about recordings of the group.
 *
 * @throws RequestProblem
 */
export function onlyOwnRows({ rows }: EnterRequest, own: readonly KnownRecording[]): void {
  const paths = new Set(own.map(({ path }) => path));
  if (rows.every(({ recording }) => paths.has(recording))) return;
  throw new RequestProblem(
    'unfit',
    'Values can only be about recordings of your own group.',
    'Choose one of the recordings that the page lists.',
  );
}

/**
 * Refuses a sheet with rows of other groups: they would count as theirs.
 *
 * @throws RequestProblem
 */
export async function onlyOwnSheet(bytes: Uint8Array, experiment: Experiment, group: string): Promise<void> {
  const cells = await sheetCells(bytes);
  if (!('rows' in cells)) throw new RequestProblem('unfit', cells.message, cells.action);
  const foreign = readSheet(cells).rows.find(
    (row) => row.group !== null && groupOf(row.group, experiment) !== group,
  );
  if (foreign === undefined) return;
  throw new RequestProblem(
    'unfit',
    `Line ${foreign.line} of the sheet names another group than yours.`,
    `Write ${group} there, or leave the column of the group out.`,
  );
}

/** The group as the experiment file has it. @throws RequestProblem where it does not list it any more */
export function listedGroup(experiment: Experiment, group: string) {
  const known = entryOf(experiment.groups, group);
  if (known !== undefined) return known;
  throw new RequestProblem(
    'not-found',
    'The experiment file does not list your group any more.',
    'Tell those who run the session.',
  );
}
