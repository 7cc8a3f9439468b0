import { normalisedError } from './agreement-scores.ts';
import { agreementSentence } from './agreement-sentence.ts';
import type { Agreement, AgreementVerdict } from './agreement-types.ts';
import { coverageFactor, type Interval, usualCoverage } from './coverage.ts';

/** A value with an uncertainty that is added to it. */
export interface UncertainValue {
  readonly value: number;
  /** In the unit of the value, at least 0. */
  readonly standardUncertainty: number;
  /** > 0. Default Infinity. */
  readonly degreesOfFreedom?: number;
}

/** A value above 0 with an uncertainty that multiplies it. */
export interface LogUncertainValue {
  readonly value: number;
  /** Of the natural logarithm of the value, at least 0. */
  readonly logStandardUncertainty: number;
  /** > 0. Default Infinity. */
  readonly degreesOfFreedom?: number;
}

/** How two values are compared. */
export interface AgreementOptions {
  /** Smallest relative difference from the reference that would matter, > 0. Default 0.1. */
  readonly practical?: number;
  /** Probability of the expanded uncertainties, between 0 and 1. Default 0.95. */
  readonly coverage?: number;
  /** What the two are called in the sentence, as in `the measured value`. */
  readonly names?: readonly [string, string];
  /** Unit symbol of the values. */
  readonly unit?: string;
}

/**
 * Compares a value with a reference by their normalised error, and says whether the comparison could have failed.
 * Large uncertainties make |En| ≤ 1 easy to reach: such agreement is no evidence where the smallest difference that
 * would have shown is larger than one that matters (the third verdict is common practice, no source). The two must
 * be independent. The interval of the ratio is that of Fieller (1954); it holds 1 just when |En| ≤ 1.
 *
 * A value or uncertainty that is not known leaves everything too weak to tell; so does a reference of 0 with an
 * uncertainty, since no difference is small beside it.
 *
 * @param value with its standard uncertainty
 * @param reference to compare with, same unit
 * @throws RangeError for options that cannot be used
 */
export function agreement(
  value: UncertainValue,
  reference: UncertainValue,
  options: AgreementOptions = {},
): Agreement {
  const { practical, coverage } = checkedOptions(options);
  const expanded = expandedOf(value.standardUncertainty, value.degreesOfFreedom, coverage);
  const referenceExpanded = expandedOf(reference.standardUncertainty, reference.degreesOfFreedom, coverage);
  const [a, b] = [known(value.value), known(reference.value)];
  const together = Math.hypot(expanded, referenceExpanded);
  const reach = together === 0 ? 0 : together / Math.abs(b);
  return concluded(
    {
      scale: 'plain',
      difference: a - b,
      ratio: a / b,
      ratioInterval: fiellerInterval(a, expanded, b, referenceExpanded),
      normalisedError: normalisedError(a, expanded, b, referenceExpanded),
      expandedUncertainty: together,
      smallestSeen: { above: reach, below: reach },
      practical,
      coverage,
    },
    b,
    options,
  );
}

/**
 * The same for values whose uncertainties multiply, such as a prediction that is known to within a factor:
 * everything is compared in the logarithm, and ±30 % of a divisor becomes -23 % and +43 %.
 *
 * @param value > 0, with the standard uncertainty of its logarithm
 * @param reference > 0, to compare with, same unit
 * @throws RangeError for options that cannot be used
 */
export function logAgreement(
  value: LogUncertainValue,
  reference: LogUncertainValue,
  options: AgreementOptions = {},
): Agreement {
  const { practical, coverage } = checkedOptions(options);
  const expanded = expandedOf(value.logStandardUncertainty, value.degreesOfFreedom, coverage);
  const referenceExpanded = expandedOf(
    reference.logStandardUncertainty,
    reference.degreesOfFreedom,
    coverage,
  );
  const [a, b] = [logarithmOf(value.value), logarithmOf(reference.value)];
  const together = Math.hypot(expanded, referenceExpanded);
  return concluded(
    {
      scale: 'log',
      difference: value.value - reference.value,
      ratio: value.value / reference.value,
      ratioInterval: [Math.exp(a - b - together), Math.exp(a - b + together)],
      normalisedError: normalisedError(a, expanded, b, referenceExpanded),
      expandedUncertainty: together,
      smallestSeen: { above: Math.expm1(together), below: -Math.expm1(-together) },
      practical,
      coverage,
    },
    reference.value,
    options,
  );
}

function checkedOptions(options: AgreementOptions): { practical: number; coverage: number } {
  const { practical = 0.1, coverage = usualCoverage } = options;
  if (!(practical > 0 && Number.isFinite(practical))) {
    throw new RangeError(`The difference that matters is ${practical}: give a number above 0, such as 0.1.`);
  }
  if (!(coverage > 0 && coverage < 1)) {
    throw new RangeError(`The coverage is ${coverage}: give a probability between 0 and 1.`);
  }
  return { practical, coverage };
}

/** NaN for what is no standard uncertainty, or one without bound. */
function expandedOf(u: number, nu: number | undefined, coverage: number): number {
  if (!(u >= 0 && Number.isFinite(u))) return Number.NaN;
  return u === 0 ? 0 : coverageFactor(nu ?? Number.POSITIVE_INFINITY, coverage) * u;
}

function known(value: number): number {
  return Number.isFinite(value) ? value : Number.NaN;
}

function logarithmOf(value: number): number {
  return value > 0 && Number.isFinite(value) ? Math.log(value) : Number.NaN;
}

/** All ratios ρ for which a and ρb agree: (a - ρb)² ≤ A² + ρ²B². */
function fiellerInterval(a: number, expandedA: number, b: number, expandedB: number): Interval {
  const open = expandedB >= Math.abs(b);
  if (open) return [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];
  const rest = (b - expandedB) * (b + expandedB);
  const root = Math.sqrt((a * expandedB) ** 2 + expandedA ** 2 * rest);
  return [(a * b - root) / rest, (a * b + root) / rest];
}

function concluded(
  found: Omit<Agreement, 'verdict' | 'sentence'>,
  reference: number,
  options: AgreementOptions,
): Agreement {
  const verdict = verdictOn(found);
  const { names = ['the value', 'the reference'], unit = '' } = options;
  return { ...found, verdict, sentence: agreementSentence({ ...found, verdict }, reference, names, unit) };
}

function verdictOn(found: Omit<Agreement, 'verdict' | 'sentence'>): AgreementVerdict {
  if (Math.abs(found.normalisedError) > 1) return 'disagree';
  // Also where anything is not known.
  if (!(Math.abs(found.normalisedError) <= 1)) return 'too-weak-to-tell';
  return found.smallestSeen.above <= found.practical ? 'agree' : 'too-weak-to-tell';
}
