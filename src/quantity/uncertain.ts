/**
 * What is believed about a quantity, beside its value and standard uncertainty (JCGM 101:2008, 6.4). The first
 * order needs only value and uncertainty; the distribution shapes the Monte Carlo draws.
 */
export type Distribution = 'normal' | 'rectangular' | 'triangular' | 'arcsine' | 'lognormal' | 't';

/** One uncertain quantity that a model takes in. */
export interface Input {
  /** Unique among the inputs of a model. */
  readonly name: string;
  /** Best estimate: the mean of the distribution (for `t` its centre). */
  readonly value: number;
  /**
   * Standard deviation of the distribution, in the unit of the value, at least 0. For `t` its scale, s/√n, as in
   * an evaluation from repeated readings: the draws scatter more (JCGM 101:2008, 6.4.9).
   */
  readonly standardUncertainty: number;
  /** Degrees of freedom of the standard uncertainty, > 0. Default Infinity; `t` needs a finite number. */
  readonly degreesOfFreedom?: number;
  /** Default `normal`. `lognormal` needs a value above 0. */
  readonly distribution?: Distribution;
  /** Unit symbol for the budget; '' or '1' for a plain ratio. */
  readonly unit: string;
}

/** How two inputs vary together. Pairs that are not named are independent. */
export interface Correlation {
  readonly between: readonly [string, string];
  /** Correlation coefficient, -1 to 1. */
  readonly coefficient: number;
}

/** The values of a list of inputs, in its order. Inputs written out as a list give a tuple of known length. */
export type Values<Inputs extends readonly Input[]> = { readonly [Place in keyof Inputs]: number };

/**
 * A measurement model: the output from the values of the inputs, in their order. It must not keep or change the
 * array that it is given, which is used again.
 */
export type Model<Inputs extends readonly Input[]> = (values: Values<Inputs>) => number;

/** A model with several outputs, always as many and in the same order. */
export type ModelOfMany<Inputs extends readonly Input[]> = (values: Values<Inputs>) => readonly number[];

/** Half-width of a bounded distribution over its standard deviation. */
export const halfWidthRatio = {
  rectangular: Math.sqrt(3),
  triangular: Math.sqrt(6),
  arcsine: Math.SQRT2,
} as const;

/**
 * Standard uncertainty of a quantity that is known to lie within ± a half-width (JCGM 100:2008, 4.3.7 and 4.3.9;
 * arcsine: JCGM 101:2008, 6.4.6.4).
 *
 * @param halfWidth in any unit, at least 0
 * @param distribution `rectangular` where nothing else is known, as for a resolution; `triangular` where the
 *   middle is likelier; `arcsine` for a quantity that swings to and fro
 * @returns in the unit of the half-width
 */
export function standardUncertaintyWithin(
  halfWidth: number,
  distribution: keyof typeof halfWidthRatio = 'rectangular',
): number {
  return halfWidth / halfWidthRatio[distribution];
}

/** Degrees of freedom of an input, Infinity where none are given. */
export function degreesOfFreedomOf(input: Input): number {
  return input.degreesOfFreedom ?? Number.POSITIVE_INFINITY;
}

/**
 * Refuses inputs that no propagation can use.
 *
 * @throws RangeError that names the input, what it has and what is allowed
 */
export function checkInputs(inputs: readonly Input[]): void {
  const names = new Set<string>();
  for (const input of inputs) {
    const refuse = (what: string, mend: string): never => {
      throw new RangeError(`Input "${input.name}" ${what}: ${mend}.`);
    };
    if (names.has(input.name)) refuse('is there twice', 'give every input a name of its own');
    names.add(input.name);
    const { value, standardUncertainty: u } = input;
    const nu = degreesOfFreedomOf(input);
    if (!Number.isFinite(value)) refuse(`has the value ${value}`, 'give a finite number');
    if (!(u >= 0 && Number.isFinite(u))) {
      refuse(`has the standard uncertainty ${u}`, 'give a finite number of at least 0');
    }
    if (!(nu > 0)) refuse(`has ${nu} degrees of freedom`, 'give a number above 0, or Infinity');
    if (input.distribution === 'lognormal' && !(value > 0)) {
      refuse(`is lognormal with the value ${value}`, 'give a value above 0');
    }
    if (input.distribution === 't' && !Number.isFinite(nu)) {
      refuse(
        'has a t distribution without degrees of freedom',
        'give their number, or the normal distribution',
      );
    }
  }
}
