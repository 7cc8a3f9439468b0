import { studentQuantile } from '../statistics/index.ts';
import { type Curve, type CurveProblem, fitCurve, type Prior } from './fit-curve.ts';
import { curveBand, noiseVariance, priorVariance, responseOf } from './fit-propagation.ts';
import type { DecayFit, DecayFitFailure, DecayFitInput, FitGeometry, SlowMisfit } from './fit-types.ts';
import { independentReadings, noiseFreedom, residualNoise } from './noise.ts';
import { slowWandering } from './slow.ts';
import type { ArmaNoise } from './types.ts';

/** Fewer blocks than this cannot show curve and noise both. */
export const fewestBlocks = 12;
/** Fewer independent readings than this in the window, and a noisier baseline is believed instead. */
const fewIndependent = 30;
/** Chi-square of the six slow contrasts above which their term is added (about the upper quarter). */
export const slowMisfitLimit = 7.84;
/** Larger standard uncertainties of ln tau than this are no longer described by a first-order budget. */
const largestUncertainty = 0.5;
/** Residuals smaller than this part of the temperatures are rounding. */
const rounding = 1e-13;

/**
 * Fits one exponential to block means, with what is known of ambient and drift, and says what the time
 * constant is worth. The point estimate is ordinary least squares with priors; its uncertainty takes in the
 * correlation of the noise (ARMA(1,1) by restricted maximum likelihood of the residuals), the ambient's and
 * the drift's uncertainty, and, where the residuals show it, a slow wandering. The combination is that of JCGM
 * 100:2008, equation 10, for correlated readings.
 *
 * @returns the fit, or which parameter is not determined and why
 * @throws RangeError where the input is not what it says: unequal lengths, times that do not rise on a grid of
 *   the block width, values that are not finite, an uncertainty that is not positive, a baseline that is
 *   called for and missing or summed up in other blocks
 */
export function fitDecay(input: DecayFitInput): DecayFit | DecayFitFailure {
  const positions = gridPositions(input);
  const { time, value, blockWidth, guess } = input;
  const n = time.length;
  if (n < fewestBlocks) {
    return failure(
      'too-few-blocks',
      'time constant',
      `the cooling has ${n} blocks; at least ${fewestBlocks} are needed: record longer or faster`,
    );
  }

  const start = time[0] ?? Number.NaN;
  const window = (time[n - 1] ?? Number.NaN) - start + blockWidth;
  const recorded = n * blockWidth;
  const driftOrigin = input.ambient.kind === 'baseline' ? requiredBaseline(input).midTime : start;
  // Close to the data's own level, so that nothing is lost to cancellation.
  const level = value[n - 1] ?? Number.NaN;
  const known = ambientKnowledge(input);
  if (!Number.isFinite(known.value)) throw new RangeError(`the ambient put in is ${known.value}`);
  const base: CurveProblem = {
    x: time.map((t) => t - start),
    d: time.map((t) => (t - driftOrigin) / window),
    y: value.map((v) => v - level),
    ambient: { value: 0, precision: 0 },
    drift: null,
    weightVariance: 0,
  };
  const ambient: Prior = { value: known.value - level, precision: precisionOf(known.uncertainty) };
  const drift: Prior = { value: 0, precision: precisionOf(input.driftUncertainty * window) };

  const sensible = (curve: Curve | null): curve is Curve =>
    curve !== null &&
    curve.amplitude * guess.amplitude > 0 &&
    Math.abs(curve.lnTimeConstant - Math.log(guess.timeConstant)) < Math.log(5);

  const free = fitCurve(base, guess.timeConstant);
  const ambientFree = sensible(free);
  const first = ambientFree
    ? free
    : fitCurve(
        { ...base, ambient, drift, weightVariance: 10 * differenceVariance(value) },
        guess.timeConstant,
      );
  if (first === null) return notSettled(input);

  const floor = rounding * (Math.abs(level) + Math.abs(guess.amplitude));
  const own = residualNoise(first.residual, first.jacobian, positions, blockWidth, floor);
  const noise = chooseNoise(own, recorded, input);

  const curve = fitCurve(
    { ...base, ambient, drift, weightVariance: noise.longRunVariance },
    Math.exp(first.lnTimeConstant),
  );
  if (curve === null) return notSettled(input);
  if (!(curve.amplitude * guess.amplitude > 0)) {
    return failure(
      'not-cooling',
      'amplitude',
      'the fitted excess over the ambient has the wrong sign: check the window and the ambient',
    );
  }

  const geometry: FitGeometry = {
    jacobian: curve.jacobian,
    hessian: curve.hessian,
    positions,
    weightVariance: noise.longRunVariance,
    ambientPrecision: ambient.precision,
    driftPrecision: drift.precision,
    ambientPull: ambient.value - curve.ambient,
    window,
  };
  const timeConstant = Math.exp(curve.lnTimeConstant);
  const response = responseOf(geometry, [1, 0, 0, 0]);
  const fromNoise = noiseVariance(geometry, noise, response);
  const fromPriors = priorVariance(geometry, response);
  const core = fromNoise + fromPriors.ambient + fromPriors.drift;

  const slowMisfit = judgeSlowMisfit(input, geometry, noise, curve, response.blocks);
  const fromSlow = slowMisfit?.added ? slowMisfit.contribution ** 2 : 0;
  const variance = core + fromSlow;
  const u = Math.sqrt(variance);
  if (!(u <= largestUncertainty)) return notDetermined(input, variance, fromPriors.ambient, timeConstant);

  const witnessed = recorded + (noise === own ? 0 : (input.baseline?.duration ?? 0));
  const noiseDegrees = noiseFreedom(noise, witnessed);
  const freedom = fromSlow > 0.2 * core ? Math.min(6, noiseDegrees) : noiseDegrees;
  // Welch and Satterthwaite (JCGM 100:2008, G.2b); what is not from this record is taken as well known.
  const degreesOfFreedom = freedom * (variance / (fromNoise + fromSlow)) ** 2;
  const half = studentQuantile(0.975, degreesOfFreedom) * u;

  return {
    kind: 'fit',
    timeConstant,
    lnTimeConstant: curve.lnTimeConstant,
    amplitude: curve.amplitude,
    ambient: curve.ambient + level,
    drift: curve.drift / window,
    start,
    driftOrigin,
    relativeUncertainty: u,
    standardUncertainty: timeConstant * u,
    contributions: {
      noise: Math.sqrt(fromNoise),
      ...splitAmbient(input, fromPriors.ambient),
      drift: Math.sqrt(fromPriors.drift),
      slowMisfit: Math.sqrt(fromSlow),
    },
    degreesOfFreedom,
    interval: [timeConstant * Math.exp(-half), timeConstant * Math.exp(half)],
    noise,
    noiseDegrees,
    noiseSource: noise === own ? 'cooling' : 'baseline',
    slowMisfit,
    ambientFree,
    time,
    fitted: value.map((v, i) => v - (curve.residual[i] ?? Number.NaN)),
    residual: curve.residual,
    band: curveBand(geometry, noise),
    sensitivity: response.blocks,
    ambientSensitivity: response.ambient,
    driftSensitivity: response.drift * window,
    geometry,
  };
}

function gridPositions({ time, value, blockWidth, driftUncertainty, guess }: DecayFitInput): Float64Array {
  if (time.length !== value.length) {
    throw new RangeError(`${time.length} times but ${value.length} values`);
  }
  for (const [name, number] of Object.entries({ blockWidth, driftUncertainty, ...guess })) {
    const positive = name === 'ambient' || name === 'amplitude' ? Number.isFinite(number) : number > 0;
    if (!positive || !Number.isFinite(number)) throw new RangeError(`${name} is ${number}`);
  }
  const first = time[0] ?? 0;
  const positions = new Float64Array(time.length);
  for (let i = 0; i < time.length; i++) {
    positions[i] = Math.round(((time[i] ?? Number.NaN) - first) / blockWidth);
    if (!(i === 0 || (positions[i] ?? Number.NaN) > (positions[i - 1] ?? Number.NaN))) {
      throw new RangeError(
        `block ${i} at ${time[i]} s does not lie behind the one before on a grid of ${blockWidth} s`,
      );
    }
    if (!Number.isFinite(value[i]))
      throw new RangeError(`block ${i} at ${time[i]} s has the value ${value[i]}`);
  }
  return positions;
}

function requiredBaseline(input: DecayFitInput): NonNullable<DecayFitInput['baseline']> {
  if (input.baseline === null) {
    throw new RangeError(
      'the ambient is to come from the baseline, but there is none: give it, or let it be fitted',
    );
  }
  return input.baseline;
}

/** The ambient put in and its standard uncertainty, K; infinite where nothing is known. */
function ambientKnowledge(input: DecayFitInput): { value: number; uncertainty: number } {
  switch (input.ambient.kind) {
    case 'baseline': {
      const { mean, standardUncertainty } = requiredBaseline(input);
      return { value: mean, uncertainty: Math.hypot(standardUncertainty, input.ambient.offsetUncertainty) };
    }
    case 'given':
      return { value: input.ambient.value, uncertainty: input.ambient.standardUncertainty };
    case 'fitted':
      return { value: input.guess.ambient, uncertainty: Number.POSITIVE_INFINITY };
  }
}

function precisionOf(standardUncertainty: number): number {
  if (!(standardUncertainty > 0)) {
    throw new RangeError(
      `a standard uncertainty of ${standardUncertainty} was given for ambient or drift; it must be above 0`,
    );
  }
  return 1 / standardUncertainty ** 2;
}

function differenceVariance(value: Float64Array): number {
  let sum = 0;
  let squares = 0;
  for (let i = 1; i < value.length; i++) {
    const difference = (value[i] ?? Number.NaN) - (value[i - 1] ?? Number.NaN);
    sum += difference;
    squares += difference ** 2;
  }
  const n = value.length - 1;
  return Math.max(squares / n - (sum / n) ** 2, Number.MIN_VALUE);
}

/** A short window may hide its slowest noise in the curve; a baseline that shows more is then the better witness. */
function chooseNoise(own: ArmaNoise, recorded: number, { baseline }: DecayFitInput): ArmaNoise {
  const other = baseline?.noise ?? null;
  if (other === null) return own;
  if (Math.abs(other.blockWidth / own.blockWidth - 1) > 1e-6) {
    throw new RangeError(
      `baseline noise is for blocks of ${other.blockWidth} s, the cooling has ${own.blockWidth} s: use one width`,
    );
  }
  const few = independentReadings(own, recorded) < fewIndependent;
  return few && other.longRunVariance > own.longRunVariance ? other : own;
}

function judgeSlowMisfit(
  input: DecayFitInput,
  geometry: FitGeometry,
  noise: ArmaNoise,
  curve: Curve,
  sensitivity: Float64Array,
): SlowMisfit | null {
  const start = input.time[0] ?? Number.NaN;
  const x = input.time.map((t) => (t - start) * Math.exp(-curve.lnTimeConstant));
  const found = slowWandering(geometry, noise, x, curve.amplitude, curve.residual, sensitivity);
  if (found === null) return null;
  const rule = input.slowMisfit ?? 'gated';
  return {
    chiSquare: found.chiSquare,
    contrasts: found.contrasts,
    limit: slowMisfitLimit,
    added: rule === 'always' || (rule === 'gated' && found.chiSquare > slowMisfitLimit),
    contribution: Math.sqrt(found.variance),
  };
}

function splitAmbient(
  input: DecayFitInput,
  variance: number,
): { ambientLevel: number; ambientOffset: number } {
  if (input.ambient.kind !== 'baseline') return { ambientLevel: Math.sqrt(variance), ambientOffset: 0 };
  const level = requiredBaseline(input).standardUncertainty;
  const whole = Math.hypot(level, input.ambient.offsetUncertainty);
  const u = Math.sqrt(variance);
  return { ambientLevel: (u * level) / whole, ambientOffset: (u * input.ambient.offsetUncertainty) / whole };
}

function failure(
  reason: DecayFitFailure['reason'],
  parameter: DecayFitFailure['parameter'],
  message: string,
): DecayFitFailure {
  return { kind: 'failed', reason, parameter, message };
}

function notSettled(input: DecayFitInput): DecayFitFailure {
  return failure(
    'not-settled',
    'time constant',
    `no time constant within a factor of 100 of ${input.guess.timeConstant} s fits the window of ${input.time.length} blocks: check where the cooling begins and ends`,
  );
}

function notDetermined(
  input: DecayFitInput,
  variance: number,
  ambientVariance: number,
  timeConstant: number,
): DecayFitFailure {
  const covered = (input.time.length * input.blockWidth) / timeConstant;
  const seen = `the window covers ${covered.toPrecision(2)} time constants`;
  const blame = input.ambient.kind === 'fitted' || ambientVariance > variance / 2;
  return blame
    ? failure(
        'not-determined',
        'ambient',
        `${seen} and the ambient is too poorly known to tell a slow cooling from a warm ambient: record the cooling to its end, or a baseline`,
      )
    : failure(
        'not-determined',
        'time constant',
        `${seen} and the noise hides the cooling: record longer, heat further, or lower the noise`,
      );
}
