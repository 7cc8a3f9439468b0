import type { Decay } from '../decay/index.ts';
import { thinCurve } from '../figure/index.ts';

/**
 * How straight a decay is: ln of the error fraction against time over the time constant. Times count from the moment at
 * which the fit has the error fraction 1, so that one exponential lies on the line of slope −1 through the origin.
 */
export interface DecayStrip {
  readonly x: number[];
  readonly y: number[];
}

/** Most points of a strip. */
const mostPoints = 40;
/** Below this the noise is larger than what is left. */
const lowest = 0.05;

/** The strip of an analysis; null without a time constant. */
export function decayStrip({
  points,
  timeConstant,
}: Pick<Decay, 'points' | 'timeConstant'>): DecayStrip | null {
  if (timeConstant === null) return null;
  const shown = points.filter(({ errorFraction }) => errorFraction > lowest);
  const start = startOf(points, timeConstant.value);
  const curve = thinCurve(
    {
      time: shown.map(({ time }) => (time - start) / timeConstant.value),
      value: shown.map(({ errorFraction }) => Math.log(errorFraction)),
    },
    mostPoints,
  );
  return { x: curve.time.map(rounded), y: curve.value.map(rounded) };
}

/**
 * When the fit has the error fraction 1, s. Its points tell this also of a recording that begins after the heat went off.
 */
export function startOf(points: Decay['points'], timeConstant: number): number {
  const first = points.find(({ fitted }) => fitted > 0);
  return first === undefined ? 0 : first.time + timeConstant * Math.log(first.fitted);
}

/** A thousandth is finer than any line is drawn. */
function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}
