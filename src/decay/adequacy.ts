import { dot, studentQuantile } from '../statistics/index.ts';
import { type Scores, scoreTests, strongest } from './adequacy-score.ts';
import {
  backExtrapolation,
  earlyOverLate,
  type Found,
  ratio90to50,
  readingAtStart,
} from './adequacy-times.ts';
import type { Adequacy, AdequacyInput, AdequacyTest, AdequacyTestName } from './adequacy-types.ts';
import { describeDeparture } from './adequacy-words.ts';
import type { DecayFit } from './fit-types.ts';
import { noiseFreedom, residualNoise } from './noise.ts';
import { orthonormal } from './slow.ts';

/** Time to 90 % over time to 50 % of a fall with one time constant: ln 10 / ln 2. */
export const oneExponentialRatio = Math.LN10 / Math.LN2;

/** Two-sided levels of the tests, chosen so that all five together call fewer than 5 % of good recordings bad. */
const levels = { curvature: 0.01, second: 0.008, times: 0.0027 };
/** Limit of the back-extrapolation, in standard uncertainties, after what lingering hot air may do. */
const backLimit = 2.6;
/** Second time constants, as parts of the fitted one, that the noise is freed of before the tests. */
const departures = [0.3, 3] as const;
/** Fewer blocks than this cannot spare two more columns. */
const fewestForFreeNoise = 24;
/** Hot air may linger this long, s, and never more than this part of the time constant. */
const usualLinger = 1;
const largestLinger = 0.35;
/** A second exponential larger than this must be visible, or the recording says nothing about its kind. */
const largestHidden = 0.3;
/** Residuals are not believed below this part of the innovations. */
const rounding = 1e-6;

/**
 * Tests whether one exponential describes the cooling, each against the noise, the ambient's and the drift's
 * uncertainty of the fit: a curvature term, a second exponential of nine time constants, the fit carried back
 * to the heat going off, the first half against the rest, and the time to 90 % over that to 50 %.
 */
export function judgeAdequacy(input: AdequacyInput): Adequacy {
  const fit = withFreeNoise(input.fit);
  const linger = Math.min(input.linger ?? usualLinger, largestLinger * fit.timeConstant);
  const scores = scoreTests(fit);
  const start = readingAtStart({ ...input, fit });
  const back = start === null ? null : backExtrapolation(fit, start);
  const halves = earlyOverLate(fit);
  const startUncertainty = start?.from === 'heat-off' ? linger / Math.sqrt(3) : 0;
  const ratio = start === null ? null : ratio90to50(fit, start, startUncertainty);

  const limitOf = (level: number) => studentQuantile(1 - level / 2, fit.noiseDegrees);
  const tests: AdequacyTest[] = [];
  const add = (name: AdequacyTestName, statistic: number, limit: number) => {
    tests.push({ name, statistic, limit, fails: Math.abs(statistic) > limit });
  };
  if (scores !== null) {
    add('curvature', scores.curvature.statistic, limitOf(levels.curvature));
    add('second-exponential', strongest(scores.second).statistic, limitOf(levels.second));
  }
  const delay = back === null ? 0 : Math.max(0, Math.abs(back.value) - linger / fit.timeConstant);
  if (back !== null) {
    add('back-extrapolation', (Math.sign(back.value) * delay) / back.standardUncertainty, backLimit);
  }
  if (halves !== null) {
    add('early-against-late', departure(halves, 1), limitOf(levels.times));
  }
  if (ratio !== null) {
    add('ratio-90-to-50', departure(ratio, oneExponentialRatio), limitOf(levels.times));
  }

  const visibleShare = scores === null ? null : smallestVisible(scores, limitOf(levels.second));
  const failed = tests.some((test) => test.fails);
  const telling = visibleShare !== null && Math.min(visibleShare.fast, visibleShare.slow) < largestHidden;
  const firstOrder = failed ? false : telling ? true : null;
  const found = {
    firstOrder,
    tests,
    ratio90to50:
      ratio === null || start === null ? null : { ...ratio, expected: oneExponentialRatio, from: start.from },
    backExtrapolation: back,
    earlyOverLate: halves,
    visibleShare,
  };
  const described = describeDeparture(fit, found, scores, input.early);
  const sizes = {
    curvature: scores?.curvature.influence ?? 0,
    'second-exponential': scores === null ? 0 : strongest(scores.second).influence,
    'back-extrapolation': delay,
    'early-against-late': halves === null ? 0 : (halves.value - 1) / 2,
    'ratio-90-to-50': ratio === null ? 0 : ratio.value / oneExponentialRatio - 1,
  } satisfies Record<AdequacyTestName, number>;
  const failing = tests.filter(({ fails }) => fails).map(({ name }) => Math.abs(sizes[name]));
  const size = failed ? Math.max(...failing, Math.abs(described.rateChange?.share ?? 0) / 2) : null;
  return { ...found, ...described, size };
}

/**
 * The fit with its noise found anew about a curve that may depart from one exponential as the tests look for:
 * otherwise a departure passes for slow noise and hides itself.
 */
function withFreeNoise(fit: DecayFit): DecayFit {
  const n = fit.time.length;
  if (fit.noiseSource === 'baseline' || n < fewestForFreeNoise) return fit;
  const x = fit.time.map((t) => (t - fit.start) / fit.timeConstant);
  const columns = [
    ...fit.geometry.jacobian,
    ...departures.map((ratio) => x.map((at) => Math.exp(-at / ratio))),
  ];
  const basis = orthonormal(columns);
  const residual = new Float64Array(fit.residual);
  for (const q of basis) {
    const along = dot(q, residual);
    for (let i = 0; i < n; i++) residual[i] = (residual[i] ?? Number.NaN) - along * (q[i] ?? Number.NaN);
  }
  const { positions } = fit.geometry;
  const { blockWidth, innovation } = fit.noise;
  const noise = residualNoise(residual, basis, positions, blockWidth, rounding * innovation);
  return { ...fit, noise, noiseDegrees: noiseFreedom(noise, n * blockWidth) };
}

function departure(found: Found, expected: number): number {
  return (found.value - expected) / found.standardUncertainty;
}

function smallestVisible(scores: Scores, limit: number): { fast: number; slow: number } {
  const share = (ratio: number) => {
    const score = scores.second.find((s) => s.ratio === ratio);
    return limit * (score?.shareUncertainty ?? Number.POSITIVE_INFINITY);
  };
  return { fast: share(0.2), slow: share(3) };
}
