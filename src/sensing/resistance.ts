import type { Conversion } from './thermocouple-types.ts';

/** IEC 60751:2008, 4.2: coefficients of the Callendar-Van Dusen equation, 1/°C, 1/°C², 1/°C⁴. */
const A = 3.9083e-3;
const B = -5.775e-7;
const C = -4.183e-12;

/** Range of the equation, °C. */
export const resistanceRange = { from: -200, to: 850 } as const;

/**
 * Resistance of a platinum sensor (IEC 60751:2008, equations 1 and 2).
 *
 * @param t °C, -200 to 850
 * @param nominal resistance at 0 °C, ohm: 100 for a Pt100
 * @returns ohm; NaN outside the range
 */
export function platinumResistance(t: number, nominal: number): number {
  return nominal * ratio(t);
}

/**
 * Change of the resistance with temperature, ohm/K (derivative of the same equations).
 *
 * @param t °C, -200 to 850
 * @param nominal resistance at 0 °C, ohm
 * @returns NaN outside the range
 */
export function platinumSensitivity(t: number, nominal: number): number {
  return nominal * ratioSlope(t);
}

/**
 * Temperature of a platinum sensor, °C, from its resistance: in closed form above 0 °C, by Newton's method below,
 * where the equation is of the fourth degree.
 *
 * @param resistance ohm
 * @param nominal resistance at 0 °C, ohm, > 0
 */
export function platinumTemperature(resistance: number, nominal: number): Conversion {
  const value = platinumInverse(resistance / nominal);
  if (!Number.isNaN(value)) return { ok: true, value };
  if (Number.isNaN(resistance / nominal)) return { ok: false, reason: 'not-a-number' };
  return { ok: false, reason: resistance < nominal ? 'below-range' : 'above-range' };
}

function inRange(t: number): boolean {
  return t >= resistanceRange.from && t <= resistanceRange.to;
}

function ratio(t: number): number {
  if (!inRange(t)) return Number.NaN;
  const above = 1 + t * (A + B * t);
  return t >= 0 ? above : above + C * (t - 100) * t ** 3;
}

function ratioSlope(t: number): number {
  if (!inRange(t)) return Number.NaN;
  const above = A + 2 * B * t;
  return t >= 0 ? above : above + C * t ** 2 * (4 * t - 300);
}

const lowestRatio = ratio(resistanceRange.from);
const highestRatio = ratio(resistanceRange.to);

/** Temperature from resistance over nominal resistance; NaN outside the range. */
export function platinumInverse(r: number): number {
  if (!(r >= lowestRatio && r <= highestRatio)) return Number.NaN;
  // The root of the quadratic in the form that does not cancel.
  let t = (2 * (r - 1)) / (A + Math.sqrt(A * A + 4 * B * (r - 1)));
  if (t >= 0) return Math.min(t, resistanceRange.to);
  // The quadratic is 2.4 °C off at the lower end; each step squares the error.
  for (let k = 0; k < 6; k++) {
    t = Math.min(Math.max(t, resistanceRange.from), 0);
    const step = (ratio(t) - r) / ratioSlope(t);
    t -= step;
    if (Math.abs(step) < 1e-6) break;
  }
  return Math.max(t, resistanceRange.from);
}

/** Second derivative of the temperature by the resistance ratio, K. */
export function platinumCurvature(t: number): number {
  const slope = ratioSlope(t);
  const bend = t >= 0 ? 2 * B : 2 * B + C * t * (12 * t - 600);
  return -bend / slope ** 3;
}

/** Temperature by the resistance ratio, first derivative, K. */
export function platinumSlope(t: number): number {
  return 1 / ratioSlope(t);
}
