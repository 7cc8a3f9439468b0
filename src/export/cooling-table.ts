import type { AnalyzedFile } from '../analysis/index.ts';
import {
  chooseBlockWidth,
  classroomRegression,
  cutBlocks,
  type DecaySettings,
  type TaughtWorking,
} from '../decay/index.ts';
import type { Span } from '../remark/index.ts';

/** A recording that has no cooling to be worked through in a spreadsheet. */
export class CoolingError extends Error {
  override readonly name = 'CoolingError';
  readonly mend = 'Take a recording that has a time constant, or mark its cooling by hand.';
}

/** A slope taken from the rows, as a class prints it; s. */
interface FromRows {
  readonly value: number;
  readonly standardError: number;
}

/** The cooling of a recording, thinned to what fits into a spreadsheet. */
export interface CoolingTable {
  /** Time from the start, s, and temperature, °C: means of so many readings. */
  readonly rows: readonly {
    readonly time: number;
    readonly temperature: number;
    readonly readings: number;
  }[];
  /** How many readings a full row is the mean of. */
  readonly readingsPerRow: number;
  /** Width of a row, s. */
  readonly rowWidth: number;
  /** The hottest reading: s from the recording's first sample, °C. */
  readonly start: { readonly time: number; readonly temperature: number };
  /** °C */
  readonly ambient: number;
  /** Error fractions between which rows are taken, the larger first. */
  readonly window: { readonly from: number; readonly to: number };
  /** Regressions of ln of the error fraction on these rows; null where too few are in the window. */
  readonly origin: FromRows | null;
  readonly intercept: FromRows | null;
}

/** Wider rows than a fit would take are taken only beyond this many. */
const mostRows = 20_000;
/** Places of times and temperatures: microseconds and microkelvins, finer than any converter. */
const places = 6;

/**
 * The cooling in block means from the hottest reading on, and the regressions of a class on them: rows counted as
 * single readings, ambient and start as exact.
 *
 * @param settings by which the file was analyzed
 * @throws CoolingError where there is no cooling, or no start of it
 */
export function coolingTable({ trace, decay }: AnalyzedFile, settings: DecaySettings): CoolingTable {
  const { taught, timeConstant } = decay;
  const { cooling } = decay.segments;
  const { from, to } = settings.window;
  if (taught === null || timeConstant === null || cooling === null) {
    throw new CoolingError('There is no cooling with a time constant in this recording.');
  }
  const { start, ambient } = taught;
  const span: Span = { from: start.time, to: cooling.to };
  const usual = chooseBlockWidth(trace, span.to - span.from, timeConstant.value, settings.mains);
  const { width } = trace.blocks;
  const cells = Math.max(usual.cells, Math.ceil((span.to - span.from) / width / mostRows));
  const blocks = cutBlocks(trace, span, { cells, width: cells * width, humFree: usual.humFree });
  const rows = Array.from(blocks.time, (time, place) => ({
    time: rounded(time - start.time),
    temperature: rounded(blocks.value[place] ?? Number.NaN),
    readings: blocks.count[place] ?? 0,
  }));
  return {
    rows,
    readingsPerRow: Math.max(1, Math.round(blocks.blockWidth / trace.samplePeriod)),
    rowWidth: blocks.blockWidth,
    start,
    ambient,
    window: { from, to },
    origin: regressionOf(rows, taught, settings, false),
    intercept: regressionOf(rows, taught, settings, true),
  };
}

/** How far the rows are thinned, as a sentence. */
export function thinningWords({ readingsPerRow, rowWidth }: CoolingTable): string {
  return readingsPerRow === 1
    ? 'Every row is a single reading.'
    : `Every row is the mean of ${readingsPerRow} readings (${Number(rowWidth.toPrecision(6))} s): thinned ${readingsPerRow} to 1.`;
}

function regressionOf(
  rows: CoolingTable['rows'],
  { start, ambient }: TaughtWorking,
  { window }: DecaySettings,
  intercept: boolean,
): FromRows | null {
  const temperatures = Float64Array.from(rows, ({ temperature }) => temperature);
  const regression = classroomRegression(
    {
      length: rows.length,
      width: 0,
      cell: Float64Array.from(rows, (_, place) => place),
      time: Float64Array.from(rows, ({ time }) => time),
      count: new Float64Array(rows.length).fill(1),
      mean: temperatures,
      squares: new Float64Array(rows.length),
      min: temperatures,
      max: temperatures,
      removed: { readings: 0, times: [] },
    },
    {
      start: { time: 0, temperature: start.temperature },
      ambient,
      upper: window.from,
      lower: window.to,
      intercept,
      samplePeriod: 0,
    },
  );
  if (regression === null || regression.standardError === null) return null;
  return { value: regression.value, standardError: regression.standardError };
}

function rounded(value: number): number {
  return Number(value.toFixed(places));
}
