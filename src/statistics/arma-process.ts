/**
 * A stationary ARMA(1,1) process x_t = phi x_{t-1} + e_t + theta e_{t-1}, e_t independent with standard
 * deviation `innovation`. An exponentially correlated noise seen through white noise, averaged over blocks, is
 * exactly of this form. Formulas: Brockwell & Davis, Time Series: Theory and Methods (1991), section 3.3.
 */
export interface Arma {
  /** Autoregressive coefficient, |phi| < 1. */
  readonly phi: number;
  /** Moving-average coefficient. */
  readonly theta: number;
  /** Standard deviation of the innovations, unit of the series, >= 0. */
  readonly innovation: number;
}

/** Variance of one value, unit squared. */
export function armaVariance({ phi, theta, innovation }: Arma): number {
  return (innovation ** 2 * (1 + 2 * phi * theta + theta ** 2)) / (1 - phi ** 2);
}

/**
 * Covariance of two values that are `lag` steps apart, unit squared.
 *
 * @param lag whole number of steps, of either sign
 */
export function armaAutocovariance(process: Arma, lag: number): number {
  const k = Math.abs(lag);
  if (k === 0) return armaVariance(process);
  const { phi, theta, innovation } = process;
  const first = (innovation ** 2 * (1 + phi * theta) * (phi + theta)) / (1 - phi ** 2);
  return first * phi ** (k - 1);
}

/** Sum of the autocovariances over all lags, unit squared: n times the variance of a long mean of n values. */
export function armaLongRunVariance({ phi, theta, innovation }: Arma): number {
  return (innovation * ((1 + theta) / (1 - phi))) ** 2;
}

/** Steps in which the autocorrelation falls by e; 0 where phi is not positive. */
export function armaCorrelationTime({ phi }: Arma): number {
  return phi > 0 ? -1 / Math.log(phi) : 0;
}

/**
 * Covariance of the two sums of u_i x_i and v_i x_i, unit squared times the weights' units. Exact, in one pass:
 * beyond lag 1 the autocovariance is geometric, so the sum over all pairs is a recursion.
 *
 * @param steps steps from each value to the next, whole and at least 1; one fewer than the values, or more
 */
export function armaCovariance(
  process: Arma,
  steps: ArrayLike<number>,
  u: ArrayLike<number>,
  v: ArrayLike<number>,
): number {
  const { phi } = process;
  let same = 0;
  let apart = 0;
  let pastU = 0;
  let pastV = 0;
  for (let i = 0; i < u.length; i++) {
    const ui = u[i] ?? Number.NaN;
    const vi = v[i] ?? Number.NaN;
    same += ui * vi;
    apart += ui * pastV + vi * pastU;
    const step = steps[i] ?? 1;
    const fade = step === 1 ? 1 : phi ** (step - 1);
    pastU = fade * (phi * pastU + ui);
    pastV = fade * (phi * pastV + vi);
  }
  return armaVariance(process) * same + armaAutocovariance(process, 1) * apart;
}
