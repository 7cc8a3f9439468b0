/**
 * Dry air as a pseudo-pure fluid: the Helmholtz energy of Lemmon, Jacobsen, Penoncello & Friend, J. Phys. Chem.
 * Ref. Data 29 (2000) 331, Eqs. 25 to 27 with Tables 12 and 13. Used here as a gas only.
 */

/** J/(mol K), the value the formulation was fitted with. */
const gasConstant = 8.314_51;
/**
 * kg/mol: CIPM-2007 (Picard et al., Metrologia 45 (2008) 149, Eq. 5) for air with its carbon dioxide; the authors of the
 * equation of state used 0.0289586 kg/mol for nitrogen, oxygen and argon alone, 2.4e-4 less.
 */
export const dryAirMolarMass = 0.028_965_46;
/** Maxcondentherm, by which temperature is reduced, K. */
export const reducingTemperature = 132.6312;
/** Maxcondentherm density, mol/m³. */
export const reducingDensity = 10_447.7;

/** Terms of the residual part: coefficient, power of delta, power of tau, power of delta in the exponential. */
type ResidualTerm = readonly [n: number, d: number, t: number, l: number];

const residualTerms: readonly ResidualTerm[] = [
  [0.118_160_747_229, 1, 0, 0],
  [0.713_116_392_079, 1, 0.33, 0],
  [-1.618_241_920_67, 1, 1.01, 0],
  [0.071_414_017_897_1, 2, 0, 0],
  [-0.086_542_139_664_6, 3, 0, 0],
  [0.134_211_176_704, 3, 0.15, 0],
  [0.011_262_670_421_8, 4, 0, 0],
  [-0.042_053_322_884_2, 4, 0.2, 0],
  [0.034_900_843_198_2, 4, 0.35, 0],
  [0.000_164_957_183_186, 6, 1.35, 0],
  [-0.101_365_037_912, 1, 1.6, 1],
  [-0.173_813_690_97, 3, 0.8, 1],
  [-0.047_210_318_373_1, 5, 0.95, 1],
  [-0.012_252_355_425_3, 6, 1.25, 1],
  [-0.146_629_609_713, 1, 3.6, 2],
  [-0.031_605_587_982_1, 3, 6, 2],
  [0.000_233_594_806_142, 11, 3.25, 2],
  [0.014_828_789_197_8, 1, 3.5, 3],
  [-0.009_387_828_846_67, 3, 15, 3],
];

/** Powers of tau in the ideal part that leave something in its second derivative. */
const idealPowers: readonly (readonly [n: number, t: number])[] = [
  [0.605_719_4e-7, -3],
  [-0.210_274_769e-4, -2],
  [-0.158_860_716e-3, -1],
  [-0.195_363_42e-3, 1.5],
];
const idealLogarithm = 2.490_888_032;
const idealEinstein: readonly (readonly [n: number, theta: number])[] = [
  [0.791_309_509, 25.363_65],
  [0.212_236_768, 16.907_41],
];
const idealElectronic = { n: -0.197_938_904, theta: 87.312_79, shift: 2 / 3 } as const;

/** Reduced derivatives of the residual Helmholtz energy, each times its powers of delta and tau. */
interface Residual {
  /** delta × first derivative in delta. */
  readonly d: number;
  /** delta² × second derivative in delta. */
  readonly dd: number;
  /** tau² × second derivative in tau. */
  readonly tt: number;
  /** delta tau × mixed derivative. */
  readonly dt: number;
}

function residual(tau: number, delta: number): Residual {
  let d = 0;
  let dd = 0;
  let tt = 0;
  let dt = 0;
  for (const [n, power, t, l] of residualTerms) {
    const cut = l === 0 ? 0 : delta ** l;
    const term = n * delta ** power * tau ** t * Math.exp(-cut);
    const slope = power - l * cut;
    d += term * slope;
    dd += term * (slope * (slope - 1) - l * l * cut);
    tt += term * t * (t - 1);
    dt += term * t * slope;
  }
  return { d, dd, tt, dt };
}

/** Minus tau² times the second derivative of the ideal part: the isochoric heat capacity over R at zero density. */
function idealHeatCapacity(tau: number): number {
  let sum = idealLogarithm;
  for (const [n, t] of idealPowers) sum -= n * t * (t - 1) * tau ** t;
  for (const [n, theta] of idealEinstein) {
    const decay = Math.exp(-theta * tau);
    sum += (n * (theta * tau) ** 2 * decay) / (1 - decay) ** 2;
  }
  const { n, theta, shift } = idealElectronic;
  const decay = Math.exp(-theta * tau);
  return sum - (n * (theta * tau) ** 2 * shift * decay) / (1 + shift * decay) ** 2;
}

/**
 * Molar density of dry air as a gas, mol/m³, by Newton's method on p = rho R T (1 + delta alpha_delta).
 *
 * @param temperature K, 240 to 520
 * @param pressure Pa, more than 0 and at most 2 MPa
 * @returns NaN outside these ranges
 */
export function dryAirMolarDensity(temperature: number, pressure: number): number {
  if (!(temperature >= 240 && temperature <= 520 && pressure > 0 && pressure <= 2e6)) return Number.NaN;
  const tau = reducingTemperature / temperature;
  const target = pressure / (reducingDensity * gasConstant * temperature);
  let delta = target;
  for (let step = 0; step < 20; step += 1) {
    const { d, dd } = residual(tau, delta);
    const change = (target - delta * (1 + d)) / (1 + 2 * d + dd);
    delta += change;
    if (Math.abs(change) < 1e-15 * delta) break;
  }
  return delta * reducingDensity;
}

/**
 * Isobaric specific heat of dry air, J/(kg K), from the Helmholtz energy.
 *
 * @param temperature K, 240 to 520
 * @param molarDensity mol/m³
 */
export function dryAirSpecificHeat(temperature: number, molarDensity: number): number {
  const tau = reducingTemperature / temperature;
  const { d, dd, tt, dt } = residual(tau, molarDensity / reducingDensity);
  const isochoric = idealHeatCapacity(tau) - tt;
  return (gasConstant / dryAirMolarMass) * (isochoric + (1 + d - dt) ** 2 / (1 + 2 * d + dd));
}

/**
 * Compressibility factor p/(rho R T) of dry air.
 *
 * @param temperature K, 240 to 520
 * @param pressure Pa, more than 0 and at most 2 MPa
 */
export function dryAirCompressibility(temperature: number, pressure: number): number {
  return pressure / (dryAirMolarDensity(temperature, pressure) * gasConstant * temperature);
}

/** Density of dry air if it were an ideal gas with the constants above, kg/m³. Temperature in K, pressure in Pa. */
export function dryAirIdealDensity(temperature: number, pressure: number): number {
  return (pressure * dryAirMolarMass) / (gasConstant * temperature);
}
