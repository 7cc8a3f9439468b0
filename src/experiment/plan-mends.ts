import { type Condition, conditionName } from './conditions.ts';
import { designUncertainty, type ExpectedNoise, fitStart } from './design-uncertainty.ts';
import type { Choices } from './plan-frame.ts';
import { timesWith } from './plan-frame.ts';
import { sessionsOf } from './plan-sessions.ts';
import type { Mend, PlannedCondition } from './plan-types.ts';
import type { Experiment } from './schema-keys.ts';
import { type SessionFrame, timeNeeded } from './timeline.ts';

/** End fractions to offer: one time constant is 0.37. */
const endFractions = [0.15, 0.2, 0.25, 0.3, 0.37] as const;

/** Savings below this are not worth a sentence, s. */
const worthSaying = 30;

/** What the mends are found from. */
export interface MendBasis {
  readonly experiment: Experiment;
  /** In run order. */
  readonly conditions: readonly PlannedCondition[];
  readonly frame: SessionFrame;
  readonly noise: ExpectedNoise;
}

/**
 * What would make all conditions fit into the session, each way by itself, with what it saves and its price. Empty
 * where they fit already, or the session has no stated length.
 */
export function mendsFor(basis: MendBasis): Mend[] {
  const { frame } = basis;
  const needed = neededWith(basis, {});
  if (frame.length === null || needed <= frame.length) return [];
  const length = frame.length;
  return [
    endFractionMend(basis, needed, length),
    repeatsMend(basis, needed, length),
    rotateMend(basis, needed, length),
    strongFlowMend(basis, needed, length),
    jetOffMend(basis, needed, length),
    benchesMend(basis, needed, length),
    longerMend(basis, needed, length),
  ].filter((mend) => mend !== null);
}

function neededWith({ experiment, conditions, frame }: MendBasis, choices: Choices, repeats = frame.repeats) {
  return timeNeeded(timesWith(experiment, conditions, choices), { ...frame, repeats });
}

function endFractionMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const now = basis.experiment.protocol['end-fraction'];
  const larger = endFractions.filter((fraction) => fraction > now);
  const chosen = larger.find((endFraction) => neededWith(basis, { endFraction }) <= length) ?? larger.at(-1);
  if (chosen === undefined) return null;
  const then = neededWith(basis, { endFraction: chosen });
  const slowest = basis.conditions.reduce<PlannedCondition | null>((most, one) => {
    return most === null || one.timeConstant.value > most.timeConstant.value ? one : most;
  }, null);
  if (slowest === null) return null;
  const before = priceOf(basis, slowest, now);
  const after = priceOf(basis, slowest, chosen);
  return {
    kind: 'end-fraction',
    fits: then <= length,
    saves: needed - then,
    message: `Stop each cooling at an error fraction of ${chosen} instead of ${now}: saves ${minutes(needed - then)}${enough(then <= length)}. The standard uncertainty of tau of ${slowest.condition.body} at ${slowest.condition.flow} goes from ${percent(before)} to ${percent(after)}.${windowWord(basis.experiment, chosen)}`,
  };
}

/** The classroom fits need their window inside the recording. */
function windowWord({ protocol }: Experiment, endFraction: number): string {
  const { to } = protocol.window;
  return to < endFraction
    ? ` The lower end of the window of the classroom fits, now ${to}, must be raised to ${endFraction} with it.`
    : '';
}

/** Relative standard uncertainty of tau when the cooling ends at a fraction. */
function priceOf({ experiment, noise }: MendBasis, one: PlannedCondition, endFraction: number): number {
  const { protocol, logger } = experiment;
  return designUncertainty({
    timeConstant: one.timeConstant.value,
    step: one.step,
    from: fitStart(endFraction),
    to: endFraction,
    rate: logger?.rate ?? one.rate,
    noise,
    resolution: 0,
    ambientOffset: protocol['ambient-offset'],
    drift: protocol.drift,
    baseline: protocol.baseline,
    heating: one.trial.heating,
    timeBase: 0,
    nonlinearity: one.chainNonlinearity,
  }).relative;
}

function repeatsMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const { repeats } = basis.frame;
  if (repeats <= 1) return null;
  const fewer = Array.from({ length: repeats - 1 }, (_, i) => repeats - 1 - i);
  const chosen = fewer.find((count) => neededWith(basis, {}, count) <= length) ?? 1;
  const then = neededWith(basis, {}, chosen);
  const price =
    chosen === 1
      ? 'Nothing then shows how well trials repeat'
      : `The scatter of the mean grows by ${percent(Math.sqrt(repeats / chosen) - 1)}`;
  return {
    kind: 'repeats',
    fits: then <= length,
    saves: needed - then,
    message: `Measure each condition ${times(chosen)} instead of ${times(repeats)}: saves ${minutes(needed - then)}${enough(then <= length)}. ${price}.`,
  };
}

function rotateMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const bodies = new Set(basis.conditions.map(({ condition }) => condition.body));
  const then = neededWith(basis, { rotate: true });
  if (bodies.size < 2 || basis.frame.repeats < 2 || needed - then < worthSaying) return null;
  return {
    kind: 'rotate',
    fits: then <= length,
    saves: needed - then,
    message: `Take the bodies in turn instead of repeating one at once: while it returns to ambient, the next is measured, and a change-over stands in place of the wait. Saves ${minutes(needed - then)}${enough(then <= length)}; flows are then set more often, which repeats should include anyway.`,
  };
}

function strongFlowMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const then = neededWith(basis, { strongFlow: true });
  if (needed - then < worthSaying) return null;
  return {
    kind: 'strong-flow',
    fits: then <= length,
    saves: needed - then,
    message: `Let bodies return to ambient in the strongest flow between trials, and set the flow back before the baseline: saves ${minutes(needed - then)}${enough(then <= length)}.`,
  };
}

function jetOffMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const { conditions, frame } = basis;
  const heating = needed - neededWith(basis, { noHeating: true });
  if (heating < worthSaying) return null;
  const longest = conditions.reduce((most, one) => Math.max(most, one.trial.heating), 0);
  const slow = conditions.filter(({ trial }) => trial.heating >= longest / 2);
  const bodies = [...new Set(slow.map(({ condition }) => condition.body))].slice(0, 4).join(', ');
  const saved = heating / 2;
  return {
    kind: 'jet-off',
    fits: needed - saved <= length,
    saves: saved,
    message: `Heat the slow bodies (${bodies}) with the jet off and open it as the heat goes off: the hot air is then not thinned. Heating takes ${minutes(heating)} of the session with ${frame.repeats} ${frame.repeats === 1 ? 'trial' : 'trials'} of each condition; halving it would save ${minutes(saved)}${enough(needed - saved <= length)}. How much it is only a trial shows; the cooling then begins a moment later, when the jet is there.`,
  };
}

function benchesMend(basis: MendBasis, needed: number, length: number): Mend | null {
  const benches = basis.experiment.benches.length;
  if (benches < 2) return null;
  const loads = shared(basis, benches);
  const then = Math.max(...loads);
  return {
    kind: 'benches',
    fits: then <= length,
    saves: needed - then,
    message: `Share the conditions among the ${benches} benches and pool the results: each then needs at most ${minutesUp(then)}${enough(then <= length)}.`,
  };
}

/** What each bench would need if the longest conditions are dealt out first, each to the bench with least to do. */
function shared(basis: MendBasis, benches: number): number[] {
  const loads = new Array<number>(benches).fill(0);
  const bench = new Map<PlannedCondition, number>();
  for (const one of [...basis.conditions].sort((a, b) => b.trialTime - a.trialTime)) {
    const least = loads.indexOf(Math.min(...loads));
    loads[least] = (loads[least] ?? 0) + one.trialTime;
    bench.set(one, least);
  }
  return loads.map((_, place) => {
    return neededWith(
      { ...basis, conditions: basis.conditions.filter((one) => bench.get(one) === place) },
      {},
    );
  });
}

function longerMend({ experiment, conditions, frame }: MendBasis, needed: number, length: number): Mend {
  const { held, tooLong } = sessionsOf(timesWith(experiment, conditions, {}), frame);
  const sessions = held
    .slice(0, mostListed)
    .map((own, i) => `${i + 1}: ${listed(own)}`)
    .join('; ');
  const more = held.length > mostListed ? '; and so on' : '';
  const hold =
    held.length === 0
      ? ''
      : ` Hold ${held.length} ${held.length === 1 ? 'session' : 'sessions'} of ${minutes(length)} (${sessions}${more}), or leave conditions out.`;
  const alone =
    tooLong.length === 0
      ? ''
      : ` ${listed(tooLong)} ${tooLong.length === 1 ? 'does' : 'do'} not fit into a session even alone.`;
  return {
    kind: 'longer',
    fits: tooLong.length === 0,
    saves: 0,
    message: `Everything as it is needs ${minutesUp(needed)}, ${minutesUp(needed - length)} more than there is.${hold}${alone}`,
  };
}

/** Most sessions, and conditions of one, that a sentence lists. */
const mostListed = 8;

function listed(conditions: readonly Condition[]): string {
  const more = conditions.length - mostListed;
  return `${conditions.slice(0, mostListed).map(conditionName).join(', ')}${more > 0 ? ` and ${more} more` : ''}`;
}

function enough(fits: boolean): string {
  return fits ? ', and everything fits' : ', which alone is not enough';
}

function times(count: number): string {
  return count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`;
}

function minutes(seconds: number): string {
  const whole = seconds / 60;
  return `${whole < 10 ? Number(whole.toFixed(1)) : whole.toFixed(0)} min`;
}

/** What has to fit is rounded up: rounded down it would seem to. */
function minutesUp(seconds: number): string {
  const value = seconds / 60;
  return `${value < 10 ? Number((Math.ceil(10 * value - 1e-6) / 10).toFixed(1)) : Math.ceil(value - 1e-6)} min`;
}

function percent(part: number): string {
  if (!Number.isFinite(part)) return 'no bound';
  return `${Number((100 * part).toPrecision(2))} %`;
}
