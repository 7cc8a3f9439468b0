import type { BenchTrial, BenchTruth } from './bench-types.ts';
import { iceKelvin, stefanBoltzmann } from './body-chain.ts';
import type { Curve } from './body-curve.ts';

/** Window of the time constant, as error fractions, and points in it. */
const highest = 0.9;
export const lowest = 0.1;
const windowPoints = 2000;
/** A smaller step than this, K, is no cooling. */
const smallestStep = 1e-3;

/** Time at which a curve first falls to a level, s; null where it does not. */
function firstFall(curve: Curve, level: number): number | null {
  for (let k = 0; k + 1 < curve.length; k++) {
    if (!(curve.value(k) > level && curve.value(k + 1) <= level)) continue;
    let low = curve.time(k);
    let high = curve.time(k + 1);
    for (let halving = 0; halving < 60; halving++) {
      const middle = (low + high) / 2;
      if (curve.between(k, middle) > level) low = middle;
      else high = middle;
    }
    return high;
  }
  return null;
}

/**
 * −1/slope of ln(error fraction) against time from where the fraction first falls to 0.9 to where it first falls to
 * 0.1: ordinary least squares with intercept over evenly spaced times.
 *
 * @param curve of the junction from heat-off on, °C
 * @param air temperature that the excess counts from, °C
 * @returns s; null where the step is under 1 mK or the curve does not pass the whole window
 */
export function windowTimeConstant(curve: Curve, air: number): number | null {
  const step = curve.value(0) - air;
  if (!(step > smallestStep)) return null;
  const from = firstFall(curve, air + highest * step);
  const to = firstFall(curve, air + lowest * step);
  if (from === null || to === null || !(to > from)) return null;
  const rate = (windowPoints - 1) / (to - from);
  const values = curve.sample(from, rate, windowPoints);
  let meanLog = 0;
  for (const value of values) meanLog += Math.log((value - air) / step) / windowPoints;
  let products = 0;
  let squares = 0;
  for (const [i, value] of values.entries()) {
    const time = (i - (windowPoints - 1) / 2) / rate;
    products += time * (Math.log((value - air) / step) - meanLog);
    squares += time * time;
  }
  return -squares / products;
}

/** What the run of a trial gave. */
export interface RunFacts {
  /** Junction from heat-off on, in steady jet air; see `simulateBody`. */
  readonly clean: Curve;
  /** °C. */
  readonly peak: number;
  readonly coolingAir: number;
  /** Of the middle and of the junction at heat-off, °C. */
  readonly centreAtHeatOff: number;
  readonly junctionAtHeatOff: number;
  /** Of the last sample, s and °C. */
  readonly lastTime: number;
  readonly lastJunction: number;
}

/** Coefficient of radiation between two temperatures in °C, W/(m² K): emissivity σ (T² + T_s²)(T + T_s). */
function radiationCoefficient(emissivity: number, surface: number, surroundings: number): number {
  const a = surface + iceKelvin;
  const b = surroundings + iceKelvin;
  return emissivity * stefanBoltzmann * (a * a + b * b) * (a + b);
}

/**
 * The truth of a trial. Coefficients are those of the jet before any change of it; radiation is taken half-way between
 * the middle of the body at heat-off and the air. The error fraction of the last sample counts from the air then (with
 * drift), over the junction's excess at heat-off; it is 1 where the recording ends before heat-off or nothing was
 * heated.
 */
export function benchTruth(trial: BenchTrial, facts: RunFacts): BenchTruth {
  const { body, air } = trial;
  const heating = trial.heatings.at(-1);
  const heatOff = heating?.to ?? 0;
  const middle = (facts.centreAtHeatOff + facts.coolingAir) / 2;
  const total = air.coefficient + radiationCoefficient(body.emissivity, middle, air.surroundings);
  const step = facts.junctionAtHeatOff - facts.coolingAir;
  const lastAir = facts.coolingAir + air.drift * (facts.lastTime - heatOff);
  const cooled = facts.lastTime > heatOff && step > smallestStep;
  return {
    timeConstant: windowTimeConstant(facts.clean, facts.coolingAir),
    lumpedTimeConstant: (body.density * body.specificHeat * body.diameter) / 6 / total,
    biot: (total * body.diameter) / 6 / body.conductivity,
    peak: facts.peak,
    heatOn: heating?.from ?? 0,
    heatOff,
    coolingAir: facts.coolingAir,
    endFraction: cooled ? (facts.lastJunction - lastAir) / step : 1,
  };
}
