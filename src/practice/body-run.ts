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

/** First step after a jump, over the longest. */
const firstStep = 1 / 200;
/** Longest step over the length of all that is followed. */
const longestShare = 1 / 100;
/** More steps than this are a slip in a number of the trial. */
const mostSteps = 3_000_000;

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

/** Longest step in a segment, s. */
function longestStep(
  model: BodyModel,
  segment: AirSegment,
  hottest: number,
  disturbances: Disturbances,
  rule: StepRule,
  span: number,
): number {
  const { body } = model;
  const capacity = (body.density * body.specificHeat * Math.PI * body.diameter ** 3) / 6;
  const timeConstant = capacity / lossPerKelvin(model, segment, hottest);
  return Math.min(
    timeConstant / rule.perTimeConstant,
    disturbances.longestStep(segment),
    span * longestShare,
  );
}

/** What of a run is known at its end. */
export interface RunSummary {
  /** Largest temperature of the middle, °C. */
  readonly peak: number;
}

/**
 * Follows a body through segments of air, and adds the junction's temperature at each step to a curve. The steps grow
 * with the time since the last jump, up to a share of the body's time constant and of the correlation times; they
 * depend on the trial alone. The adhesive gives way at the end of the step in which the middle passes the temperature.
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
    const longest = longestStep(model, segment, hottest, disturbances, rule, span);
    steps += (segment.to - segment.from) / longest;
    if (!(steps <= mostSteps)) {
      throw new RangeError(
        `a trial of ${span} s takes steps of ${longest.toPrecision(3)} s, more than ${mostSteps} of them: give the body ` +
          'more mass, the fluctuations a longer correlation time, or the recording less time',
      );
    }
    curve.push(segment.from, state.junction, junctionSlope(chain, state));
    let time = segment.from;
    while (time < segment.to) {
      const left = segment.to - time;
      const wanted = Math.min(longest, Math.max(longest * firstStep, rule.growth * (time - segment.from)));
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
