import {
  type FolderAnalysis,
  type MarkedGroup,
  NothingHandedInError,
  SubmissionDesk,
} from '../analysis/index.ts';
import { quantityWords } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { textTableCsv } from '../export/index.ts';
import {
  aboutWords,
  feedbackOf,
  feedbackTemplates,
  filledSheet,
  groupOf,
  missingTogether,
  quantityColumns,
  signedPercent,
  TemplateError,
  valueWords,
} from '../marking/index.ts';
import { keepSubmission, readFeedbackFolder, SheetEndingError, StoreError } from '../store/index.ts';
import type { EnterRequest, GroupSubmission, SubmissionsView } from './contract/index.ts';
import { RequestProblem } from './problem.ts';

/** A sheet that is on the disk. */
export interface KeptSheet {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** What groups handed in, as the routes ask for it. */
export interface Submissions {
  overview(): Promise<SubmissionsView>;
  /** @throws RequestProblem where the group has handed nothing in */
  group(group: string): Promise<GroupSubmission>;
  /** Keeps values that a person typed in, as a sheet that takes the place of the one before. */
  keepTyped(group: string, request: EnterRequest): Promise<KeptSheet>;
  /**
   * The same, with what there is to say of them.
   *
   * @param kept told of the sheet once it is on the disk, before it is marked
   */
  enter(
    group: string,
    request: EnterRequest,
    kept: (path: string, bytes: Uint8Array) => Promise<void>,
  ): Promise<GroupSubmission>;
  /** Keeps a sheet. @returns its path */
  take(name: string, bytes: Uint8Array, group: string | null): Promise<string>;
}

/** @param now ms since 1970 */
export function folderSubmissions(analysis: FolderAnalysis, now: () => number): Submissions {
  const desk = new SubmissionDesk(analysis);
  const group = async (code: string) => {
    const experiment = known(analysis);
    const marked = await desk.mark(code).catch((error: unknown) => {
      if (!(error instanceof NothingHandedInError)) throw error;
      throw new RequestProblem('not-found', error.message, error.mend);
    });
    return { ...stated(marked), ...(await feedbackFor(analysis.folder, experiment, marked)) };
  };
  const keep = async (name: string, bytes: Uint8Array, of: string | null) => {
    const own = of === null ? null : groupOf(of, known(analysis));
    if (of !== null && own === null) {
      throw new RequestProblem('unfit', 'This is no code of a group.', 'Take one of the experiment file.');
    }
    const at = new Date(now()).toISOString();
    return keepSubmission(analysis.folder, { name, bytes, group: own, at }).catch((error: unknown) => {
      if (!(error instanceof StoreError)) throw error;
      const [what = '', mend = ''] = error.message.split(/(?<=\.) /);
      const kind = error instanceof SheetEndingError ? 'wrong-content' : 'cannot-write';
      throw new RequestProblem(kind, what, mend === '' ? 'Check the folder and the sheet.' : mend);
    });
  };
  const keepTyped = async (code: string, { rows }: EnterRequest) => {
    const named = rows.flatMap(({ values }) => Object.keys(values));
    const quantities = quantityColumns
      .map(({ quantity }) => quantity)
      .filter((quantity) => named.includes(quantity));
    const text = textTableCsv(filledSheet(code, rows, quantities));
    const bytes = Buffer.from(text, 'utf8');
    return { path: await keep('entered.csv', bytes, code), bytes };
  };
  return {
    group,
    keepTyped,
    overview: async () => {
      const experiment = known(analysis);
      const { groups, unusable, faults } = await desk.handedIn();
      const { asked } = experiment.marking;
      return {
        asked: quantityColumns
          .filter(({ quantity }) => asked.includes(quantity))
          .map(({ quantity, name, unit }) => ({ quantity, name, unit })),
        groups: groups.map(({ group: code, file, rows }) => ({
          group: code,
          section: experiment.groups[code]?.section ?? null,
          file: file.path,
          at: file.at,
          rows: rows.length,
          values: rows.reduce((sum, { row }) => sum + row.values.length, 0),
        })),
        waiting: Object.keys(experiment.groups).filter((code) => !groups.some((one) => one.group === code)),
        unusable: unusable.map(({ path, faults: found }) => ({ path, faults: [...found] })),
        faults: [...faults],
      };
    },
    enter: async (code, request, kept) => {
      const { path, bytes } = await keepTyped(code, request);
      await kept(path, bytes);
      return group(groupOf(code, known(analysis)) ?? code);
    },
    take: keep,
  };
}

function known({ experiment }: FolderAnalysis): Experiment {
  if (experiment !== null) return experiment;
  throw new RequestProblem(
    'unfit',
    'The experiment file has faults: without it nobody knows what values are of.',
    'Mend it first; the experiment place names the lines.',
  );
}

function stated(marked: MarkedGroup): Omit<GroupSubmission, 'feedback' | 'feedbackTrouble'> {
  return {
    group: marked.group,
    file: marked.file.path,
    at: marked.file.at,
    earlier: [...marked.earlier],
    rows: marked.marked.map(({ placed, assessment, trouble }) => ({
      recording: placed.recording,
      about: aboutWords(placed),
      note: placed.row.note,
      roster: placed.flags.map(({ message }) => message),
      trouble,
      values: assessment.values.map(({ quantity, submitted, expected, percent, inUncertainties, state }) => ({
        quantity,
        written: placed.row.values.find((one) => one.quantity === quantity)?.written ?? '',
        state,
        submitted,
        expected,
        expectedWords: expected === null ? null : valueWords(quantity, expected),
        differenceWords: percent === null ? null : signedPercent(percent),
        inUncertainties,
      })),
      sentences: [...assessment.sentences],
    })),
    missing: missingTogether(marked.missing).map(({ about, quantities }) => ({
      about: [...about],
      quantities: quantities.map((one) => quantityWords[one]),
    })),
    faults: marked.faults.map((fault) => ({ ...fault })),
  };
}

async function feedbackFor(folder: string, experiment: Experiment, marked: MarkedGroup) {
  try {
    const { texts } = await readFeedbackFolder(folder);
    const feedback = feedbackOf({ ...marked, experiment }, feedbackTemplates(texts));
    return { feedback, feedbackTrouble: null };
  } catch (error) {
    if (!(error instanceof TemplateError)) throw error;
    return { feedback: null, feedbackTrouble: error.message };
  }
}
