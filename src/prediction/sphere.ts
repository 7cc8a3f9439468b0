/**
 * Conduction inside a sphere that is cooled over its surface. Biot numbers here are h r/k, with the radius (Carslaw &
 * Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, 9.4; Incropera et al., 6th ed., 5.6).
 */

/** Residual of zeta cot zeta = 1 - Bi without the poles: zeta cos zeta - (1 - Bi) sin zeta. */
function residual(zeta: number, biot: number): number {
  return zeta * Math.cos(zeta) - (1 - biot) * Math.sin(zeta);
}

/** Up to this Biot number the series below is good to 1e-14; there the root cannot be sought without cancellation. */
const smallBiot = 0.1;

/**
 * 3 Bi / zeta1² as a power series in Bi, by reversion of 1 - zeta cot zeta = zeta²/3 + zeta⁴/45 + 2 zeta⁶/945 + … in
 * exact fractions.
 */
const smallBiotSeries = [
  1,
  1 / 5,
  3 / 175,
  -1 / 875,
  -13 / 67_375,
  93 / 1_990_625,
  251 / 109_484_375,
  -18_857 / 9_306_171_875,
] as const;

function smallBiotRatio(biot: number): number {
  return smallBiotSeries.reduceRight((sum, c) => sum * biot + c, 0);
}

/**
 * Root number n of 1 - zeta cot zeta = Bi.
 *
 * @param biot h r/k, more than 0
 * @param n 1 for the first, which governs the cooling after the first instants
 * @returns between (n - 1) pi and n pi; NaN for a Biot number that is not positive
 */
export function sphereEigenvalue(biot: number, n = 1): number {
  if (!(biot > 0 && Number.isFinite(biot))) return Number.NaN;
  if (n === 1 && biot <= smallBiot) return Math.sqrt((3 * biot) / smallBiotRatio(biot));
  // Each root is alone between the zeros of the sine: between them zeta cot zeta falls from its top without a turn.
  let low = (n - 1) * Math.PI;
  let high = n * Math.PI;
  let zeta = n === 1 ? Math.min(Math.sqrt(3 * biot), 0.9 * Math.PI) : low + 0.25 * Math.PI;
  const sign = n % 2 === 1 ? 1 : -1;
  for (let step = 0; step < 100; step += 1) {
    const value = sign * residual(zeta, biot);
    if (value > 0) low = zeta;
    else high = zeta;
    const slope = sign * (biot * Math.cos(zeta) - zeta * Math.sin(zeta));
    const newton = zeta - value / slope;
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    const change = Math.abs(next - zeta);
    zeta = next;
    if (change <= 1e-15 * zeta) break;
  }
  return zeta;
}

/**
 * Time constant of the first mode over the lumped one, 3 Bi / zeta1²; 1 + Bi/5 + … for small Bi.
 *
 * @param biot h r/k, 0 or more
 * @returns 1 at Bi = 0; NaN for a negative Biot number
 */
export function exactOverLumped(biot: number): number {
  if (!(biot >= 0)) return Number.NaN;
  if (biot <= smallBiot) return smallBiotRatio(biot);
  const zeta = sphereEigenvalue(biot);
  return (3 * biot) / (zeta * zeta);
}

/** Error fractions inside a cooling sphere. */
export interface SphereTemperatures {
  readonly centre: number;
  readonly half: number;
  readonly surface: number;
  /** Over the volume. */
  readonly mean: number;
}

/**
 * Error fraction (T - T_air)/(T_start - T_air) in a sphere that was evenly hot, by the series in its modes.
 *
 * @param biot h r/k, more than 0
 * @param fourier a t / r², more than 0; the series needs more terms the smaller it is, and is refused below 1e-4
 * @returns at the centre, at half the radius, at the surface, and the mean; NaN outside these ranges
 */
export function sphereTemperatures(biot: number, fourier: number): SphereTemperatures {
  if (!(biot > 0 && fourier >= 1e-4)) {
    return { centre: Number.NaN, half: Number.NaN, surface: Number.NaN, mean: Number.NaN };
  }
  let centre = 0;
  let half = 0;
  let surface = 0;
  let mean = 0;
  for (let n = 1; n <= 300; n += 1) {
    const zeta = sphereEigenvalue(biot, n);
    const sine = Math.sin(zeta);
    const cosine = Math.cos(zeta);
    const amplitude = (4 * (sine - zeta * cosine)) / (2 * zeta - Math.sin(2 * zeta));
    const decayed = amplitude * Math.exp(-zeta * zeta * fourier);
    centre += decayed;
    half += (decayed * Math.sin(zeta / 2)) / (zeta / 2);
    surface += (decayed * sine) / zeta;
    mean += (3 * decayed * (sine - zeta * cosine)) / zeta ** 3;
    if (Math.abs(decayed) < 1e-17) break;
  }
  return { centre, half, surface, mean };
}

/**
 * Biot number h (V/A)/k = h D/(6 k), the one meant by the rule that 0.1 is small.
 *
 * @param h heat transfer coefficient, W/(m² K)
 * @param diameter of the sphere, m
 * @param conductivity of the solid, W/(m K)
 */
export function biotVolumeToArea(h: number, diameter: number, conductivity: number): number {
  return (h * diameter) / (6 * conductivity);
}

/**
 * Biot number h D/k, six times that of `biotVolumeToArea`.
 *
 * @param h heat transfer coefficient, W/(m² K)
 * @param diameter m
 * @param conductivity of the body, W/(m K), > 0
 */
export function biotDiameter(h: number, diameter: number, conductivity: number): number {
  return (h * diameter) / conductivity;
}

/** Biot number h (V/A)/k above which one temperature for the whole body is no longer taken for granted. */
export const lumpedBiotLimit = 0.1;
