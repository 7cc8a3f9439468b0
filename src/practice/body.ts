import type { BenchTrial, BenchTruth } from './bench-types.ts';
import { airSegments, createDisturbances, type Disturbances, undisturbed } from './body-air.ts';
import { bodyChain, coefficientRange } from './body-chain.ts';
import { checkBenchTrial } from './body-check.ts';
import { Curve } from './body-curve.ts';
import { type BodyModel, followAir, type StepRule, usualSteps } from './body-run.ts';
import { type BodyState, type Conditions, createStepper } from './body-step.ts';
import type { Random } from './random.ts';
import { benchTruth, lowest } from './truth.ts';

/** The junction at each sample, without noise, and the truth behind it. */
export interface SimulatedBodyTemperatures {
  /** °C, at i/rate for i = 0 … ⌊length × rate⌋. */
  readonly junction: Float64Array;
  readonly truth: BenchTruth;
}

/** How long the clean cooling is followed for the truth, in times that the body lags behind drifting air. */
const cleanCooling = 8;

function jetConditions(trial: BenchTrial, air: number, factor: number): Conditions {
  return { air, coefficient: trial.air.coefficient * factor, stemFactor: factor };
}

/**
 * State of a body that has stood in the air for long: in balance with radiation, behind the drift by its lag, and with
 * a share of the turbulence, drawn as for one lumped body (variance s² c/(lag + c) with correlation time c, and as much
 * covariance with the air).
 */
function startState(
  trial: BenchTrial,
  model: BodyModel,
  time: number,
  disturbances: Disturbances,
  random: Random,
): BodyState {
  const { air, body } = trial;
  const conditions = jetConditions(trial, air.ambient + air.drift * time, 1);
  const steady = model.stepper.steady(conditions);
  const temperatures = steady ?? new Float64Array(model.chain.count).fill(conditions.air);
  const lags = model.stepper.lags(conditions, temperatures.at(-1) ?? conditions.air);
  let shift = 0;
  if (air.turbulence !== null) {
    const { standardDeviation, correlationTime } = air.turbulence;
    const share = lags === null ? 0 : correlationTime / ((lags[0] ?? 0) + correlationTime);
    const own = standardDeviation * Math.sqrt(share * (1 - share));
    shift = share * disturbances.turbulence() + own * random.normal();
  }
  for (const [i, temperature] of temperatures.entries()) {
    temperatures[i] = temperature + shift - air.drift * (lags?.[i] ?? 0);
  }
  const junction = (temperatures[0] ?? conditions.air) - air.drift * body.junctionLag;
  return { temperatures, junction, lag: body.junctionLag, melted: false };
}

/** How far to follow the clean cooling, s: past the end of a recording that stops early. */
function cleanEnd(trial: BenchTrial, model: BodyModel, heatOff: number, lag: number): number {
  const change = trial.air.jetChange;
  const factors = change !== null && change.at < trial.length ? [1, change.factor] : [1];
  const times = factors.map((factor) => {
    const conditions = jetConditions(trial, trial.air.ambient, factor);
    return model.stepper.lags(conditions, trial.air.ambient)?.[0] ?? 0;
  });
  return Math.max(trial.length, heatOff + cleanCooling * (Math.max(...times) + lag));
}

/**
 * The cooling that the truth's time constant is taken from: from the temperatures at heat-off in jet air that is
 * steady: without what is left of the hot stream, drift, turbulence and fluctuating coefficients, which are
 * the air's and not the body's. A change of the jet within the recording counts. It goes on beyond the end of a
 * recording that stops early, for the body has its time constant all the same.
 */
function cleanCurve(
  trial: BenchTrial,
  model: BodyModel,
  state: BodyState,
  heatOff: number,
  coolingAir: number,
  rule: StepRule,
): Curve {
  const curve = new Curve();
  // Cut from heat-off on, the air knows of no hot stream before.
  const segments = airSegments(trial, heatOff, cleanEnd(trial, model, heatOff, state.lag)).map((segment) => ({
    ...segment,
    level: coolingAir,
    drift: 0,
  }));
  const until = coolingAir + lowest * (state.junction - coolingAir);
  followAir(model, state, segments, undisturbed, curve, rule, until);
  return curve;
}

/**
 * Temperature of the junction of a trial without noise, and the truth. The sphere conducts radially, stems leave its
 * surface as fins (their sections take no part in its convection), both cool by convection, the sphere also by
 * radiation; the junction lags behind the middle and takes no heat. Before the heating the body has stood long in air
 * at ambient that moves as the jet does.
 *
 * The steps are chosen by the body and the air, not by the sampling rate: cubic pieces with the known slope of the
 * junction join them, and all random numbers are the same at any rate.
 *
 * @param random the only source of chance; without turbulence, fluctuation and wander none is drawn
 * @param rule finer or coarser steps, to measure their error
 * @throws RangeError for a trial that cannot be simulated, with the number that is wrong
 */
export function simulateBody(
  trial: BenchTrial,
  random: Random,
  rule: StepRule = usualSteps,
): SimulatedBodyTemperatures {
  checkBenchTrial(trial);
  const { air, heatings, length, logger } = trial;
  const chain = bodyChain(trial.body, coefficientRange(trial));
  const model = { body: trial.body, chain, stepper: createStepper(chain, air.surroundings) };
  const start = Math.min(0, heatings[0]?.from ?? 0);
  const heatOff = heatings.at(-1)?.to ?? 0;
  const disturbances = createDisturbances(trial, random);
  const state = startState(trial, model, start, disturbances, random);
  const curve = new Curve();
  const segments = airSegments(trial, start, Math.max(length, heatOff));
  const heated = segments.filter((segment) => segment.to <= heatOff);
  const cooled = segments.filter((segment) => segment.from >= heatOff);
  const heatedPeak = followAir(model, state, heated, disturbances, curve, rule).peak;
  const atHeatOff = { ...state, temperatures: state.temperatures.slice() };
  const cooledPeak = followAir(model, state, cooled, disturbances, curve, rule).peak;
  const coolingAir = air.ambient + air.jetOffset + air.drift * heatOff;
  const centreAtHeatOff = atHeatOff.temperatures[0] ?? Number.NaN;
  const junctionAtHeatOff = atHeatOff.junction;
  // A product such as 0.29 × 100 may fall short of the whole number that is meant.
  const count = Math.floor(length * logger.rate * (1 + 4 * Number.EPSILON)) + 1;
  const junction = curve.sample(0, logger.rate, count);
  const truth = benchTruth(trial, {
    clean: cleanCurve(trial, model, atHeatOff, heatOff, coolingAir, rule),
    peak: Math.max(heatedPeak, cooledPeak),
    coolingAir,
    centreAtHeatOff,
    junctionAtHeatOff,
    lastTime: (count - 1) / logger.rate,
    lastJunction: junction.at(-1) ?? Number.NaN,
  });
  return { junction, truth };
}
