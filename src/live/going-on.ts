import { designUncertainty } from '../experiment/index.ts';

/** A cooling as it stands, with what came before it. Times in s, differences in K. */
export interface GoingOnFacts {
  readonly timeConstant: number;
  /** Body over ambient when the heat went off. */
  readonly step: number;
  readonly errorFraction: number;
  /** Noise of a reading's mean over a block, and its correlation time. */
  readonly noise: {
    readonly variance: number;
    readonly correlationTime: number;
    readonly blockWidth: number;
  };
  readonly ambientOffset: number;
  /** K/s */
  readonly drift: number;
  readonly baseline: number;
  readonly heating: number;
  /** What the trial has taken so far. */
  readonly spent: number;
}

/** Error fraction that a fit begins at. */
const fitFrom = 0.9;
/**
 * The gain is looked at over these lengths, in time constants. A short one alone would not do: where the cooling tells
 * the ambient no better than the baseline did, the gain nearly stops, and comes back when it tells more.
 */
const lengthsAhead = [0.1, 0.25, 0.5, 1, 1.5, 2, 3, 4];

/**
 * What going on gains at best against what the same time gains when it is spent on another repeat: 1/u² of the time
 * constant grows by a part with the cooling, and by all of it with a repeat that takes as long as this trial did.
 * Uncertainties are those of `designUncertainty` with the noise that was found.
 *
 * @returns above 1 where going on for some time is worth it, 0 where it gains nothing; NaN where it cannot be said
 */
export function worthOfGoingOn(facts: GoingOnFacts): number {
  const { timeConstant, step, errorFraction, noise } = facts;
  if (!(errorFraction > 0 && errorFraction < fitFrom) || !(timeConstant > 0)) return Number.NaN;
  const correlated = noise.correlationTime > 0;
  const deviation = Math.sqrt(noise.variance);
  const uncertaintyAt = (to: number) =>
    designUncertainty({
      timeConstant,
      step: Math.abs(step),
      from: fitFrom,
      to,
      rate: 1 / noise.blockWidth,
      noise: {
        white: correlated ? 0 : deviation,
        correlated: correlated ? deviation : 0,
        correlationTime: correlated ? noise.correlationTime : 0,
      },
      resolution: 0,
      ambientOffset: facts.ambientOffset,
      drift: facts.drift,
      baseline: facts.baseline,
      heating: facts.heating,
      timeBase: 0,
      nonlinearity: 0,
    }).relative;
  const now = uncertaintyAt(errorFraction);
  const worths = lengthsAhead.map((ahead) => {
    const gained = (now / uncertaintyAt(errorFraction * Math.exp(-ahead))) ** 2 - 1;
    return (gained / (ahead * timeConstant)) * facts.spent;
  });
  return Math.max(...worths);
}
