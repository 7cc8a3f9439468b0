/**
 * Times of a first-order response, all as multiples of the time constant: after t the error fraction is
 * exp(-t/τ) (ASTM E839 and E644, VDI/VDE 3522; clauses from memory).
 */

/**
 * Time after which a part of a step has been covered.
 *
 * @param covered 0 to below 1: 0.5 for the half-time, 0.632 for about one time constant
 * @returns multiples of the time constant; NaN outside the range
 */
export function responseTime(covered: number): number {
  return covered >= 0 && covered < 1 ? -Math.log1p(-covered) : Number.NaN;
}

/**
 * Part of a step that is still missing in a first-order response.
 *
 * @param time multiples of the time constant, at least 0
 * @returns 1 at the start, towards 0
 */
export function errorFraction(time: number): number {
  return Math.exp(-time);
}

/** t90/t50 of one exponential, log2(10): a measured ratio away from it is no first-order response. */
export const firstOrderRatio = Math.LN10 / Math.LN2;

/** Error fraction after one time constant, 1/e. */
export const errorFractionAtTimeConstant = Math.exp(-1);

/** Time from 10 % to 90 % of a step, ln 9, in time constants. */
export const riseTime = Math.log(9);

/** Frequency at which a sinusoidal temperature is damped by √2, times the time constant. */
export const cutoffProduct = 1 / (2 * Math.PI);
