import {
  type AgreementVerdict,
  formatSignificant,
  type Interval,
  normalisedError,
  type RelativeReach,
} from '../quantity/index.ts';

/** A time constant with its interval, s. */
interface TimeConstantWithin {
  readonly value: number;
  readonly interval: Interval;
}

/** Two time constants, compared by their rates. */
export interface RateAgreement {
  /** The scale of the normalised error: 1/tau. */
  readonly scale: 'rate';
  /** Positive where the measured time constant is the longer; |En| ≤ 1 where the uncertainties explain it. */
  readonly normalisedError: number;
  readonly verdict: AgreementVerdict;
  /** Smallest differences of tau that would have shown, as parts of the prediction; above, Infinity for none. */
  readonly smallestSeen: RelativeReach;
  readonly sentence: string;
}

/**
 * Compares time constants on the scale of the rate 1/tau, on which the interval of a prediction is symmetric, so that
 * the verdict is the one that can be read from the interval. The normalised error (ISO 13528:2022, 9.7) takes of each
 * interval the side that faces the other value: with nothing uncertain in the measurement, |En| > 1 just where it lies
 * outside the predicted interval.
 *
 * @param measured s, > 0; the interval holds the value
 * @param predicted s, > 0; the upper end may be Infinity
 * @param practical relative difference of tau that would matter, > 0
 */
export function rateAgreement(
  measured: TimeConstantWithin,
  predicted: TimeConstantWithin,
  practical: number,
): RateAgreement {
  const longer = measured.value >= predicted.value;
  const [a, b] = [rateOf(measured.value), rateOf(predicted.value)];
  // A measured time constant that is longer than the predicted one faces it with its lower end.
  const whereLonger = [side(measured, 0), side(predicted, 1)] as const;
  const whereShorter = [side(measured, 1), side(predicted, 0)] as const;
  const [own, reference] = longer ? whereLonger : whereShorter;
  const found = -normalisedError(a, own, b, reference);
  const slowest = b - Math.hypot(...whereLonger);
  const smallestSeen = {
    above: slowest > 0 ? b / slowest - 1 : Number.POSITIVE_INFINITY,
    below: 1 - b / (b + Math.hypot(...whereShorter)),
  };
  const verdict = verdictOf(found, smallestSeen, practical);
  const difference = (measured.value - predicted.value) / predicted.value;
  return {
    scale: 'rate',
    normalisedError: found,
    verdict,
    smallestSeen,
    sentence: Number.isNaN(found)
      ? 'The measured time constant and the predicted one cannot be compared: both need a known value above 0 and a known uncertainty.'
      : sentenceOf({ difference, normalisedError: found, verdict, smallestSeen, practical }),
  };
}

function rateOf(timeConstant: number): number {
  return timeConstant > 0 && Number.isFinite(timeConstant) ? 1 / timeConstant : Number.NaN;
}

/** How far the rate reaches to one end of the interval of tau, 1/s. */
function side({ value, interval }: TimeConstantWithin, end: 0 | 1): number {
  return Math.abs(1 / interval[end] - 1 / value);
}

function verdictOf(found: number, smallestSeen: RelativeReach, practical: number): AgreementVerdict {
  if (Math.abs(found) > 1) return 'disagree';
  // Also where anything is not known.
  if (!(Math.abs(found) <= 1)) return 'too-weak-to-tell';
  return smallestSeen.above <= practical ? 'agree' : 'too-weak-to-tell';
}

interface Said {
  readonly difference: number;
  readonly normalisedError: number;
  readonly verdict: AgreementVerdict;
  readonly smallestSeen: RelativeReach;
  readonly practical: number;
}

function sentenceOf({ difference, normalisedError: found, verdict, smallestSeen, practical }: Said): string {
  const upwards = difference >= 0;
  const place =
    difference === 0
      ? 'equals the predicted one'
      : `is ${percent(Math.abs(difference))} ${upwards ? 'larger' : 'smaller'} than the predicted one`;
  const explained = `what the uncertainties explain, ${reachWords(smallestSeen)} (En ${formatSignificant(found, 2)}, of the rates 1/tau)`;
  const start = `The measured time constant ${place},`;
  if (verdict === 'disagree') return `${start} more than ${explained}.`;
  const matters = percent(practical);
  if (verdict === 'agree') {
    return `${start} within ${explained}; a difference of ${matters} would have shown.`;
  }
  return `${start} within ${explained}; as ${matters} would not have shown, the comparison is too weak to tell.`;
}

/** `-23 % to +43 %` of the prediction. */
export function reachWords({ above, below }: RelativeReach): string {
  return `-${percent(below)} ${Number.isFinite(above) ? `to +${percent(above)}` : 'and upwards without end'}`;
}

function percent(relative: number): string {
  return `${formatSignificant(100 * relative, 2)} %`;
}
