import type { Agreement } from './agreement-types.ts';
import { formatSignificant, withUnit } from './format.ts';

/**
 * Says a comparison in one sentence, in percent of the reference where that is above 0, else in the unit.
 *
 * @param reference its value
 * @param names what value and reference are called
 * @param unit of both
 */
export function agreementSentence(
  found: Omit<Agreement, 'sentence'>,
  reference: number,
  names: readonly [string, string],
  unit: string,
): string {
  const [value, other] = [capital(names[0]), names[1]];
  const { normalisedError, verdict, difference, smallestSeen } = found;
  if (Number.isNaN(normalisedError)) {
    const positive = found.scale === 'log' ? ' above 0' : '';
    return `${value} and ${other} cannot be compared: both need a known value${positive} and a known uncertainty.`;
  }
  const relative = reference > 0;
  const amount = (ofReference: number, inUnit: number) =>
    relative ? percent(ofReference) : withUnit(formatSignificant(inUnit, 2), unit);
  const size = amount(Math.abs(difference / reference), Math.abs(difference));
  const upwards = difference >= 0;
  const direction = relative ? `${upwards ? 'larger' : 'smaller'} than` : `${upwards ? 'above' : 'below'}`;
  const place = difference === 0 ? `equals ${other}` : `is ${size} ${direction} ${other}`;
  const reach = amount(upwards ? smallestSeen.above : smallestSeen.below, found.expandedUncertainty);
  const explained = `the ${reach} that their uncertainties explain (normalised error ${formatSignificant(normalisedError, 2)})`;
  if (verdict === 'disagree') return `${value} ${place}, more than ${explained}.`;
  const matters = percent(found.practical);
  if (verdict === 'agree') {
    return `${value} ${place}, within ${explained}, and a difference of ${matters} would have shown.`;
  }
  const beyond =
    found.scale === 'log' ? `-${percent(smallestSeen.below)} or +${percent(smallestSeen.above)}` : reach;
  return `${value} ${place}, within ${explained}, but only a difference beyond ${beyond} would have shown, where ${matters} would matter: the comparison is too weak to tell.`;
}

function percent(relative: number): string {
  return `${formatSignificant(100 * relative, 2)} %`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
