import { armaCovariance, stepsBetween, studentQuantile } from '../statistics/index.ts';
import {
  blocksBetween,
  crossingEstimate,
  type Influence,
  interceptEstimate,
  type LinearEstimate,
  originEstimate,
  type Scale,
} from './classroom-influence.ts';
import { classroomRegression, type WorkedRegression } from './classroom-regression.ts';
import { firstCrossing, hottestReading } from './classroom-start.ts';
import {
  type ClassroomInput,
  type ClassroomResult,
  classroomMethods,
  type TaughtWorking,
} from './classroom-types.ts';
import { cleanBlocks } from './clean.ts';
import { at } from './segment-series.ts';
import type { ClassroomValue, Estimate } from './types.ts';

/** Error fractions about 36.8 % between which the crossing is interpolated; the wider for few blocks. */
const crossingWindows: readonly (readonly [number, number])[] = [
  [0.45, 0.3],
  [0.55, 0.24],
];
const fewestAtCrossing = 4;

/**
 * The three estimates of the classroom. Each has the value and the uncertainty that can be defended, from
 * block means, the fitted start and the noise as it is; and beside it what a class prints, from the hottest
 * reading as the start and from single readings taken as independent.
 *
 * The uncertainties are first-order (JCGM 100:2008, 5.1.2): noise w'Γw with the blocks' autocovariance,
 * ambient, drift since the ambient was read, and the start, for which the scatter of one block stands.
 */
export function classroomEstimates(input: ClassroomInput): ClassroomResult {
  const { fit, ambient, heatOff, window } = input;
  const fitted = (time: number) =>
    fit.ambient + fit.amplitude * Math.exp(-(time - fit.start) / fit.timeConstant);
  const fittedStart = fitted(heatOff);
  const step = fittedStart - ambient.value;
  const scale: Scale = {
    startTime: heatOff,
    startTemperature: fittedStart,
    ambient: ambient.value,
    ambientTime: ambient.time,
  };
  const fraction = (time: number) => (fitted(time) - ambient.value) / step;
  const chosen = blocksBetween(window, fraction, input.upper, input.lower);
  const about = crossingBlocks(input, fraction);
  const honest = [
    crossingEstimate(window, about, scale),
    originEstimate(window, chosen, scale),
    interceptEstimate(window, chosen, scale),
  ];
  const start = hottestReading(input);
  const working = start ? classroomValues(input, start) : null;
  const taught = working?.values ?? [null, null, null];
  const estimates: Estimate[] = [];
  classroomMethods.forEach((method, i) => {
    const estimate = honest[i];
    if (estimate) estimates.push(withUncertainty(input, method, estimate, taught[i] ?? null));
  });
  const againstFit = compare(input, honest, taught);
  return { estimates, start, taught: working?.taught ?? null, fittedStart, step, againstFit };
}

function crossingBlocks(input: ClassroomInput, fraction: (time: number) => number): number[] {
  let chosen: number[] = [];
  for (const [upper, lower] of crossingWindows) {
    chosen = blocksBetween(input.window, fraction, upper, lower);
    if (chosen.length >= fewestAtCrossing) break;
  }
  // A line must not be drawn out to a crossing that was never reached.
  const last = chosen.at(-1);
  return last !== undefined && fraction(at(input.window.time, last)) < Math.exp(-1) ? chosen : [];
}

/** Values as taught, in the order of the methods, and what they were made from. */
function classroomValues(
  input: ClassroomInput,
  start: { readonly time: number; readonly temperature: number },
): { values: (ClassroomValue | null)[]; taught: TaughtWorking } {
  const blocks = cleanBlocks(input.trace.blocks, { from: start.time, to: input.trial.to });
  const crossing = firstCrossing(input, start);
  const rule = {
    start,
    ambient: input.ambient.value,
    upper: input.upper,
    lower: input.lower,
    samplePeriod: input.trace.samplePeriod,
  };
  const origin = classroomRegression(blocks, { ...rule, intercept: false });
  const intercept = classroomRegression(blocks, { ...rule, intercept: true });
  return {
    values: [
      crossing === null ? null : { value: crossing - start.time, standardError: null, interval: null },
      withoutSums(origin),
      withoutSums(intercept),
    ],
    taught: {
      start,
      ambient: input.ambient.value,
      origin: origin?.sums ?? null,
      intercept: intercept?.sums ?? null,
    },
  };
}

function withoutSums(regression: WorkedRegression | null): ClassroomValue | null {
  if (regression === null) return null;
  const { value, standardError, interval } = regression;
  return { value, standardError, interval };
}

function withUncertainty(
  input: ClassroomInput,
  method: Estimate['method'],
  { value, influence }: LinearEstimate,
  classroom: ClassroomValue | null,
): Estimate {
  const start = influence.start ** 2 * input.noise.variance;
  const relative = Math.sqrt(sharedCovariance(input, influence, influence) + start);
  const half = studentQuantile(0.975, input.noiseDegrees) * relative;
  return {
    method,
    value,
    standardUncertainty: value * relative,
    interval: [value * Math.exp(-half), value * Math.exp(half)],
    classroom,
  };
}

/** Covariance of two estimates of ln tau from what they share: noise of the blocks, ambient, drift. */
function sharedCovariance(input: ClassroomInput, a: Influence, b: Influence): number {
  const steps = stepsBetween(input.window.position);
  return (
    armaCovariance(input.noise, steps, a.blocks, b.blocks) +
    a.ambient * b.ambient * input.ambient.standardUncertainty ** 2 +
    a.drift * b.drift * input.driftUncertainty ** 2
  );
}

/** ln of classroom value over fitted time constant, and the covariance of these. */
function compare(
  input: ClassroomInput,
  honest: readonly (LinearEstimate | null)[],
  taught: readonly (ClassroomValue | null)[],
): ClassroomResult['againstFit'] {
  const { fit } = input;
  const differences: Influence[] = [];
  const logRatio: number[] = [];
  for (let i = 0; i < classroomMethods.length; i++) {
    const influence = honest[i]?.influence;
    const value = taught[i]?.value;
    if (!influence || value === undefined || !(value > 0)) return null;
    logRatio.push(Math.log(value / fit.timeConstant));
    differences.push({
      blocks: influence.blocks.map((w, k) => w - at(fit.sensitivity, k)),
      ambient: influence.ambient - fit.ambientSensitivity,
      // The fit's is for a drift that is taken off, the classroom's for one that is there.
      drift: influence.drift + fit.driftSensitivity,
      start: influence.start,
    });
  }
  const reading = input.readingDeviation ** 2;
  const covariance = differences.map((a, i) =>
    differences.map((b, k) => {
      const shared = sharedCovariance(input, a, b) + a.start * b.start * reading;
      // The crossing of single readings scatters by one reading where the curve is at 36.8 %.
      const crossing = i === 0 && k === 0 ? reading * (Math.E * a.start) ** 2 : 0;
      return shared + crossing;
    }),
  );
  return { logRatio, covariance };
}
