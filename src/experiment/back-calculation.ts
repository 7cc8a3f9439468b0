import type { Prediction } from '../prediction/index.ts';
import { type Propagated, propagate } from '../quantity/index.ts';
import type { Remark } from '../remark/index.ts';

/** A number calculated back from a measured time constant. */
export interface BackCalculated {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly interval: readonly [number, number];
}

/** Heat transfer that a measured time constant stands for. */
export interface MeasuredHeatTransfer {
  /** All heat that leaves the body, over its surface, W/(m² K). */
  readonly total: BackCalculated;
  /** That less radiation and what the wires carry, W/(m² K). */
  readonly convection: BackCalculated;
  /** Nusselt number of the convection, with the diameter. */
  readonly nusselt: BackCalculated;
  readonly remarks: readonly Remark[];
}

/**
 * Coefficient from a time constant: lumped, h = C/(A tau); or by the first root of the sphere, which has
 * zeta² = 3 (C/A)(D/2k)/tau and h D/(2k) = 1 - zeta cot zeta (Carslaw & Jaeger, 2nd ed. 1959, 9.4).
 *
 * @param timeConstant s, > 0
 * @param capacity heat capacity over surface, J/(m² K)
 * @param resistance D/(2k) of a sphere, m² K/W; 0 for a lumped body
 * @returns W/(m² K); NaN where even an endless coefficient would not cool the sphere as quickly
 */
export function coefficientFrom(timeConstant: number, capacity: number, resistance: number): number {
  if (!(resistance > 0)) return capacity / timeConstant;
  const zeta = Math.sqrt((3 * capacity * resistance) / timeConstant);
  if (!(zeta < Math.PI)) return Number.NaN;
  // Below this the two terms cancel, and the body is lumped.
  if (zeta < 1e-4) return capacity / timeConstant;
  return (1 - zeta / Math.tan(zeta)) / resistance;
}

/**
 * Convective part of a coefficient. The wires draw in proportion to the root of the coefficient about them, as long
 * fins do, so that theirs follows the measured one: a quadratic for the root of the convection.
 */
function convectionIn(total: number, radiation: number, stemAtRoot: number): number {
  const rest = total - radiation;
  if (!(rest > 0)) return Number.NaN;
  const root = (-stemAtRoot + Math.sqrt(stemAtRoot ** 2 + 4 * rest)) / 2;
  return root * root;
}

/**
 * Heat transfer coefficient and Nusselt number that a measured time constant stands for, with uncertainty: of the time
 * constant, heat capacity and diameter of the body, radiation and wires. The correlation that predicted the time
 * constant has no part in it but for the share of the wires' heat.
 *
 * @param measured s, with the standard uncertainty of its logarithm
 * @param prediction of the same condition
 * @param shape of the body: only a sphere has an exact relation
 * @returns null where the time constant allows no coefficient
 */
export function heatTransferFrom(
  measured: { readonly value: number; readonly relative: number; readonly degreesOfFreedom: number },
  prediction: Prediction,
  shape: 'sphere' | 'wire',
): MeasuredHeatTransfer | null {
  const { heatTransferCoefficient: h, lumped, biot } = prediction;
  const capacity = lumped.timeConstant * h.total;
  const resistance = shape === 'sphere' ? biot.diameter / (2 * h.total) : 0;
  const stemAtRoot = h.stem / Math.sqrt(h.convection);
  const relative = (name: string) => relativeUncertainty(prediction, name);
  const weighed = prediction.budget.some(({ input }) => input === 'mass');
  const diameter = relative('diameter');
  const inputs = [
    {
      name: 'timeConstant',
      value: measured.value,
      standardUncertainty: measured.value * measured.relative,
      degreesOfFreedom: measured.degreesOfFreedom,
      unit: 's',
    },
    factor('capacity', Math.hypot(relative(weighed ? 'mass' : 'density'), relative('specificHeat'))),
    factor('diameter', diameter),
    factor('conductivity', relative('conductivity')),
    factor('radiation', relative('emissivity')),
    factor('stem', relative('stemFactor')),
    factor('air', relative('airConductivityFactor')),
  ];
  const parts = ([tau = 0, heat = 1, size = 1, inside = 1, radiated = 1, stem = 1]: readonly number[]) => {
    // Heat capacity over surface: mass/D² of a weighed body, density × D of another.
    const perArea = capacity * heat * (weighed ? size ** -2 : size);
    const total = coefficientFrom(tau, perArea, (resistance * size) / inside);
    return { total, convection: convectionIn(total, h.radiation * radiated, stemAtRoot * stem) };
  };
  const nusseltPerCoefficient = prediction.nusselt / h.convection;
  const values = inputs.map(({ value }) => value);
  const { convection } = parts(values);
  if (!(convection > 0 && Number.isFinite(convection))) return null;
  try {
    const found = {
      total: back(propagate((x) => parts(x).total, inputs)),
      convection: back(propagate((x) => parts(x).convection, inputs)),
      nusselt: back(
        propagate((x) => (parts(x).convection * nusseltPerCoefficient * (x[2] ?? 1)) / (x[6] ?? 1), inputs),
      ),
    };
    return { ...found, remarks: plausibility(convection, prediction.velocity === 0) };
  } catch (error) {
    // Where the uncertainty reaches beyond what a sphere can do.
    if (error instanceof RangeError) return null;
    throw error;
  }
}

function factor(name: string, relative: number) {
  return {
    name,
    value: 1,
    standardUncertainty: relative,
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    unit: '1',
  };
}

function relativeUncertainty({ budget }: Prediction, name: string): number {
  const line = budget.find(({ input }) => input === name);
  return line === undefined || line.value === 0 ? 0 : Math.abs(line.standardUncertainty / line.value);
}

function back({ value, standardUncertainty, interval }: Propagated): BackCalculated {
  return { value, standardUncertainty, interval };
}

/** W/(m² K): free convection in gases 2 to 25, forced 25 to 250 (common practice, no source). */
const usualFree = 25;
const usualForced = { low: 25, high: 250 };

function plausibility(convection: number, still: boolean): Remark[] {
  const shown = Number(convection.toPrecision(3));
  if (still && convection > usualFree) {
    return [
      {
        code: 'coefficient-implausible',
        severity: 'caution',
        message: `The time constant stands for ${shown} W/(m² K) in still air, where free convection in a gas rarely passes ${usualFree}.`,
        action: 'Look for a draught, heat that leaves through the holder, or the wrong body.',
      },
    ];
  }
  if (still || (convection >= usualForced.low && convection <= usualForced.high)) return [];
  return [
    {
      code: 'coefficient-implausible',
      severity: 'note',
      message: `The time constant stands for ${shown} W/(m² K), outside the ${usualForced.low} to ${usualForced.high} that are usual for forced convection in a gas.`,
      action:
        'Small bodies in fast air lie above, and slow air lies below; else check flow, body and unit of time.',
    },
  ];
}
