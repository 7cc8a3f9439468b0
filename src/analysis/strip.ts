import type { Decay } from '../decay/index.ts';
import { thinCurve } from '../figure/index.ts';

/** How straight a decay is: ln of the error fraction against time over the time constant. */
export interface DecayStrip {
  readonly x: number[];
  readonly y: number[];
}

/** Most points of a strip. */
const mostPoints = 40;
/** Below this the noise is larger than what is left. */
const lowest = 0.05;

/** The strip of an analysis; null without a time constant. Times count from the first point. */
export function decayStrip({ points, timeConstant }: Decay): DecayStrip | null {
  if (timeConstant === null) return null;
  const shown = points.filter(({ errorFraction }) => errorFraction > lowest);
  const start = shown[0]?.time ?? 0;
  const curve = thinCurve(
    {
      time: shown.map(({ time }) => (time - start) / timeConstant.value),
      value: shown.map(({ errorFraction }) => Math.log(errorFraction)),
    },
    mostPoints,
  );
  return { x: curve.time.map(rounded), y: curve.value.map(rounded) };
}

/** A thousandth is finer than any line is drawn. */
function rounded(value: number): number {
  return Math.round(value * 1000) / 1000;
}
