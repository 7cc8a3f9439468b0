import type { SubmittedValue, Tolerance } from './submission.ts';

/** A value that was handed in beside the one that it should be. */
export interface Departure {
  readonly expected: number;
  /** Of the expected value, in the same unit; null where nobody knows. */
  readonly standardUncertainty: number | null;
  /** Submitted less expected, in percent of what the tolerance names, of the expected value where it names none. */
  readonly percent: number;
  /** The same in standard uncertainties; null without one. */
  readonly inUncertainties: number | null;
  /** Null where the tolerance counts in uncertainties and there is none. */
  readonly within: boolean | null;
}

/**
 * Holds a submitted value against the expected one.
 *
 * @param submitted SI, with half of its last digit
 * @param expected SI, not 0
 * @param limits standard uncertainty of the expected value, what it may be off by anyhow, both in SI, and the tolerance
 */
export function departure(
  submitted: SubmittedValue,
  expected: number,
  limits: {
    readonly uncertainty: number | null;
    readonly slack: number;
    readonly tolerance: Tolerance;
  },
): Departure {
  const { value, rounding } = submitted;
  const { uncertainty: standardUncertainty, slack, tolerance } = limits;
  const difference = value - expected;
  const of = tolerance.kind === 'percent' ? tolerance.of : 'expected';
  const whole = Math.abs(of === 'expected' ? expected : of === 'submitted' ? value : (expected + value) / 2);
  const known = standardUncertainty !== null && standardUncertainty > 0;
  const allowed =
    tolerance.kind === 'percent'
      ? (tolerance.percent / 100) * whole
      : known
        ? tolerance.factor * standardUncertainty
        : null;
  return {
    expected,
    standardUncertainty,
    percent: (100 * difference) / whole,
    inUncertainties: known ? difference / standardUncertainty : null,
    within: allowed === null ? null : Math.abs(difference) <= (allowed + rounding + slack) * (1 + 1e-9),
  };
}
