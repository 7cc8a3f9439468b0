import { normalQuantile } from './normal.ts';

/*
 * The t distribution by the regularized incomplete beta function (Abramowitz & Stegun 1964, 26.7.1). With
 * x = ν/(ν + t²), y = 1 − x and w = (t/2) × density = √y x^(ν/2)/(2 B(ν/2, 1/2)):
 *
 *   P(T > t)     = I_x(ν/2, 1/2)/2 = (2w/ν) F(ν/2, 1/2, x)
 *   P(0 < T < t) = I_y(1/2, ν/2)/2 = 2w F(1/2, ν/2, y)
 *
 * where F is the continued fraction. All is done in v = ln(t²/ν), which neither a far tail nor few degrees overflow.
 */

/** With so many degrees of freedom the expansion about the normal distribution is exact to 1e-14 up to z² = ν/100. */
const manyDegrees = 1e4;

/** Γ(a + 1/2)/(Γ(a) √a) in powers of 1/a (Tricomi & Erdélyi 1951); the next one is below 1e-16 from `largeEnough` on. */
const gammaRatioSeries = [
  1,
  -1 / 8,
  1 / 128,
  5 / 1024,
  -21 / 32_768,
  -399 / 262_144,
  869 / 4_194_304,
  39_325 / 33_554_432,
];
const largeEnough = 60;

/** ln B(a, 1/2), where B(a, 1/2) = √π Γ(a)/Γ(a + 1/2). */
function lnBetaHalf(a: number): number {
  let shift = 0;
  let at = a;
  // Γ(a + 1/2)/Γ(a) = a/(a + 1/2) times the same at a + 1.
  for (; at < largeEnough; at++) shift += Math.log1p(0.5 / at);
  const series = gammaRatioSeries.reduceRight((sum, one) => sum / at + one, 0);
  return shift + 0.5 * Math.log(Math.PI / at) - Math.log(series);
}

/**
 * F of I_x(a, b) = x^a (1 − x)^b/(a B(a, b)) × F (NIST Digital Library of Mathematical Functions, 8.17.22), by the
 * method of Lentz (1976). It settles within some √max(a, b) terms where x < (a + 1)/(a + b + 2).
 */
function betaFraction(a: number, b: number, x: number): number {
  const smallest = 1e-300;
  let c = 1;
  let d = 0;
  let fraction = 1;
  for (let j = 1; j < 10_000; j++) {
    const m = Math.floor(j / 2);
    const numerator =
      j % 2 === 0
        ? (m * (b - m) * x) / ((a + j - 1) * (a + j))
        : (-(a + m) * (a + b + m) * x) / ((a + j - 1) * (a + j));
    d = 1 / (1 + numerator * d || smallest);
    c = 1 + numerator / c || smallest;
    fraction *= c * d;
    if (Math.abs(c * d - 1) < 1e-16) break;
  }
  return 1 / fraction;
}

interface Half {
  /** ln P(T > t). */
  readonly lnTail: number;
  /** ln P(0 < T < t). */
  readonly lnCentre: number;
  /** ln w. */
  readonly lnW: number;
}

/** @param v ln(t²/ν), for t > 0 */
function halfAt(v: number, nu: number, lnBeta: number): Half {
  const a = nu / 2;
  // ln x and ln y, each without a difference of near numbers.
  const lnX = v > 0 ? -v - Math.log1p(Math.exp(-v)) : -Math.log1p(Math.exp(v));
  const lnY = lnX + v;
  const lnW = 0.5 * lnY + a * lnX - Math.LN2 - lnBeta;
  if (Math.exp(lnY) < 1.5 / (a + 2.5)) {
    const lnCentre = Math.LN2 + lnW + Math.log(betaFraction(0.5, a, Math.exp(lnY)));
    return { lnTail: Math.log(0.5 - Math.exp(lnCentre)), lnCentre, lnW };
  }
  const lnTail = lnW - Math.log(a) + Math.log(betaFraction(a, 0.5, Math.exp(lnX)));
  return { lnTail, lnCentre: Math.log(0.5 - Math.exp(lnTail)), lnW };
}

/** ln(t²/ν) of the t that a share `tail` < 1/4 lies beyond. */
function fromTail(tail: number, nu: number, lnBeta: number): number {
  const a = nu / 2;
  const lnTail = Math.log(tail);
  // Two bounds from below: the normal quantile, and P(T > t) > x^a/(2a B).
  const lnX = (Math.log(2 * a) + lnBeta + lnTail) / a;
  const far = lnX < -30 ? -lnX : lnX < 0 ? Math.log(Math.expm1(-lnX)) : Number.NEGATIVE_INFINITY;
  const start = Math.max(far, Math.log(normalQuantile(tail) ** 2 / nu));
  return solve(start, (v) => {
    const half = halfAt(v, nu, lnBeta);
    return { value: half.lnTail - lnTail, slope: -Math.exp(half.lnW - half.lnTail) };
  });
}

/** ln(t²/ν) of the t > 0 that a share `centre` <= 1/4 lies between and 0. */
function fromCentre(centre: number, nu: number, lnBeta: number): number {
  const lnCentre = Math.log(centre);
  // A bound from below: the density is nowhere higher than at 0, where it is 1/(√ν B).
  return solve(2 * (lnCentre + lnBeta), (v) => {
    const half = halfAt(v, nu, lnBeta);
    return { value: half.lnCentre - lnCentre, slope: Math.exp(half.lnW - half.lnCentre) };
  });
}

/** Newton's method. Both functions bend downwards all the way, so that no start can lead astray. */
function solve(start: number, at: (v: number) => { value: number; slope: number }): number {
  let v = start;
  for (let i = 0; i < 50; i++) {
    const { value, slope } = at(v);
    const step = value / slope;
    v -= step;
    if (Math.abs(step) <= 4 * Number.EPSILON * Math.max(1, Math.abs(v))) break;
  }
  return v;
}

/**
 * Quantile of Student's t distribution, exact to about 1e-13.
 *
 * @param p probability, 0 to 1
 * @param nu degrees of freedom, > 0, whole or not; Infinity gives the normal distribution
 * @returns NaN outside these ranges
 */
export function studentQuantile(p: number, nu: number): number {
  if (!(p >= 0 && p <= 1 && nu > 0)) return Number.NaN;
  const z = normalQuantile(p);
  if (z === 0 || !Number.isFinite(z)) return z;
  if (nu > manyDegrees && z * z < nu / 100) return nearNormal(z, nu);
  const tail = Math.min(p, 1 - p);
  const lnBeta = lnBetaHalf(nu / 2);
  const v = tail < 0.25 ? fromTail(tail, nu, lnBeta) : fromCentre(0.5 - tail, nu, lnBeta);
  return Math.sign(p - 0.5) * Math.exp(0.5 * (v + Math.log(nu)));
}

/**
 * Abramowitz & Stegun (1964), 26.7.5.
 *
 * @param z normal quantile
 */
function nearNormal(z: number, nu: number): number {
  const s = z * z;
  const first = (s + 1) / 4;
  const second = ((5 * s + 16) * s + 3) / 96;
  const third = (((3 * s + 19) * s + 17) * s - 15) / 384;
  const fourth = ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / 92_160;
  return z * (1 + (first + (second + (third + fourth / nu) / nu) / nu) / nu);
}
