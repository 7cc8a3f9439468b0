import type { ExpectedBody } from './body-expected.ts';

/** A time constant in s with the standard uncertainty of its logarithm. */
export interface MeasuredLog {
  readonly value: number;
  readonly relative: number;
}

/** How well a measured time constant goes with a body. */
export interface BodyLikeness extends ExpectedBody {
  /** ln tau less the expected one, in standard uncertainties of the difference. */
  readonly score: number;
  /** Natural logarithm of the likelihood. */
  readonly logLikelihood: number;
  /** Part of the likelihood of all bodies; 1 where there is one. */
  readonly share: number;
}

/**
 * Which body a time constant looks like.
 *
 * @param measured s, with the standard uncertainty of ln tau from its own readings
 * @param bodies what each would show
 * @returns the likeliest first; empty where the value is no time constant
 */
export function bodyLikeness(measured: MeasuredLog, bodies: readonly ExpectedBody[]): BodyLikeness[] {
  if (
    !(
      measured.value > 0 &&
      measured.relative >= 0 &&
      Number.isFinite(measured.value) &&
      Number.isFinite(measured.relative)
    )
  ) {
    return [];
  }
  const scored = bodies.map((body) => {
    const deviation = Math.hypot(body.relative, measured.relative);
    const score = Math.log(measured.value / body.expected) / deviation;
    return {
      ...body,
      score,
      logLikelihood: -(score ** 2) / 2 - Math.log(deviation * Math.sqrt(2 * Math.PI)),
    };
  });
  const best = Math.max(...scored.map(({ logLikelihood }) => logLikelihood));
  const total = scored.reduce((sum, { logLikelihood }) => sum + Math.exp(logLikelihood - best), 0);
  return scored
    .map((body) => ({ ...body, share: Math.exp(body.logLikelihood - best) / total }))
    .sort((a, b) => b.logLikelihood - a.logLikelihood);
}
