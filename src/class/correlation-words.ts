import { formatSignificant, formatWithUncertainty } from '../quantity/index.ts';
import type { Estimated, RigCorrelation } from './rig-correlation.ts';

/** Of ln Nu: less is no difference. */
const noDifference = 1e-3;

/**
 * A rig's correlation in sentences: Nu in the middle with the exponent, what they rest on, and where it holds.
 *
 * @param theory Nu that theory expects in the middle; null where it is not known
 */
export function correlationWords(found: RigCorrelation, theory: number | null): string[] {
  const { form, reynoldsMiddle, nusseltMiddle, exponent, coefficient, range } = found;
  const formula = form === 'power' ? 'Nu = C Re^m' : 'Nu = 2 + a Re^n';
  const letters = form === 'power' ? (['C', 'm'] as const) : (['a', 'n'] as const);
  const middle = whole(reynoldsMiddle);
  const held = theory === null ? '' : `; theory expects ${formatSignificant(theory, 3)}`;
  const benches = found.benches === 1 ? 'one bench' : `${found.benches} benches`;
  const offsets =
    found.benches === 1
      ? 'How benches differ cannot be told.'
      : found.benchDeviation < noDifference
        ? 'No difference between benches is seen.'
        : `Benches differ by ${percent(found.benchDeviation)} (standard deviation).`;
  const strays = found.strays.map(({ bench, body, flow, nusselt, reynolds }) => {
    const place = bench === null ? '' : `${bench}, `;
    return `${place}${body} in ${flow} (Nu ${formatSignificant(nusselt, 3)} at Re ${whole(reynolds)})`;
  });
  return [
    `${formula}, for Re from ${whole(range[0])} to ${whole(range[1])} and nowhere else.`,
    `Nu at Re ${middle}: ${interval(nusseltMiddle)}${held}.`,
    `Exponent ${letters[1]}: ${interval(exponent)}; ${letters[0]} is then ${formatSignificant(coefficient, 3)}, which moves against the exponent: quote Nu at Re ${middle} with it.`,
    ...(strays.length === 0
      ? []
      : [`Left out, for it lies too far from all others; look at it again: ${strays.join('; ')}.`]),
    `From ${found.trials} trials of ${found.bodies} ${found.bodies === 1 ? 'body' : 'bodies'} on ${benches}. ${offsets} Conditions depart from the line by ${percent(found.deviation)}.`,
  ];
}

function interval({ value, interval: [low, high] }: Estimated): string {
  return `${formatWithUncertainty(value, (high - low) / 2).text} (95 %)`;
}

function percent(part: number): string {
  return `${formatSignificant(100 * part, 2)} %`;
}

function whole(value: number): string {
  return formatSignificant(value, 3);
}
