import {
  experimentDecaySettings,
  type FolderAnalysis,
  type LongWork,
  withAnalysis,
  withSettledAnalysis,
} from '../analysis/index.ts';
import type { Experiment } from '../experiment/index.ts';
import { readExperiment, readExperimentText, textHash } from '../store/index.ts';
import { version } from '../version.ts';
import { inFileName, recordingInFileName } from './file-name.ts';
import { type PictureFormat, tracePicture } from './trace-picture.ts';
import type { ExportFile, ExportOrigin, MadeFile, ResultsFormat, ResultsInput } from './types.ts';
import { type CoolingFormat, writeCooling } from './write-cooling.ts';
import { writeResults, writeResultsPackage } from './write-results.ts';
import { zipped } from './zip.ts';

/** Data that can be taken out of an experiment folder. Plain data: it can be sent to another thread. */
export type ExportOrder =
  /** One row a trial; `package` is all formats with their description, in a ZIP archive. */
  | { readonly kind: 'results'; readonly format: ResultsFormat | 'package' }
  | { readonly kind: 'cooling'; readonly path: string; readonly format: CoolingFormat }
  | { readonly kind: 'figure'; readonly path: string; readonly format: PictureFormat };

/** Media types by the ending of a file, as IANA registers them. */
const types: Readonly<Record<ExportOrder['format'], string>> = {
  csv: 'text/csv; charset=utf-8; header=present',
  json: 'application/json',
  parquet: 'application/vnd.apache.parquet',
  xlsx: 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet',
  package: 'application/zip',
  svg: 'image/svg+xml',
  png: 'image/png',
};

/**
 * What every document and export of a folder says about where it comes from.
 *
 * @throws ExperimentFileError
 */
export async function folderOrigin(folder: string, experiment: Experiment): Promise<ExportOrigin> {
  const experimentHash = textHash(await readExperimentText(folder));
  return { course: experiment.course ?? 'Experiment', version, experimentHash };
}

/**
 * Makes a file from an experiment folder as it stands on the disk. Groups appear by their codes, never by names.
 *
 * @throws ExperimentFileError; UnknownRecordingError; CoolingError; RecordingError, SensorError, ChainError where a
 * recording that is asked for cannot be read
 */
export async function makeExport(folder: string, order: ExportOrder, work: LongWork = {}): Promise<MadeFile> {
  switch (order.kind) {
    case 'results':
      return resultsFile(folder, order.format, work);
    case 'cooling':
      return coolingFile(folder, order.path, order.format);
    case 'figure':
      return figureFile(folder, order.path, order.format);
  }
}

async function resultsFile(
  folder: string,
  format: ResultsFormat | 'package',
  work: LongWork,
): Promise<MadeFile> {
  const { files, course } = await makeResults(folder, format, null, work);
  const stem = inFileName(`results-${course}`);
  const [only] = files;
  return format === 'package' || only === undefined
    ? { name: `${stem}.zip`, type: types.package, bytes: zipped(files), remarks: [] }
    : { name: `${stem}.${format}`, type: types[format], bytes: only.bytes, remarks: [] };
}

async function coolingFile(folder: string, path: string, format: CoolingFormat): Promise<MadeFile> {
  const experiment = await readExperiment(folder);
  return withAnalysis(folder, async (analysis) => {
    const analyzed = await analysis.analysis(path);
    const body = analysis.list().recordings.find((one) => one.path === path)?.place.body ?? null;
    const settings = experimentDecaySettings(experiment, body);
    const origin = await folderOrigin(folder, experiment);
    const { bytes, thinning } = await writeCooling({ path, analyzed, settings, origin }, format);
    const name = `cooling-${recordingInFileName(experiment, path)}.${format}`;
    return { name, type: types[format], bytes, remarks: [thinning] };
  });
}

async function figureFile(folder: string, path: string, format: PictureFormat): Promise<MadeFile> {
  const experiment = await readExperiment(folder);
  return withAnalysis(folder, async (analysis) => {
    const bytes = await tracePicture(await analysis.analysis(path), format);
    const name = `trace-${recordingInFileName(experiment, path)}.${format}`;
    return { name, type: types[format], bytes, remarks: [] };
  });
}

/**
 * Results as files of a folder: one in a format, or all of them with their description.
 *
 * @param names by group code, where somebody gave a list of them; else null
 * @throws ExperimentFileError
 */
export async function makeResults(
  folder: string,
  format: ResultsFormat | 'package',
  names: ReadonlyMap<string, string> | null,
  work: LongWork = {},
): Promise<{ readonly files: readonly ExportFile[]; readonly trials: number; readonly course: string }> {
  const experiment = await readExperiment(folder);
  return withSettledAnalysis(folder, work, async (analysis) => {
    const input = await resultsInput(folder, { experiment, analysis, names });
    const files =
      format === 'package'
        ? await writeResultsPackage(input)
        : [{ name: `results.${format}`, bytes: await writeResults(input, format) }];
    return { files, trials: input.trials.length, course: input.origin.course };
  });
}

/** Every recording with what is kept of it, as far as it can be read. */
async function resultsInput(
  folder: string,
  {
    experiment,
    analysis,
    names,
  }: {
    readonly experiment: Experiment;
    readonly analysis: FolderAnalysis;
    readonly names: ReadonlyMap<string, string> | null;
  },
): Promise<ResultsInput> {
  const trials = analysis.list().recordings.map((summary) => {
    return { summary, detail: analysis.keptDetail(summary.path) };
  });
  const origin = await folderOrigin(folder, experiment);
  return { origin, experiment, trials, comparison: analysis.comparison(), names };
}
