import { type LongWork, withAnalysis, withSettledAnalysis } from '../analysis/index.ts';
import {
  conditionsOf,
  type Experiment,
  planSession,
  predictCondition,
  type SessionPlan,
} from '../experiment/index.ts';
import { folderOrigin, recordingInFileName } from '../export/index.ts';
import { readBriefingFolder, readExperiment } from '../store/index.ts';
import { benchSheet } from './bench-sheet.ts';
import { briefing } from './briefing.ts';
import { bestExample } from './briefing-best.ts';
import { practiceExamples } from './briefing-examples.ts';
import { ownParts } from './briefing-own.ts';
import { type BriefingExample, recordedExample } from './briefing-types.ts';
import { classDraft } from './class-documents.ts';
import type { Report } from './document.ts';
import { groupDetails, groupFileName, groupReportOf } from './group-documents.ts';
import {
  type DocumentMaking,
  type MadeDocument,
  setDocument,
  settingsFor,
  type WantedSetting,
} from './set-document.ts';
import { trialReport } from './trial.ts';
import { workedReport } from './worked.ts';

/** What a document is about. Paths are those of the list of recordings. */
type Subject =
  | { readonly kind: 'trial' | 'worked'; readonly path: string }
  /** `pages`: each trial in full behind the summary. */
  | { readonly kind: 'group'; readonly group: string; readonly pages: boolean }
  /**
   * Of one section, or the whole by null; with whole paths of earlier terms beside those of the experiment file, and with
   * names by group code only where somebody asked for them.
   */
  | {
      readonly kind: 'class';
      readonly section: string | null;
      readonly earlier: readonly string[];
      readonly names: Readonly<Record<string, string>> | null;
    }
  /** The plain one is without the time constants that are expected, and the times that follow from them. */
  | { readonly kind: 'bench-sheet' | 'plain-bench-sheet' }
  /** With a recording that is shown as the good one; null for the best of the folder, or a simulated one. */
  | { readonly kind: 'briefing'; readonly example: string | null };

/** A document that is asked for; `slides` are for a briefing. Plain data: it can be sent to another process. */
export type DocumentOrder = Subject & WantedSetting;

/** A document before it is set. */
interface Drafted {
  /** Of the file, without ending. */
  readonly name: string;
  readonly report: Report;
  readonly remarks?: readonly string[];
}

/**
 * Makes a document of an experiment folder as it stands on the disk. The same recordings, decisions and experiment file
 * give the same bytes.
 *
 * @throws ExperimentFileError; UnknownRecordingError; UnknownGroupError; RecordingError, SensorError, ChainError where a
 * recording that is asked for cannot be read; Error where the document cannot be set
 */
export async function makeDocument(
  folder: string,
  order: DocumentOrder,
  work: LongWork = {},
): Promise<MadeDocument> {
  const experiment = await readExperiment(folder);
  const origin = await folderOrigin(folder, experiment);
  const settings = settingsFor(experiment, order);
  const { name, report, remarks } = await drafted(folder, order, { experiment, origin, settings }, work);
  work.signal?.throwIfAborted();
  return setDocument(report, name, { format: order.format, paper: settings.paper }, remarks);
}

async function drafted(
  folder: string,
  order: DocumentOrder,
  making: DocumentMaking,
  work: LongWork,
): Promise<Drafted> {
  const { experiment, origin, settings } = making;
  switch (order.kind) {
    case 'trial':
      return withAnalysis(folder, async (analysis) => {
        const detail = await analysis.detail(order.path);
        const name = `trial-${recordingInFileName(experiment, order.path)}`;
        return { name, report: trialReport({ detail, origin, quoting: settings.quoting }) };
      });
    case 'worked':
      return withAnalysis(folder, async (analysis) => {
        const detail = await analysis.detail(order.path);
        const steps = await analysis.writtenSteps(order.path, settings.quoting.figures);
        const name = `worked-${recordingInFileName(experiment, order.path)}`;
        return { name, report: workedReport(detail, steps, origin) };
      });
    case 'group':
      return withSettledAnalysis(folder, work, async (analysis) => {
        const details = await groupDetails(analysis, order.group, order.pages, work);
        const report = groupReportOf(analysis, order.group, details, making);
        return { name: groupFileName(order.group), report };
      });
    case 'class':
      return classDraft(folder, order, making, work);
    case 'bench-sheet':
    case 'plain-bench-sheet':
      return {
        name: 'bench-sheet',
        report: benchSheet({
          experiment,
          plan: planOf(experiment).plan,
          origin,
          expected: order.kind === 'bench-sheet',
        }),
      };
    case 'briefing':
      return briefingDraft(folder, order.example, making, work);
  }
}

function planOf(experiment: Experiment) {
  const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
  return { plan: planSession(experiment, predictions), predictions };
}

async function briefingDraft(
  folder: string,
  example: string | null,
  { origin, experiment }: DocumentMaking,
  work: LongWork,
): Promise<Drafted> {
  const { plan, predictions } = planOf(experiment);
  // A recording that is asked for and not there is said to be missing before anything is simulated.
  const recorded = await recordedFor(folder, example, plan, work);
  const { own, faults } = ownParts(await readBriefingFolder(folder));
  const simulated = practiceExamples(experiment, plan);
  const examples = recorded === null ? simulated : { ...simulated, good: recorded };
  const report = briefing({ experiment, plan, predictions, examples, own, origin });
  const shown = examples.good === null ? [] : [`Shown as a good recording: ${examples.good.figure.name}.`];
  return { name: 'briefing', report, remarks: [...faults, ...shown] };
}

/** The recording that was asked for, else the best one of the folder; null where none will do. */
async function recordedFor(
  folder: string,
  example: string | null,
  plan: SessionPlan,
  work: LongWork,
): Promise<BriefingExample | null> {
  if (example !== null) {
    return withAnalysis(folder, async (analysis) => recordedExample(await analysis.detail(example)));
  }
  return withSettledAnalysis(folder, work, async (analysis) => {
    const best = bestExample(analysis.list().recordings, plan);
    return best === null ? null : recordedExample(await analysis.detail(best));
  });
}
