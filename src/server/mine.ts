import { type FolderAnalysis, type FolderList, SubmissionDesk } from '../analysis/index.ts';
import { type Experiment, entryOf } from '../experiment/index.ts';
import { quantityColumns } from '../marking/index.ts';
import { formatWithUncertainty } from '../quantity/index.ts';
import type { EnterRequest, MineFeedback, MineSubmission, MineView } from './contract/index.ts';
import type { OwnBench } from './mine-now.ts';
import { ownConditions } from './mine-plan.ts';
import { counts, isOwn, ownRecording } from './mine-recordings.ts';
import { listedGroup, onlyOwnRows, onlyOwnSheet, ownSubmission } from './mine-sheets.ts';
import { RequestProblem } from './problem.ts';
import type { KeptSheet, Submissions } from './submissions.ts';

type Kept = (sheet: KeptSheet) => Promise<void>;

/** What one group sees and does; which group it is, its sign-in says. */
export interface Mine {
  /** @throws RequestProblem where the experiment file does not list the group */
  view(group: string): Promise<MineView>;
  /** Where the group works. */
  bench(group: string): OwnBench;
  /** Not the same as before where something of the group's recordings, or the release, is not. */
  state(group: string): Promise<string>;
  submission(group: string): Promise<MineSubmission | null>;
  /** @param kept told of the sheet once it is on the disk */
  enter(group: string, request: EnterRequest, kept: Kept): Promise<MineSubmission | null>;
  /** @param kept told of the sheet once it is on the disk */
  take(group: string, name: string, bytes: Uint8Array, kept: Kept): Promise<MineSubmission | null>;
  /** @throws RequestProblem before the release */
  feedback(group: string): Promise<MineFeedback>;
  /** Whether a path is that of a recording of the group. */
  owns(group: string, path: string): boolean;
}

/** @param released whether the groups of a section may see their results; null for groups of none */
export function folderMine(
  analysis: FolderAnalysis,
  submissions: Submissions,
  released: (section: string | null) => Promise<boolean>,
): Mine {
  const desk = new SubmissionDesk(analysis);
  // A class asks for the same list thirty times.
  let list: FolderList['recordings'] | null = null;
  analysis.onChange(() => {
    list = null;
  });
  const known = (group: string) => {
    const { experiment } = analysis;
    if (experiment === null) throw brokenExperiment;
    return { experiment, listed: listedGroup(experiment, group) };
  };
  const summaries = (experiment: Experiment, group: string) => {
    list ??= analysis.list().recordings;
    return list.filter((one) => isOwn(experiment, group, one));
  };
  const recordings = (experiment: Experiment, group: string) => {
    const own = summaries(experiment, group);
    const paths = new Set(own.map(({ path }) => path));
    return own.map((one) => ownRecording(one, analysis.said(one.path), paths));
  };
  const written = (experiment: Experiment, group: string) =>
    ownSubmission(
      desk,
      experiment,
      group,
      summaries(experiment, group).map(({ path, place, startedAt }) => ({ path, place, startedAt })),
    );
  const isOut = (section: string | undefined) => released(section ?? null);

  return {
    view: async (group) => {
      const { experiment, listed } = known(group);
      const own = recordings(experiment, group);
      const submission = await written(experiment, group);
      const { protocol, session, marking } = experiment;
      return {
        group,
        section: listed.section ?? null,
        bench: listed.bench ?? null,
        course: experiment.course ?? null,
        session: { start: session.start ?? null, length: session.length ?? null },
        protocol: {
          baseline: protocol.baseline,
          target: protocol.target ?? null,
          limit: protocol.limit ?? null,
          endFraction: protocol['end-fraction'],
          repeats: protocol.repeats,
        },
        conditions: ownConditions(experiment).map(({ body, flow, fits }) => ({
          body,
          flow,
          fits,
          done: own.filter((one) => one.body === body && one.flow === flow && counts(one)).length,
        })),
        recordings: own,
        asked: quantityColumns
          .filter(({ quantity }) => marking.asked.includes(quantity))
          .map(({ quantity, name, unit }) => ({ quantity, name, unit })),
        handedIn:
          submission === null
            ? null
            : {
                at: submission.at,
                values: submission.rows.reduce((sum, { values }) => sum + values.length, 0),
              },
        released: await isOut(listed.section),
      };
    },
    bench: (group) => {
      const groups = analysis.experiment?.groups ?? {};
      return { group, bench: entryOf(groups, group)?.bench ?? null };
    },
    state: async (group) => {
      const { experiment, listed } = known(group);
      return JSON.stringify([recordings(experiment, group), await isOut(listed.section)]);
    },
    submission: async (group) => written(known(group).experiment, group),
    enter: async (group, request, kept) => {
      const { experiment } = known(group);
      onlyOwnRows(request, summaries(experiment, group));
      await kept(await submissions.keepTyped(group, request));
      return written(experiment, group);
    },
    take: async (group, name, bytes, kept) => {
      const { experiment } = known(group);
      await onlyOwnSheet(bytes, experiment, group);
      await kept({ path: await submissions.take(name, bytes, group), bytes });
      return written(experiment, group);
    },
    feedback: async (group) => {
      const { experiment, listed } = known(group);
      if (!(await isOut(listed.section))) throw notReleased;
      const own = summaries(experiment, group);
      const told = recordings(experiment, group);
      const handed = await written(experiment, group);
      const text = handed === null ? null : (await submissions.group(group)).feedback;
      return {
        text,
        recordings: told.map((one, i) => ({
          name: one.name,
          body: one.body,
          flow: one.flow,
          repeat: one.repeat,
          words: one.words,
          timeConstant: counts(one) ? stated(own[i]?.timeConstant ?? null, experiment) : null,
        })),
      };
    },
    owns: (group, path) => {
      const { experiment } = analysis;
      return experiment !== null && summaries(experiment, group).some((one) => one.path === path);
    },
  };
}

type TimeConstant = FolderList['recordings'][number]['timeConstant'];

function stated(found: TimeConstant, { report }: Experiment) {
  if (found === null) return null;
  const { value, standardUncertainty } = found;
  const figures = report['uncertainty-figures'];
  const { text } = formatWithUncertainty(value, standardUncertainty, { unit: 's', figures });
  return { text, value, standardUncertainty };
}

const brokenExperiment = new RequestProblem(
  'unfit',
  'The experiment file has faults, so nobody knows what is to be recorded.',
  'Tell those who run the session.',
);

const notReleased = new RequestProblem(
  'not-allowed',
  'The results have not been released yet.',
  'They are to be seen here as soon as they are.',
);
