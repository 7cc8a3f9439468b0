import { studentQuantile } from '../statistics/index.ts';
import { type CorrelationCell, cellsOf, type NusseltTrial } from './nusselt-cell.ts';
import { type LineFit, type LinePart, restrictedFit } from './restricted-line.ts';

/** Nu = C Re^m, or Nu = 2 + a Re^n, which tends to a sphere in still air without buoyancy. */
export type CorrelationForm = 'power' | 'power-above-2';

/** A value with its standard uncertainty and 95 % interval. */
export interface Estimated {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: readonly [number, number];
}

/** What the rig's own results say of heat transfer, within the range that they cover. */
export interface RigCorrelation {
  readonly ok: true;
  readonly form: CorrelationForm;
  /** Middle of the logarithms of Re: here Nu and the exponent are known almost independently of each other. */
  readonly reynoldsMiddle: number;
  /** There, of the mean of the benches. */
  readonly nusseltMiddle: Estimated;
  readonly exponent: Estimated;
  /** C or a. It goes up where the exponent goes down: quote Nu at the middle instead. */
  readonly coefficient: number;
  /** Lowest and highest Re of the results; nothing is said outside. */
  readonly range: readonly [number, number];
  /** Standard deviations of ln Nu (of ln (Nu - 2)) between benches, and of what a condition departs from the line. */
  readonly benchDeviation: number;
  readonly deviation: number;
  readonly trials: number;
  readonly benches: number;
  readonly bodies: number;
  /** Means of trials that are alike in bench, body and flow. */
  readonly cells: readonly CorrelationCell[];
  /** Those that lie too far from what all others let expect, and are left out: of another body, or another flow. */
  readonly strays: readonly CorrelationCell[];
  /**
   * Nu at a Reynolds number, with the relative standard uncertainty of the mean of the benches and of one bench.
   *
   * @returns null outside the range
   */
  readonly at: (reynolds: number) => {
    readonly nusselt: number;
    readonly relative: number;
    readonly relativeOnBench: number;
  } | null;
}

/** Why no correlation can be made of the results, and what to measure. */
export interface NoCorrelation {
  readonly ok: false;
  readonly message: string;
  readonly mend: string;
}

/** Reynolds numbers closer than this part are one. */
const alike = 0.05;
/** Fewer cannot tell an exponent from a departure of one condition (common practice, no source). */
const fewestReynolds = 4;
/** Highest over lowest: with less, the exponent is lost in the uncertainty (common practice, no source). */
const leastRange = 2;
const coverage = 0.975;
/** Further from the others than this, in standard deviations, chance hardly puts a result; and no more are left out than this part. */
const strayFrom = 3.3;
const mostStrays = 1 / 8;

/**
 * Fits the correlation of a rig to its own results: a straight line of ln Nu, or of ln (Nu - 2), against ln Re, by
 * generalized least squares. The benches have offsets of their own (random effects, by restricted maximum likelihood),
 * each condition departs from the line by some more, and what trials have in common, such as the diameter of a body or
 * the scale of the meter, moves them together, along both axes: a cause that moves ln Re by a and ln Nu by b moves a
 * point off the line by b - m a (effective variance; Lybanon, Am. J. Phys. 52 (1984) 22, from memory), with m found by
 * repetition. Degrees of freedom by Welch and Satterthwaite (JCGM 100:2008, G.4): what is taken from the scatter of the
 * benches and of the conditions has few, what is known from elsewhere is taken as known.
 *
 * @param trials of spheres in moving air; those without a positive Re, or with Nu of 2 and less, are passed by
 */
export function rigCorrelation(
  trials: readonly NusseltTrial[],
  form: CorrelationForm = 'power',
): RigCorrelation | NoCorrelation {
  const floor = form === 'power' ? 0 : 2;
  const usable = trials.filter(({ reynolds, nusselt }) => {
    return reynolds > 0 && Number.isFinite(reynolds) && nusselt > floor && Number.isFinite(nusselt);
  });
  const all = cellsOf(usable, floor);
  const refusal = refusalOf(all);
  if (refusal !== null) return refusal;
  const settled = withoutStrays(all);
  if (settled === null) {
    return {
      ok: false,
      message: 'The results contradict each other so much that no line can be laid through them.',
      mend: 'Look at the recordings that count, and take out what was of another body or flow.',
    };
  }
  const { cells, strays, middle, fit } = settled;
  const reynoldsMiddle = Math.exp(middle);
  const level = Math.exp(fit.level);
  const top = part(fit, [1, 0]);
  const range = [
    Math.min(...cells.map((c) => c.reynolds)),
    Math.max(...cells.map((c) => c.reynolds)),
  ] as const;
  const slope = part(fit, [0, 1]);
  return {
    ok: true,
    form,
    reynoldsMiddle,
    nusseltMiddle: {
      value: floor + level,
      standardUncertainty: level * top.uncertainty,
      interval: [floor + level * Math.exp(-top.reach), floor + level * Math.exp(top.reach)],
    },
    exponent: {
      value: fit.slope,
      standardUncertainty: slope.uncertainty,
      interval: [fit.slope - slope.reach, fit.slope + slope.reach],
    },
    coefficient: Math.exp(fit.level - fit.slope * middle),
    range,
    benchDeviation: fit.benchDeviation,
    deviation: fit.deviation,
    trials: cells.reduce((sum, cell) => sum + cell.trials, 0),
    benches: new Set(cells.map(({ bench }) => bench)).size,
    bodies: new Set(cells.map(({ body }) => body)).size,
    cells,
    strays,
    at: (reynolds) => {
      // A prediction at the very ends must not fail by rounding.
      if (!(reynolds >= range[0] * (1 - 1e-9) && reynolds <= range[1] * (1 + 1e-9))) return null;
      const from = Math.log(reynolds) - middle;
      const above = Math.exp(fit.level + fit.slope * from);
      const nusselt = floor + above;
      const mean = (part(fit, [1, from]).uncertainty * above) / nusselt;
      const own = (Math.hypot(fit.benchDeviation, fit.deviation) * above) / nusselt;
      return { nusselt, relative: mean, relativeOnBench: Math.hypot(mean, own) };
    },
  };
}

interface Settled {
  readonly cells: readonly CorrelationCell[];
  readonly strays: readonly CorrelationCell[];
  readonly middle: number;
  readonly fit: LineFit;
}

/** The line without what the others contradict: one by one the furthest is left out, as long as what is left is enough. */
function withoutStrays(all: readonly CorrelationCell[]): Settled | null {
  let cells = all;
  const strays: CorrelationCell[] = [];
  for (;;) {
    const logs = cells.map(({ reynolds }) => Math.log(reynolds));
    const middle = logs.reduce((sum, x) => sum + x, 0) / logs.length;
    const fit = restrictedFit(cells, middle);
    if (fit === null) return null;
    const scores = fit.departures.map(Math.abs);
    const furthest = scores.indexOf(Math.max(...scores));
    const stray = cells[furthest];
    const rest = cells.filter((_, i) => i !== furthest);
    const tooMany = strays.length + 1 > mostStrays * all.length;
    if (
      !((scores[furthest] ?? 0) > strayFrom) ||
      stray === undefined ||
      tooMany ||
      refusalOf(rest) !== null
    ) {
      return { cells, strays, middle, fit };
    }
    strays.push(stray);
    cells = rest;
  }
}

/** Standard uncertainty of a combination of level and slope, and half its 95 % interval. */
function part(fit: LineFit, of: LinePart): { readonly uncertainty: number; readonly reach: number } {
  const { known, bench, residual } = fit.variancesOf(of);
  const whole = known + bench + residual;
  const share = (variance: number, freedom: number) => (variance > 0 ? variance ** 2 / freedom : 0);
  const sum = share(bench, fit.benchFreedom) + share(residual, fit.freedom);
  const freedom = sum > 0 ? Math.max(1, whole ** 2 / sum) : Number.POSITIVE_INFINITY;
  const uncertainty = Math.sqrt(whole);
  return { uncertainty, reach: uncertainty * studentQuantile(coverage, freedom) };
}

function refusalOf(cells: readonly CorrelationCell[]): NoCorrelation | null {
  const numbers = cells.map(({ reynolds }) => reynolds).toSorted((a, b) => a - b);
  const distinct = numbers.filter((re, i) => i === 0 || re > (numbers[i - 1] ?? 0) * (1 + alike)).length;
  const bodies = new Set(cells.map(({ body }) => body)).size;
  const flows = new Set(cells.map(({ flow }) => flow)).size;
  const count = (number: number, one: string, many: string) => `${number} ${number === 1 ? one : many}`;
  const of = `${count(bodies, 'body', 'bodies')} in ${count(flows, 'flow', 'flows')}`;
  if (distinct < fewestReynolds) {
    return {
      ok: false,
      message: `Results of ${of} lie at ${count(distinct, 'Reynolds number', 'different Reynolds numbers')}, and at least ${fewestReynolds} are needed: fewer cannot fix the exponent.`,
      mend: 'Measure in more flows, or bodies of another diameter.',
    };
  }
  const ratio = (numbers.at(-1) ?? 1) / (numbers[0] ?? 1);
  if (ratio < leastRange) {
    return {
      ok: false,
      message: `The Reynolds numbers of ${of} differ by a factor of ${ratio.toPrecision(2)} only, and ${leastRange} is needed to fix the exponent.`,
      mend: 'Measure in a flow that is further off, or bodies of another diameter.',
    };
  }
  if (cells.length < fewestReynolds + 1) {
    return {
      ok: false,
      message: `There are ${cells.length} results by bench, body and flow, and at least ${fewestReynolds + 1} are needed: fewer cannot show how far they scatter.`,
      mend: 'Measure the same conditions on another bench, or more conditions.',
    };
  }
  return null;
}
