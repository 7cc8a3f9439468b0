import { reducingDensity, reducingTemperature } from './air-equation.ts';

/**
 * Viscosity and thermal conductivity of dry air: Lemmon & Jacobsen, Int. J. Thermophys. 25 (2004) 21, Eqs. 1 to 5
 * with Tables I, II and IV. The critical enhancement of the conductivity is left out: it is below 1e-5 of the
 * conductivity at 250 K and above up to 1 MPa.
 */

/** g/mol, K and nm as in the paper's table of constants. */
const molarMass = 28.9586;
const energyParameter = 103.3;
const sizeParameter = 0.36;

const collisionCoefficients = [0.431, -0.4623, 0.084_06, 0.005_341, -0.003_31] as const;

/** Coefficient, power of tau, power of delta, and 1 where the term carries exp(-delta^l) with that l, else 0. */
type Term = readonly [n: number, t: number, d: number, l: number];

const viscosityTerms: readonly Term[] = [
  [10.72, 0.2, 1, 0],
  [1.122, 0.05, 4, 0],
  [0.002_019, 2.4, 9, 0],
  [-8.876, 0.6, 1, 1],
  [-0.029_16, 3.6, 8, 1],
];

const conductivityTerms: readonly Term[] = [
  [8.743, 0.1, 1, 0],
  [14.76, 0, 2, 0],
  [-16.62, 0.5, 3, 2],
  [3.793, 2.7, 7, 2],
  [-6.142, 0.3, 7, 2],
  [-0.3778, 1.3, 11, 2],
];

function residual(terms: readonly Term[], tau: number, delta: number): number {
  let sum = 0;
  for (const [n, t, d, l] of terms) {
    sum += n * tau ** t * delta ** d * (l === 0 ? 1 : Math.exp(-(delta ** l)));
  }
  return sum;
}

/** Viscosity at zero density, µPa s (Eq. 2). */
function diluteViscosity(temperature: number): number {
  const x = Math.log(temperature / energyParameter);
  let logOmega = 0;
  for (let i = collisionCoefficients.length - 1; i >= 0; i -= 1) {
    logOmega = logOmega * x + (collisionCoefficients[i] ?? 0);
  }
  return (0.026_695_8 * Math.sqrt(molarMass * temperature)) / (sizeParameter ** 2 * Math.exp(logOmega));
}

/**
 * Viscosity of dry air, Pa s.
 *
 * @param temperature K
 * @param molarDensity mol/m³, 0 or more
 */
export function dryAirViscosity(temperature: number, molarDensity: number): number {
  const tau = reducingTemperature / temperature;
  const delta = molarDensity / reducingDensity;
  return 1e-6 * (diluteViscosity(temperature) + residual(viscosityTerms, tau, delta));
}

/**
 * Thermal conductivity of dry air without the critical enhancement, W/(m K).
 *
 * @param temperature K
 * @param molarDensity mol/m³, 0 or more
 */
export function dryAirConductivity(temperature: number, molarDensity: number): number {
  const tau = reducingTemperature / temperature;
  const delta = molarDensity / reducingDensity;
  const dilute = 1.308 * diluteViscosity(temperature) + 1.405 * tau ** -1.1 - 1.036 * tau ** -0.3;
  return 1e-3 * (dilute + residual(conductivityTerms, tau, delta));
}
