import { expectedRecordings, type MeasuredFolder } from '../analysis/index.ts';
import {
  type ConditionComparison,
  compareAll,
  compareTrends,
  type MaterialTrends,
  predictCondition,
} from '../experiment/index.ts';
import { readExperimentFile } from '../store/index.ts';
import type { CompareCommandOptions } from './compare-command.ts';
import { presentComparison } from './compare-present.ts';
import { measureRecordings } from './compare-recordings.ts';
import { type ExitStatus, inkFor, type Surroundings } from './terminal.ts';

/**
 * The command `compare`.
 *
 * @returns 0; 1 where a recording must be repeated or a path is not clear; 2 where something could not be done
 * @throws Error where the experiment file cannot be used
 */
export async function compareFolder(
  folder: string,
  given: readonly string[],
  options: CompareCommandOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  const { path, experiment } = await readExperimentFile(folder);
  const read = await measureRecordings(folder, experiment, given, surroundings);
  const nothing = read.recordings.length === 0 && read.asked.length === 0;
  const found = nothing ? { ...read, asked: [expectedRecordings(experiment)] } : read;
  const predictions = found.measured.map(({ condition }) => predictCondition(experiment, condition, 0));
  const comparisons = compareAll(experiment, found.measured, predictions);
  const trends = compareTrends(experiment, comparisons);
  const { stdout, environment } = surroundings;
  stdout.write(
    options.json
      ? `${JSON.stringify(comparisonAsJson(comparisons, trends, found))}\n`
      : `${presentComparison({ path, comparisons, trends, found }, inkFor(stdout, environment)).join('\n')}\n`,
  );
  return statusOf(found, comparisons, given.length > 0);
}

function statusOf(
  { recordings, asked }: MeasuredFolder,
  comparisons: readonly ConditionComparison[],
  named: boolean,
): ExitStatus {
  const unread = recordings.some(({ verdict }) => verdict === null);
  const nothing = recordings.length === 0;
  if (unread || nothing || (named && asked.length > 0)) return 2;
  if (comparisons.some(({ comparison }) => comparison === null)) return 2;
  return asked.length > 0 || recordings.some(({ excluded }) => excluded !== null) ? 1 : 0;
}

/** A comparison as programs read it: SI. */
function comparisonAsJson(
  comparisons: readonly ConditionComparison[],
  trends: readonly MaterialTrends[],
  { recordings, asked }: MeasuredFolder,
) {
  return {
    comparisons: comparisons.map(({ prediction, ...rest }) => ({
      ...rest,
      predicted: prediction === null ? null : prediction.timeConstant,
    })),
    trends,
    recordings,
    asked,
  };
}
