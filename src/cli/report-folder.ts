import { type FolderAnalysis, openAnalysis } from '../analysis/index.ts';
import { conditionsOf, type Experiment, planSession, predictCondition } from '../experiment/index.ts';
import {
  benchSheet,
  briefing,
  documentHtml,
  groupReport,
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
import { type ExitStatus, inkFor, printable, type Surroundings, startProgress } from './terminal.ts';
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
  const experiment = await readExperiment(folder);
  const origin: Origin = {
    course: experiment.course ?? 'Experiment',
    version,
    experimentHash: textHash(await readExperimentText(folder)),
  };
  const report = await wanted.make(origin, experiment);
  const html = wanted.slides ? slidesHtml : documentHtml;
  const content = options.html === true ? await html(report) : await typesetPdf(report, options.paper);
  const path = options.to ?? `${wanted.name}.${options.html === true ? 'html' : 'pdf'}`;
  await writeNewFile(path, content, options.force === true);
  const { stdout, environment } = surroundings;
  stdout.write(`${report.title}: ${inkFor(stdout, environment).strong(printable(path))}\n`);
  return 0;
}

function wantedDocument(folder: string, options: ReportCommandOptions, surroundings: Surroundings): Wanted {
  const { trial, worked, group } = options;
  const found: Wanted[] = [];
  if (trial !== undefined) {
    const path = inFolder(folder, trial);
    found.push({
      name: `trial-${fileName(path)}`,
      make: (origin) =>
        withAnalysis(folder, async (analysis) => {
          return trialReport({ detail: await analysis.detail(path), origin, quoting: quotingOf(options) });
        }),
      slides: false,
    });
  }
  if (worked !== undefined) {
    const path = inFolder(folder, worked);
    found.push({
      name: `worked-${fileName(path)}`,
      make: (origin) =>
        withAnalysis(folder, async (analysis) => {
          return workedReport(await analysis.detail(path), await analysis.writtenSteps(path), origin);
        }),
      slides: false,
    });
  }
  if (group !== undefined) {
    found.push({
      name: `group-${fileName(group)}`,
      make: (origin, experiment) => groupOf(folder, group, { origin, experiment, options, surroundings }),
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
      'ask for one document: --trial, --worked, --group, --bench-sheet or --briefing; emberline report --help explains them',
    );
  }
  return only;
}

function quotingOf({ figures }: ReportCommandOptions) {
  return { figures: figures === '1' ? (1 as const) : (2 as const) };
}

/** The last part of a path, in letters that every system takes. */
function fileName(path: string): string {
  const last = path.split('/').at(-1) ?? '';
  return last.replace(/\.[A-Za-z0-9]{1,5}$/, '').replace(/[^A-Za-z0-9._-]+/g, '-');
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

interface Making {
  readonly origin: Origin;
  readonly experiment: Experiment;
  readonly surroundings: Surroundings;
}

async function groupOf(
  folder: string,
  group: string,
  { origin, experiment, options, surroundings }: Making & { readonly options: ReportCommandOptions },
): Promise<Report> {
  return withAnalysis(folder, async (analysis) => {
    const own = () => analysis.list().recordings.filter(({ place }) => place.group === group);
    const paths = own().map(({ path }) => path);
    const progress = await startProgress(surroundings, Math.max(paths.length, 1), 'analyzing');
    const details: Awaited<ReturnType<FolderAnalysis['detail']>>[] = [];
    try {
      for (const [i, path] of paths.entries()) {
        const detail = await analysis.detail(path).catch(() => null);
        if (detail !== null) details.push(detail);
        progress.update(i + 1);
      }
    } finally {
      progress.stop();
    }
    return groupReport({
      group,
      recordings: own(),
      comparison: analysis.comparison([group]),
      accuracy: experiment.prediction.accuracy,
      details: options.pages === true ? details : [],
      origin,
      quoting: quotingOf(options),
    });
  });
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
  const examples =
    example === undefined
      ? simulated
      : await withAnalysis(folder, async (analysis) => {
          return { ...simulated, good: recordedExample(await analysis.detail(inFolder(folder, example))) };
        });
  return briefing({ experiment, plan, predictions, examples, own, origin });
}
