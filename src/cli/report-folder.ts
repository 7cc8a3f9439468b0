import { type FolderAnalysis, openAnalysis } from '../analysis/index.ts';
import {
  conditionsOf,
  type Experiment,
  planSession,
  predictCondition,
  type SessionPlan,
} from '../experiment/index.ts';
import {
  type BriefingExample,
  benchSheet,
  bestExample,
  briefing,
  documentHtml,
  documentSettings,
  type Origin,
  ownParts,
  practiceExamples,
  type Report,
  recordedExample,
  slidesHtml,
  trialReport,
  typesetPdf,
  workedReport,
} from '../report/index.ts';
import { readBriefingFolder, readExperiment, readExperimentText, textHash } from '../store/index.ts';
import { version } from '../version.ts';
import { inFolder } from './in-folder.ts';
import { writeNewFile } from './new-file.ts';
import type { ReportCommandOptions } from './report-command.ts';
import { groupFileName, groupReportOf, type Making, plainName, reportGroups } from './report-groups.ts';
import { withSettledAnalysis } from './settled-analysis.ts';
import { type ExitStatus, inkFor, printable, type Surroundings } from './terminal.ts';
import { OptionError } from './wishes.ts';

/** A document that was asked for, and the name of its file without the ending. */
interface Wanted {
  readonly name: string;
  readonly make: (origin: Origin, experiment: Experiment) => Promise<Report>;
  readonly slides: boolean;
}

/**
 * The command `report`.
 *
 * @throws OptionError where no document, or more than one, is asked for; ExperimentFileError; errors of recordings
 */
export async function reportFolder(
  folder: string,
  options: ReportCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const wanted = wantedDocument(folder, options, surroundings);
  const experiment = asWished(await readExperiment(folder), options);
  const origin: Origin = {
    course: experiment.course ?? 'Experiment',
    version,
    experimentHash: textHash(await readExperimentText(folder)),
  };
  if (wanted === 'groups') return reportGroups(folder, options, { origin, experiment, surroundings });
  const report = await wanted.make(origin, experiment);
  const html = wanted.slides ? slidesHtml : documentHtml;
  const content =
    options.html === true ? await html(report) : await typesetPdf(report, documentSettings(experiment).paper);
  const path = options.to ?? `${wanted.name}.${options.html === true ? 'html' : 'pdf'}`;
  await writeNewFile(path, content, options.force === true);
  const { stdout, environment } = surroundings;
  stdout.write(`${report.title}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}

function wantedDocument(
  folder: string,
  options: ReportCommandOptions,
  surroundings: Surroundings,
): Wanted | 'groups' {
  const { trial, worked, group } = options;
  const found: (Wanted | 'groups')[] = options.groups === true ? ['groups'] : [];
  if (trial !== undefined) {
    const path = inFolder(folder, trial);
    found.push({
      name: `trial-${fileName(path)}`,
      make: (origin, experiment) =>
        withAnalysis(folder, async (analysis) => {
          const { quoting } = documentSettings(experiment);
          return trialReport({ detail: await analysis.detail(path), origin, quoting });
        }),
      slides: false,
    });
  }
  if (worked !== undefined) {
    const path = inFolder(folder, worked);
    found.push({
      name: `worked-${fileName(path)}`,
      make: (origin, experiment) =>
        withAnalysis(folder, async (analysis) => {
          const { figures } = documentSettings(experiment).quoting;
          const steps = await analysis.writtenSteps(path, figures);
          return workedReport(await analysis.detail(path), steps, origin);
        }),
      slides: false,
    });
  }
  if (group !== undefined) {
    found.push({
      name: groupFileName(group),
      make: (origin, experiment) =>
        withSettledAnalysis(folder, surroundings, (analysis) =>
          groupReportOf(analysis, group, { origin, experiment, pages: options.pages === true }),
        ),
      slides: false,
    });
  }
  if (options.benchSheet === true) {
    found.push({
      name: 'bench-sheet',
      make: async (origin, experiment) => benchSheet({ experiment, plan: planOf(experiment).plan, origin }),
      slides: false,
    });
  }
  if (options.briefing === true) {
    found.push({
      name: 'briefing',
      make: (origin, experiment) => briefingOf(folder, options.example, { origin, experiment, surroundings }),
      slides: true,
    });
  }
  const [only] = found;
  if (only === undefined || found.length > 1) {
    throw new OptionError(
      'ask for one document: --trial, --worked, --group, --groups, --bench-sheet or --briefing; emberline report --help explains them',
    );
  }
  return only;
}

/** The experiment, its documents set as the options ask for. */
function asWished(experiment: Experiment, { paper, figures }: ReportCommandOptions): Experiment {
  const own = experiment.report;
  return {
    ...experiment,
    report: {
      paper: paper === undefined ? own.paper : paper === 'a4' ? 'A4' : 'US Letter',
      'uncertainty-figures': figures === undefined ? own['uncertainty-figures'] : figures === '1' ? 1 : 2,
    },
  };
}

/** The last part of a path without its ending. */
function fileName(path: string): string {
  return plainName((path.split('/').at(-1) ?? '').replace(/\.[A-Za-z0-9]{1,5}$/, ''));
}

/** Nothing is analyzed in the background: only what is asked for. */
async function withAnalysis<T>(folder: string, work: (analysis: FolderAnalysis) => Promise<T>): Promise<T> {
  const analysis = await openAnalysis(folder, { hands: 0 });
  try {
    return await work(analysis);
  } finally {
    await analysis.close();
  }
}

function planOf(experiment: Experiment) {
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  return { plan: planSession(experiment, predictions), predictions };
}

async function briefingOf(
  folder: string,
  example: string | undefined,
  { origin, experiment, surroundings }: Making,
): Promise<Report> {
  const { plan, predictions } = planOf(experiment);
  const { own, faults } = ownParts(await readBriefingFolder(folder));
  for (const fault of faults) surroundings.stderr.write(`emberline: ${printable(fault)}\n`);
  const simulated = practiceExamples(experiment, plan);
  const recorded = await recordedFor(folder, example, plan, surroundings);
  const examples = recorded === null ? simulated : { ...simulated, good: recorded };
  if (examples.good !== null) {
    surroundings.stdout.write(`good recording: ${printable(examples.good.figure.name)}\n`);
  }
  return briefing({ experiment, plan, predictions, examples, own, origin });
}

/** The recording that was asked for, else the best one of the folder; null where none will do. */
async function recordedFor(
  folder: string,
  example: string | undefined,
  plan: SessionPlan,
  surroundings: Surroundings,
): Promise<BriefingExample | null> {
  if (example !== undefined) {
    const path = inFolder(folder, example);
    return withAnalysis(folder, async (analysis) => recordedExample(await analysis.detail(path)));
  }
  return withSettledAnalysis(folder, surroundings, async (analysis) => {
    const best = bestExample(analysis.list().recordings, plan);
    return best === null ? null : recordedExample(await analysis.detail(best));
  });
}
