import {
  checkExperiment,
  conditionsOf,
  type Experiment,
  type ExperimentRemark,
  fixedFolder,
  parsePattern,
  recordingPlace,
} from '../experiment/index.ts';
import {
  ExperimentFileError,
  keptRecordings,
  type ReadExperiment,
  readExperimentFile,
} from '../store/index.ts';
import type { CheckOptions } from './check-command.ts';
import { type LinedRemark, presentCheck } from './check-present.ts';
import { type ExitStatus, inkFor, printableLines, type Surroundings } from './terminal.ts';

/**
 * The command `check`.
 *
 * @returns 0 where there are notes at most, 1 with a caution, 2 where the file cannot be used
 */
export async function checkFolder(
  folder: string,
  options: CheckOptions,
  surroundings: Surroundings,
): Promise<ExitStatus> {
  let file: ReadExperiment;
  try {
    file = await readExperimentFile(folder);
  } catch (error) {
    if (!(error instanceof ExperimentFileError)) throw error;
    if (options.json) surroundings.stdout.write(`${JSON.stringify(faultsAsJson(error))}\n`);
    surroundings.stderr.write(`${printableLines(error.message)}\n`);
    return 2;
  }
  const found = [...checkExperiment(file.experiment), ...(await unclearPaths(folder, file.experiment))];
  const remarks = found.map((remark): LinedRemark => ({ ...remark, line: file.lineOf(remark.place) }));
  const ink = inkFor(surroundings.stdout, surroundings.environment);
  surroundings.stdout.write(
    options.json
      ? `${JSON.stringify(checkAsJson(file, remarks))}\n`
      : `${presentCheck(file, remarks, ink).join('\n')}\n`,
  );
  return remarks.some(({ severity }) => severity !== 'note') ? 1 : 0;
}

function faultsAsJson({ path, faults }: ExperimentFileError) {
  return { file: path, fits: false, faults };
}

function checkAsJson({ path, experiment }: ReadExperiment, remarks: readonly LinedRemark[]) {
  return { file: path, fits: true, conditions: conditionsOf(experiment), remarks };
}

/** Most paths that are asked about one by one. */
const mostAsked = 10;

/** Recordings that are there already and whose paths do not say what they are of. */
async function unclearPaths(folder: string, experiment: Experiment): Promise<ExperimentRemark[]> {
  if (experiment.recordings === undefined) return [];
  const pattern = parsePattern(experiment.recordings);
  if (!pattern.ok) return [];
  const place = fixedFolder(experiment.recordings);
  const { paths, cut, elsewhere } = await keptRecordings(folder, place);
  const asked = paths.flatMap((path) => {
    const place = recordingPlace(experiment, path);
    return place.kind === 'asked' ? [unclear(path, place.message)] : [];
  });
  const rest = asked.length - mostAsked;
  return [
    ...asked.slice(0, mostAsked),
    ...(rest > 0 ? [unclear(`${rest} more`, 'They do not fit either.')] : []),
    ...(elsewhere ? [unclear(place, 'This is a link that leads out of the experiment folder.')] : []),
    ...(cut ? [unclear('the rest', 'There are too many files here to look at all.')] : []),
  ];
}

function unclear(path: string, message: string): ExperimentRemark {
  return {
    code: 'path-unclear',
    severity: 'caution',
    message: `${path}: ${message}`,
    action: 'Rename the file, or list its codes in the experiment file.',
    place: ['recordings'],
    conditions: [],
  };
}
