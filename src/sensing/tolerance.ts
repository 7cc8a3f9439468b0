import type { ThermocoupleType } from './thermocouple-types.ts';

/** Tolerance classes of IEC 60584-1 for thermocouples. */
export type ThermocoupleClass = 1 | 2 | 3;
/** Tolerance classes of IEC 60751 for platinum sensors. */
export type PlatinumClass = 'AA' | 'A' | 'B' | 'C';

interface Tolerance {
  /** °C. */
  readonly from: number;
  readonly to: number;
  /** Half-width, K, at temperature t, °C. */
  readonly halfWidth: (t: number) => number;
}

/** The larger of a constant and a part of the temperature. */
function larger(from: number, to: number, constant: number, part: number): Tolerance {
  return { from, to, halfWidth: (t) => Math.max(constant, part * Math.abs(t)) };
}

/** A constant and a part of the temperature, added up. */
function sum(from: number, to: number, constant: number, part: number): Tolerance {
  return { from, to, halfWidth: (t) => constant + part * Math.abs(t) };
}

const nickelChromium = {
  1: larger(-40, 1000, 1.5, 0.004),
  2: larger(-40, 1200, 2.5, 0.0075),
  3: larger(-200, 40, 2.5, 0.015),
};
const platinumRhodium = {
  1: { from: 0, to: 1600, halfWidth: (t: number) => (t <= 1100 ? 1 : 1 + 0.003 * (t - 1100)) },
  2: larger(0, 1600, 1.5, 0.0025),
};

/** IEC 60584-1:2013, table 12 (number of the table from memory). */
const thermocoupleTolerances: Readonly<
  Record<ThermocoupleType, Partial<Record<ThermocoupleClass, Tolerance>>>
> = {
  B: { 2: larger(600, 1700, 0, 0.0025), 3: larger(600, 1700, 4, 0.005) },
  E: { 1: larger(-40, 800, 1.5, 0.004), 2: larger(-40, 900, 2.5, 0.0075), 3: larger(-200, 40, 2.5, 0.015) },
  J: { 1: larger(-40, 750, 1.5, 0.004), 2: larger(-40, 750, 2.5, 0.0075) },
  K: nickelChromium,
  N: nickelChromium,
  R: platinumRhodium,
  S: platinumRhodium,
  T: { 1: larger(-40, 350, 0.5, 0.004), 2: larger(-40, 350, 1, 0.0075), 3: larger(-200, 40, 1, 0.015) },
};

/** IEC 60751:2008, table 3 (wire-wound ranges; number of the table from memory). */
const platinumTolerances: Readonly<Record<PlatinumClass, Tolerance>> = {
  AA: sum(-50, 250, 0.1, 0.0017),
  A: sum(-100, 450, 0.15, 0.002),
  B: sum(-196, 600, 0.3, 0.005),
  C: sum(-196, 600, 0.6, 0.01),
};

/**
 * Half-width of the tolerance of a thermocouple (IEC 60584-1).
 *
 * @param t °C
 * @returns K; null where the class does not exist for the type or not at that temperature
 */
export function thermocoupleTolerance(
  type: ThermocoupleType,
  toleranceClass: ThermocoupleClass,
  t: number,
): number | null {
  return at(thermocoupleTolerances[type][toleranceClass], t);
}

/**
 * Half-width of the tolerance of a platinum sensor (IEC 60751).
 *
 * @param t °C
 * @returns K; null where the class does not hold at that temperature
 */
export function platinumTolerance(toleranceClass: PlatinumClass, t: number): number | null {
  return at(platinumTolerances[toleranceClass], t);
}

/**
 * Standard uncertainty that a tolerance stands for, where nothing more is known than that it is kept: that of a
 * uniform distribution, half-width/√3 (JCGM 100:2008, 4.3.7).
 *
 * @param halfWidth in any unit, at least 0
 */
export function uniformUncertainty(halfWidth: number): number {
  return halfWidth / Math.sqrt(3);
}

function at(tolerance: Tolerance | undefined, t: number): number | null {
  if (tolerance === undefined || !(t >= tolerance.from && t <= tolerance.to)) return null;
  return tolerance.halfWidth(t);
}
