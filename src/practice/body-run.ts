import type { SimulatedBody } from './bench-types.ts';
import type { AirSegment, Disturbances } from './body-air.ts';
import { type BodyChain, finParameter, iceKelvin, stefanBoltzmann } from './body-chain.ts';
import type { Curve } from './body-curve.ts';
import { type BodyState, junctionSlope, middlePoint, type Stepper } from './body-step.ts';

/** A body ready to be followed. */
export interface BodyModel {
  readonly body: SimulatedBody;
  readonly chain: BodyChain;
  readonly stepper: Stepper;
}

/** How fine the steps are. */
export interface StepRule {
  /** Steps within the shortest time constant of the body as a whole. */
  readonly perTimeConstant: number;
  /** Longest step over the time since the last jump: whatever settles then, quick or slow, is followed alike. */
  readonly growth: number;
}

/** Error of a temperature about 4e-6 of the step from the first, 4e-5 of a quickly settling part from the second. */
export const usualSteps: StepRule = { perTimeConstant: 100, growth: 0.05 };

/** First step after a jump, over the longest while the body settles. */
const firstStep = 1 / 200;
/** Longest step over the length of all that is followed. */
const longestShare = 1 / 100;
/** Time constants after which a body has settled to 5e-5, and steps may grow again if nothing else happens. */
const settledAfter = 10;
/** Longest step of a body that is driven by chance, over its time constant. */
const drivenShare = 1 / 10;
/** More steps than this are a slip in a number of the trial. */
const mostSteps = 1_000_000;

/** Heat that the body loses for each kelvin at coefficients, W/K; radiation at a surface temperature, °C. */
function lossPerKelvin(model: BodyModel, segment: AirSegment, surface: number): number {
  const { body, chain } = model;
  const radiation = 4 * chain.emissivity * stefanBoltzmann * (surface + iceKelvin) ** 3;
  const stems = body.stems.reduce((sum, stem) => {
    const m = finParameter(stem, segment.stemFactor);
    const section = (Math.PI * stem.diameter ** 2) / 4;
    return sum + stem.conductivity * section * m * Math.tanh(m * stem.length);
  }, 0);
  return chain.area * (segment.coefficient + radiation) + stems;
}

/** How long steps may be in a segment, s. */
interface StepLimits {
  readonly timeConstant: number;
  /** While the body settles. */
  readonly settling: number;
  /** Ever. */
  readonly longest: number;
}

function stepLimits(
  model: BodyModel,
  segment: AirSegment,
  hottest: number,
  disturbances: Disturbances,
  rule: StepRule,
  span: number,
): StepLimits {
  const { body } = model;
  const capacity = (body.density * body.specificHeat * Math.PI * body.diameter ** 3) / 6;
  const timeConstant = capacity / lossPerKelvin(model, segment, hottest);
  const chance = disturbances.longestStep(segment);
  const followed = Number.isFinite(chance) ? Math.min(chance, timeConstant * drivenShare) : chance;
  const longest = Math.min(followed, span * longestShare);
  return { timeConstant, settling: Math.min(longest, timeConstant / rule.perTimeConstant), longest };
}

/** Step at a time since the last jump, s. */
function stepAt(limits: StepLimits, rule: StepRule, since: number): number {
  const starting = Math.max(limits.settling * firstStep, rule.growth * since);
  if (starting < limits.settling) return starting;
  const settled = (rule.growth / 2) * (since - settledAfter * limits.timeConstant);
  return Math.min(limits.longest, Math.max(limits.settling, settled));
}

/** About how many steps a segment takes. */
function stepsOf(limits: StepLimits, segment: AirSegment): number {
  const length = segment.to - segment.from;
  return Math.min(length, settledAfter * limits.timeConstant) / limits.settling + length / limits.longest;
}

/** What of a run is known at its end. */
export interface RunSummary {
  /** Largest temperature of the middle, °C. */
  readonly peak: number;
}

/**
 * Follows a body through segments of air, and adds the junction's temperature at each step to a curve. The steps grow
 * with the time since the last jump, up to a share of the body's time constant until it has settled, and of the
 * correlation times; they depend on the trial alone. The adhesive gives way at the end of the step in which the middle passes the temperature.
 *
 * @param state at the start; changed to that at the end
 * @param until stops early once the junction is colder, °C
 * @throws RangeError where the trial would take millions of steps
 */
export function followAir(
  model: BodyModel,
  state: BodyState,
  segments: readonly AirSegment[],
  disturbances: Disturbances,
  curve: Curve,
  rule: StepRule = usualSteps,
  until = Number.NEGATIVE_INFINITY,
): RunSummary {
  const { body, chain, stepper } = model;
  const span = (segments.at(-1)?.to ?? 0) - (segments[0]?.from ?? 0);
  const hottest = Math.max(state.temperatures[0] ?? 0, ...segments.map((s) => s.level + s.excess.end));
  let peak = state.temperatures[0] ?? Number.NaN;
  let steps = 0;
  for (const segment of segments) {
    const limits = stepLimits(model, segment, hottest, disturbances, rule, span);
    steps += stepsOf(limits, segment);
    if (!(steps <= mostSteps)) {
      throw new RangeError(
        `a trial of ${span} s takes steps of ${limits.settling.toPrecision(3)} s, more than ${mostSteps} of them: give the ` +
          'body more mass, the fluctuations a longer correlation time, or the recording less time',
      );
    }
    curve.push(segment.from, state.junction, junctionSlope(chain, state));
    let time = segment.from;
    while (time < segment.to) {
      const left = segment.to - time;
      const wanted = stepAt(limits, rule, time - segment.from);
      const step = left <= wanted ? left : Math.min(wanted, left / 2);
      const end = left <= wanted ? segment.to : time + step;
      disturbances.goOn(segment, step);
      stepper.advance(
        state,
        step,
        disturbances.at(segment, time, 0),
        disturbances.at(segment, time + middlePoint * step, middlePoint),
        disturbances.at(segment, end, 1),
      );
      time = end;
      const centre = state.temperatures[0] ?? Number.NaN;
      if (centre > peak) peak = centre;
      curve.push(time, state.junction, junctionSlope(chain, state));
      if (body.melting !== null && !state.melted && centre > body.melting.above) {
        state.melted = true;
        state.lag = body.melting.lag;
        if (state.lag === 0) state.junction = centre;
        curve.push(time, state.junction, junctionSlope(chain, state));
      }
      if (state.junction < until) return { peak };
    }
  }
  return { peak };
}
