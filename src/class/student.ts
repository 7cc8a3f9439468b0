import type { StudentChoices } from './student-choices.ts';
import type { StudentRecording } from './student-recording.ts';
import { type Series, seriesOf } from './student-series.ts';

/** What comes of it, s, or 1/s where the slope is reported; null where the method comes to nothing. */
export interface StudentValues {
  readonly point: number | null;
  readonly origin: number | null;
  readonly intercept: number | null;
  /** The regressions behind the two fits. */
  readonly regressions: {
    readonly origin: StudentRegression | null;
    readonly intercept: StudentRegression | null;
  };
}

/** A straight line through logarithms. */
export interface StudentRegression {
  /** 1/s. */
  readonly slope: number;
  readonly readings: number;
  /** 1 through the origin, 2 with an intercept. */
  readonly parameters: number;
  /** Sums of squares of the residuals, and of the times about their mean or about zero, s². */
  readonly residual: number;
  readonly spread: number;
}

/**
 * The three classroom values by the choices that a student made: the calculation itself is done, right or wrong, on this
 * recording.
 */
export function studentValues(recording: StudentRecording, choices: StudentChoices): StudentValues {
  const series = seriesOf(recording, choices);
  if (series === null) {
    return { point: null, origin: null, intercept: null, regressions: { origin: null, intercept: null } };
  }
  const [upper, lower] = choices.window === 'taught' ? recording.window : [Number.POSITIVE_INFINITY, 0];
  const origin = regression(series, upper, lower, choices, false);
  const intercept = regression(series, upper, lower, choices, true);
  return {
    point: crossing(series, choices),
    origin: reported(origin?.slope ?? null, choices),
    intercept: reported(intercept?.slope ?? null, choices),
    regressions: { origin, intercept },
  };
}

/** Time at which the fraction first passes the level, either way. */
function crossing(
  { time, fraction, lowest }: Series,
  { level, crossing: how }: StudentChoices,
): number | null {
  if (how === 'first-below') {
    const first = lowest.findIndex((value) => value <= level);
    return first < 0 ? null : (time[first] ?? null);
  }
  for (let i = 1; i < time.length; i++) {
    const before = (fraction[i - 1] ?? 0) - level;
    const after = (fraction[i] ?? 0) - level;
    if (before === 0) return time[i - 1] ?? null;
    if (before > 0 !== after > 0) {
      const part = before / (before - after);
      return (time[i - 1] ?? 0) + part * ((time[i] ?? 0) - (time[i - 1] ?? 0));
    }
  }
  return null;
}

/**
 * Slope of the logarithm of the fraction against time, least squares over single readings: a block stands for its own,
 * with the logarithm expanded to second order about their mean.
 */
function regression(
  { time, fraction, count, squares }: Series,
  upper: number,
  lower: number,
  { logarithm }: StudentChoices,
  intercept: boolean,
): StudentRegression | null {
  const scale = logarithm === 'natural' ? 1 : 1 / Math.LN10;
  let [n, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  let blocks = 0;
  time.forEach((x, i) => {
    const f = fraction[i] ?? 0;
    if (!(f > lower && f < upper && f > 0)) return;
    const w = count[i] ?? 1;
    const relative = (squares[i] ?? 0) / f ** 2;
    const y = scale * (Math.log(f) - relative / (2 * w));
    blocks += 1;
    n += w;
    sx += w * x;
    sy += w * y;
    sxx += w * x * x;
    sxy += w * x * y;
    syy += w * y * y + scale ** 2 * relative;
  });
  if (blocks < 5) return null;
  if (intercept) {
    sxx -= (sx * sx) / n;
    sxy -= (sx * sy) / n;
    syy -= (sy * sy) / n;
  }
  const slope = sxy / sxx;
  if (!(Number.isFinite(slope) && slope !== 0)) return null;
  const residual = Math.max(0, syy - slope * sxy);
  return { slope, readings: n, parameters: intercept ? 2 : 1, residual, spread: sxx };
}

function reported(
  slope: number | null,
  { report, slopeDecimals, signKept, complement }: StudentChoices,
): number | null {
  if (slope === null) return null;
  const shown =
    slopeDecimals === null ? slope : Math.round(slope * 10 ** slopeDecimals) / 10 ** slopeDecimals;
  if (report === 'slope') return Math.abs(shown);
  if (shown === 0) return null;
  if (complement) return Math.abs(1 / shown);
  return (signKept ? 1 : -1) / shown;
}
