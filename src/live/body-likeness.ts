import type { Prediction } from '../prediction/index.ts';
import { coverageFactor, type Interval, usualCoverage } from '../quantity/index.ts';
import { choleskyFactor, choleskySolve } from '../statistics/index.ts';

/** What one standard uncertainty of a cause moves ln tau by. Causes of one name are one and the same cause. */
export interface CauseEffect {
  readonly cause: string;
  readonly effect: number;
}

/** A body in a flow, with the time constant to expect before anything was measured. */
export interface BodyCandidate {
  readonly body: string;
  readonly flow: string;
  /** s, > 0. */
  readonly predicted: number;
  readonly causes: readonly CauseEffect[];
}

/** A time constant that was measured before, of a body that was taken for the named one. */
export interface EarlierRun {
  /** The condition that it was of. */
  readonly candidate: BodyCandidate;
  /** Code of the bench; null where there is only one. */
  readonly bench: string | null;
  /** s, > 0. */
  readonly timeConstant: number;
  /** Standard uncertainty of ln tau. */
  readonly relative: number;
}

/** A time constant in s with the standard uncertainty of its logarithm. */
export interface MeasuredLog {
  readonly value: number;
  readonly relative: number;
}

/** What a body would show on this bench, after what was measured before. */
export interface ExpectedBody {
  readonly body: string;
  readonly flow: string;
  /** s */
  readonly expected: number;
  /** Standard uncertainty of ln tau of one trial, without the noise of its own readings. */
  readonly relative: number;
  /** What a trial would show with a probability of 95 %, s. */
  readonly interval: Interval;
  /** Earlier runs of this very body in this flow. */
  readonly runs: number;
}

/** How well a measured time constant goes with a body. */
export interface BodyLikeness extends ExpectedBody {
  /** ln tau less the expected one, in standard uncertainties of the difference. */
  readonly score: number;
  /** Natural logarithm of the likelihood. */
  readonly logLikelihood: number;
  /** Part of the likelihood of all bodies; 1 where there is one. */
  readonly share: number;
}

/** Standard deviations of ln tau from trial to trial and from bench to bench (common practice, no source). */
const trialScatter = 0.02;
const benchScatter = 0.03;
/**
 * A correlation is off by much the same for all bodies of a rig, but not quite: this part of its standard uncertainty
 * is each body's own (common practice, no source).
 */
const ownOfCorrelation = 1 / 3;
/** The latest runs say what the others say, and the matrices stay small. */
const mostRuns = 40;

/** Inputs that belong to a body. What the material gives is alike for all bodies of it. */
const ofTheBody: ReadonlySet<string> = new Set(['diameter', 'mass', 'emissivity']);
const ofTheMaterial: ReadonlySet<string> = new Set(['density', 'specificHeat', 'conductivity']);

/**
 * A candidate from its prediction: what goes with the jet, the meter and the room is one cause for all bodies, what
 * goes with the material one for all of it, the rest the body's own.
 *
 * @param material name of what it is made of
 */
export function bodyCandidate(
  body: string,
  flow: string,
  material: string,
  { timeConstant, budget }: Pick<Prediction, 'timeConstant' | 'budget'>,
): BodyCandidate {
  const causes = budget.flatMap(({ input, sensitivity, standardUncertainty }) => {
    const effect = (sensitivity * standardUncertainty) / timeConstant.value;
    if (!(Math.abs(effect) > 0) || !Number.isFinite(effect)) return [];
    if (ofTheBody.has(input)) return [{ cause: `${input} of ${body}`, effect }];
    if (ofTheMaterial.has(input)) return [{ cause: `${input} of ${material}`, effect }];
    if (input !== 'nusseltFactor') return [{ cause: input, effect }];
    return [
      { cause: input, effect: effect * Math.sqrt(1 - ownOfCorrelation ** 2) },
      { cause: `${input} of ${body}`, effect: effect * ownOfCorrelation },
    ];
  });
  return { body, flow, predicted: timeConstant.value, causes };
}

/**
 * What each candidate would show on a bench: a normal distribution of ln tau with the covariances of the predictions,
 * conditioned on the runs that were made before. The rig's own heat transfer, which a correlation may miss by a
 * seventh, drops out as soon as one body has been measured; what remains is what sets bodies apart.
 *
 * @param candidates bodies that may be in the jet
 * @param bench that the trial is made on; null where there is only one
 * @param earlier runs in any condition of the rig
 */
export function expectedBodies(
  candidates: readonly BodyCandidate[],
  bench: string | null,
  earlier: readonly EarlierRun[],
): ExpectedBody[] {
  const runs = earlier.filter(isUsable).slice(-mostRuns);
  const known = runs.map(({ candidate, bench: where }) => causesOn(candidate, where));
  const n = runs.length;
  const matrix = new Float64Array(n * n);
  known.forEach((a, i) => {
    known.forEach((b, j) => {
      matrix[i * n + j] = covariance(a, b);
    });
    matrix[i * n + i] = (matrix[i * n + i] ?? 0) + trialScatter ** 2 + (runs[i]?.relative ?? 0) ** 2;
  });
  const conditioned = n > 0 && choleskyFactor(matrix, n);
  const departures = Float64Array.from(runs, (run) => Math.log(run.timeConstant / run.candidate.predicted));
  if (conditioned) choleskySolve(matrix, n, departures);
  return candidates
    .filter(({ predicted }) => predicted > 0 && Number.isFinite(predicted))
    .map((candidate) => {
      const own = causesOn(candidate, bench);
      const beside = Float64Array.from(known, (causes) => covariance(own, causes));
      let shift = 0;
      let variance = covariance(own, own);
      if (conditioned) {
        const weights = Float64Array.from(beside);
        choleskySolve(matrix, n, weights);
        beside.forEach((c, i) => {
          shift += c * (departures[i] ?? 0);
          variance -= c * (weights[i] ?? 0);
        });
      }
      const expected = candidate.predicted * Math.exp(shift);
      const relative = Math.sqrt(Math.max(0, variance) + trialScatter ** 2);
      const factor = Math.exp(coverageFactor(Number.POSITIVE_INFINITY, usualCoverage) * relative);
      const same = (run: EarlierRun) =>
        run.candidate.body === candidate.body && run.candidate.flow === candidate.flow;
      return {
        body: candidate.body,
        flow: candidate.flow,
        expected,
        relative,
        interval: [expected / factor, expected * factor],
        runs: runs.filter(same).length,
      };
    });
}

/**
 * Which body a time constant looks like.
 *
 * @param measured s, with the standard uncertainty of ln tau from its own readings
 * @param bodies what each would show
 * @returns the likeliest first; empty where the value is no time constant
 */
export function bodyLikeness(measured: MeasuredLog, bodies: readonly ExpectedBody[]): BodyLikeness[] {
  if (
    !(
      measured.value > 0 &&
      measured.relative >= 0 &&
      Number.isFinite(measured.value) &&
      Number.isFinite(measured.relative)
    )
  ) {
    return [];
  }
  const scored = bodies.map((body) => {
    const deviation = Math.hypot(body.relative, measured.relative);
    const score = Math.log(measured.value / body.expected) / deviation;
    return {
      ...body,
      score,
      logLikelihood: -(score ** 2) / 2 - Math.log(deviation * Math.sqrt(2 * Math.PI)),
    };
  });
  const best = Math.max(...scored.map(({ logLikelihood }) => logLikelihood));
  const total = scored.reduce((sum, { logLikelihood }) => sum + Math.exp(logLikelihood - best), 0);
  return scored
    .map((body) => ({ ...body, share: Math.exp(body.logLikelihood - best) / total }))
    .sort((a, b) => b.logLikelihood - a.logLikelihood);
}

function isUsable({ timeConstant, relative, candidate }: EarlierRun): boolean {
  const positive = [timeConstant, candidate.predicted].every((value) => value > 0 && Number.isFinite(value));
  return positive && relative >= 0 && Number.isFinite(relative);
}

function causesOn({ causes }: BodyCandidate, bench: string | null): ReadonlyMap<string, number> {
  const effects = new Map<string, number>();
  for (const { cause, effect } of causes) effects.set(cause, (effects.get(cause) ?? 0) + effect);
  effects.set(`bench ${bench ?? ''}`, benchScatter);
  return effects;
}

function covariance(a: ReadonlyMap<string, number>, b: ReadonlyMap<string, number>): number {
  let sum = 0;
  for (const [cause, effect] of a) sum += effect * (b.get(cause) ?? 0);
  return sum;
}
