import { coverageFactor, logCoverageInterval, usualCoverage } from '../quantity/index.ts';
import type { DecayFit } from './fit-types.ts';
import { independentReadings } from './noise.ts';

/** When a cooling reaches an error fraction, s from the recording's first sample. */
export interface EndForecast {
  readonly time: number;
  readonly standardUncertainty: number;
  /** 95 % coverage. */
  readonly interval: readonly [number, number];
  readonly coverage: number;
}

/** Above this error fraction the fall so far is too short to tell where it goes. */
export const forecastBelow = 0.85;
/** Fewer correlation times than this do not show the noise that the interval rests on. */
const fewestCorrelationTimes = 10;

/**
 * When the cooling reaches an error fraction, from a fit of what there is of it. The error fraction is counted from the
 * fitted ambient, its drift followed, and from the fitted temperature at the heat-off, so that it is reached a known
 * multiple of the time constant after the heat-off, t = t_off + tau ln(1/G). With g the derivatives of t by the
 * parameters, its variance is w'Γw + s⁴ g'H⁻¹PH⁻¹g, w = J H⁻¹g (JCGM 100:2008, equation 13): all of g but the
 * derivative by ln tau is none, so that the variance is that of ln tau times (tau ln(1/G))², with the slow misfit and
 * the degrees of freedom of the fit. To that comes the variance of the heat-off, which the finished recording may put a
 * little elsewhere. The interval is that of the curve without noise, and holds for one exponential.
 *
 * @param fit of the cooling so far
 * @param heatOff s, not after the fit's start
 * @param endFraction error fraction to be reached, between 0 and 1
 * @param heatOffUncertainty standard uncertainty, s
 * @returns null where the cooling is too short to tell: above an error fraction of 0.85, or below ten correlation times
 */
export function forecastEnd(
  fit: DecayFit,
  heatOff: number,
  endFraction: number,
  heatOffUncertainty = 0,
): EndForecast | null {
  if (!(endFraction > 0 && endFraction < 1)) return null;
  const last = fit.time.at(-1) ?? Number.NaN;
  const reached = Math.exp((heatOff - last) / fit.timeConstant);
  const recorded = fit.time.length * fit.noise.blockWidth;
  const enough = 2 * independentReadings(fit.noise, recorded) >= fewestCorrelationTimes;
  if (!(reached <= forecastBelow) || !enough) return null;
  const multiple = Math.log(1 / endFraction);
  const [low, high] = logCoverageInterval(fit.timeConstant, fit.relativeUncertainty, fit.degreesOfFreedom);
  const reach = coverageFactor(Number.POSITIVE_INFINITY, usualCoverage) * heatOffUncertainty;
  const time = heatOff + multiple * fit.timeConstant;
  return {
    time,
    standardUncertainty: Math.hypot(multiple * fit.standardUncertainty, heatOffUncertainty),
    interval: [
      time - Math.hypot(multiple * (fit.timeConstant - low), reach),
      time + Math.hypot(multiple * (high - fit.timeConstant), reach),
    ],
    coverage: usualCoverage,
  };
}
