/**
 * Convection from spheres and cylinders: one table, from which choice, listing, range checks and citations come.
 * Lengths in Reynolds, Rayleigh and Nusselt numbers are diameters.
 */

/** What a correlation may ask for. */
export interface FlowNumbers {
  readonly reynolds: number;
  readonly rayleigh: number;
  readonly prandtl: number;
  /** Viscosity in the free stream over viscosity at the surface. */
  readonly viscosityRatio: number;
}

/** What a correlation is for. */
export type Geometry = 'sphere' | 'cylinder';
/** Both ends count as inside. */
type Range = readonly [low: number, high: number];

/** A correlation of the Nusselt number, with what there is to know about it. */
export interface NusseltCorrelation {
  readonly id: string;
  readonly geometry: Geometry;
  readonly convection: 'forced' | 'natural';
  /** As it is printed; what is special about its range stands behind it. */
  readonly formula: string;
  /**
   * The right side of it as a worked analysis writes it, in TeX and as text; null where none does, as of still air.
   * Above the Reynolds number `upTo`, where there is one, another law holds, which is not written out.
   */
  readonly law: { readonly tex: string; readonly plain: string; readonly upTo?: number } | null;
  /** Nusselt number at these numbers of the flow; its range is not looked at. */
  readonly nusselt: (flow: FlowNumbers) => number;
  /** Where the author's data lie; what is not named is not limited. */
  readonly range: Partial<Readonly<Record<keyof FlowNumbers, Range>>>;
  /** Temperature at which properties are taken: of the free stream, or its mean with the surface's. */
  readonly basis: 'free-stream' | 'film';
  readonly citation: string;
  readonly status: 'confirmed' | 'unconfirmed';
}

/** x to a power, by logarithms: a third of the time of `**`, and these are called a hundred thousand times. */
function power(x: number, exponent: number): number {
  return Math.exp(exponent * Math.log(x));
}

/**
 * Nu = 2 + (0.4 Re^1/2 + 0.06 Re^2/3) Pr^0.4 (mu/mu_s)^1/4.
 *
 * Forced convection from a sphere: Whitaker, AIChE J. 18 (1972) 361, Eq. 41; Re 3.5 to 7.6e4, Pr 0.71 to 380, mu/mu_s
 * 1.0 to 3.2; properties of the free stream. A body hotter than a gas has mu/mu_s below 1, outside the data.
 */
export function nusseltSphereWhitaker1972(flow: FlowNumbers): number {
  const { reynolds, prandtl, viscosityRatio } = flow;
  const third = Math.cbrt(reynolds);
  return (
    2 +
    (0.4 * Math.sqrt(reynolds) + 0.06 * third * third) *
      power(prandtl, 0.4) *
      Math.sqrt(Math.sqrt(viscosityRatio))
  );
}

/**
 * Nu = 2 + 0.6 Re^1/2 Pr^1/3.
 *
 * Forced convection from small drops: Ranz & Marshall, Chem. Eng. Prog. 48 (1952) 141 and 173; data up to Re 200,
 * the range of Pr 0.6 to 380 that is commonly quoted is not confirmed.
 */
export function nusseltSphereRanzMarshall1952({ reynolds, prandtl }: FlowNumbers): number {
  return 2 + 0.6 * Math.sqrt(reynolds) * Math.cbrt(prandtl);
}

/**
 * Nu = 2 + (Re/4 + 3e-4 Re^1.6)^1/2 for Re 100 to 2e5; Nu = 430 + 5e-3 Re + 0.25e-9 Re² - 3.1e-17 Re³ for 4e5 to 5e6;
 * air, Pr 0.71. NaN between the two.
 *
 * Forced convection from a sphere: Achenbach, Proc. 6th Int. Heat Transfer Conf., Toronto, vol. 5 (1978) 341. The
 * constants could not be held against the paper; it is used only when asked for.
 */
export function nusseltSphereAchenbach1978({ reynolds }: FlowNumbers): number {
  if (reynolds <= 2e5) return 2 + Math.sqrt(reynolds / 4 + 3e-4 * reynolds ** 1.6);
  if (reynolds < 4e5) return Number.NaN;
  return 430 + 5e-3 * reynolds + 0.25e-9 * reynolds ** 2 - 3.1e-17 * reynolds ** 3;
}

/**
 * Nu = 0.3 + 0.62 Re^1/2 Pr^1/3 [1 + (0.4/Pr)^2/3]^-1/4 [1 + (Re/282000)^5/8]^4/5.
 *
 * Forced convection from a cylinder across the flow: Churchill & Bernstein, J. Heat Transfer 99 (1977) 300; Re Pr above
 * 0.2; properties at film temperature.
 */
export function nusseltCylinderChurchillBernstein1977({ reynolds, prandtl }: FlowNumbers): number {
  const ratio = Math.cbrt(0.4 / prandtl);
  const laminar = (0.62 * Math.sqrt(reynolds) * Math.cbrt(prandtl)) / Math.sqrt(Math.sqrt(1 + ratio * ratio));
  if (reynolds === 0) return 0.3;
  return 0.3 + laminar * power(1 + power(reynolds / 282_000, 0.625), 0.8);
}

/**
 * Nu = 2 + 0.589 Ra^1/4 [1 + (0.469/Pr)^9/16]^-4/9.
 *
 * Natural convection from a sphere: Churchill, Heat Exchanger Design Handbook 2.5.7 (1983); Pr 0.7 and above, Ra up to
 * 1e11; properties at film temperature.
 */
export function nusseltSphereChurchill1983({ rayleigh, prandtl }: FlowNumbers): number {
  const hindrance = power(1 + power(0.469 / prandtl, 9 / 16), 4 / 9);
  return 2 + (0.589 * Math.sqrt(Math.sqrt(rayleigh))) / hindrance;
}

/**
 * Nu = {0.60 + 0.387 Ra^1/6 [1 + (0.559/Pr)^9/16]^-8/27}².
 *
 * Natural convection from a horizontal cylinder: Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049; Ra up to
 * 1e12; properties at film temperature.
 */
export function nusseltCylinderChurchillChu1975({ rayleigh, prandtl }: FlowNumbers): number {
  const hindrance = power(1 + power(0.559 / prandtl, 9 / 16), 8 / 27);
  return (0.6 + (0.387 * Math.sqrt(Math.cbrt(rayleigh))) / hindrance) ** 2;
}

/** Every correlation, the one that is used where none is asked for first in its geometry and convection. */
export const correlations: readonly NusseltCorrelation[] = [
  {
    id: 'nusselt_sphere_whitaker_1972',
    geometry: 'sphere',
    convection: 'forced',
    formula: 'Nu = 2 + (0.4 Re^1/2 + 0.06 Re^2/3) Pr^0.4 (µ/µs)^1/4',
    law: {
      tex: '2 + (0.4\\,\\mathit{Re}^{1/2} + 0.06\\,\\mathit{Re}^{2/3})\\,\\mathit{Pr}^{0.4}\\,(\\mu/\\mu_s)^{1/4}',
      plain: '2 + (0.4 Re^(1/2) + 0.06 Re^(2/3)) Pr^0.4 (μ/μ_s)^(1/4)',
    },
    nusselt: nusseltSphereWhitaker1972,
    range: { reynolds: [3.5, 7.6e4], prandtl: [0.7, 380], viscosityRatio: [1, 3.2] },
    basis: 'free-stream',
    citation: 'Whitaker, AIChE J. 18 (1972) 361',
    status: 'confirmed',
  },
  {
    id: 'nusselt_sphere_ranz_marshall_1952',
    geometry: 'sphere',
    convection: 'forced',
    formula: 'Nu = 2 + 0.6 Re^1/2 Pr^1/3',
    law: {
      tex: '2 + 0.6\\,\\mathit{Re}^{1/2}\\,\\mathit{Pr}^{1/3}',
      plain: '2 + 0.6 Re^(1/2) Pr^(1/3)',
    },
    nusselt: nusseltSphereRanzMarshall1952,
    range: { reynolds: [0, 200], prandtl: [0.6, 380] },
    basis: 'free-stream',
    citation: 'Ranz & Marshall, Chem. Eng. Prog. 48 (1952) 141, 173',
    status: 'confirmed',
  },
  {
    id: 'nusselt_sphere_achenbach_1978',
    geometry: 'sphere',
    convection: 'forced',
    formula:
      'Nu = 2 + (Re/4 + 3e-4 Re^1.6)^1/2 up to Re 2e5; Nu = 430 + 5e-3 Re + 0.25e-9 Re² - 3.1e-17 Re³ from 4e5; nothing between',
    law: {
      tex: '2 + (\\mathit{Re}/4 + 3\\times 10^{-4}\\,\\mathit{Re}^{1.6})^{1/2}',
      plain: '2 + (Re/4 + 3 × 10⁻⁴ Re^1.6)^(1/2)',
      upTo: 2e5,
    },
    nusselt: nusseltSphereAchenbach1978,
    range: { reynolds: [100, 5e6], prandtl: [0.69, 0.73] },
    basis: 'free-stream',
    citation: 'Achenbach, Proc. 6th Int. Heat Transfer Conf. 5 (1978) 341',
    status: 'unconfirmed',
  },
  {
    id: 'nusselt_cylinder_churchill_bernstein_1977',
    geometry: 'cylinder',
    convection: 'forced',
    formula: 'Nu = 0.3 + 0.62 Re^1/2 Pr^1/3 [1 + (0.4/Pr)^2/3]^-1/4 [1 + (Re/282000)^5/8]^4/5',
    law: {
      tex: '0.3 + 0.62\\,\\mathit{Re}^{1/2}\\,\\mathit{Pr}^{1/3}\\,[1 + (0.4/\\mathit{Pr})^{2/3}]^{-1/4}\\,[1 + (\\mathit{Re}/282000)^{5/8}]^{4/5}',
      plain: '0.3 + 0.62 Re^(1/2) Pr^(1/3) [1 + (0.4/Pr)^(2/3)]^(−1/4) [1 + (Re/282000)^(5/8)]^(4/5)',
    },
    nusselt: nusseltCylinderChurchillBernstein1977,
    range: { reynolds: [0.3, 1e7] },
    basis: 'film',
    citation: 'Churchill & Bernstein, J. Heat Transfer 99 (1977) 300',
    status: 'confirmed',
  },
  {
    id: 'nusselt_sphere_churchill_1983',
    geometry: 'sphere',
    convection: 'natural',
    formula: 'Nu = 2 + 0.589 Ra^1/4 [1 + (0.469/Pr)^9/16]^-4/9',
    law: null,
    nusselt: nusseltSphereChurchill1983,
    range: { rayleigh: [0, 1e11], prandtl: [0.69, Number.POSITIVE_INFINITY] },
    basis: 'film',
    citation: 'Churchill, Heat Exchanger Design Handbook 2.5.7 (1983)',
    status: 'confirmed',
  },
  {
    id: 'nusselt_cylinder_churchill_chu_1975',
    geometry: 'cylinder',
    convection: 'natural',
    formula: 'Nu = {0.60 + 0.387 Ra^1/6 [1 + (0.559/Pr)^9/16]^-8/27}²',
    law: null,
    nusselt: nusseltCylinderChurchillChu1975,
    range: { rayleigh: [0, 1e12] },
    basis: 'film',
    citation: 'Churchill & Chu, Int. J. Heat Mass Transfer 18 (1975) 1049',
    status: 'confirmed',
  },
];

/** The correlation with an id, if there is one. */
export function findCorrelation(id: string): NusseltCorrelation | undefined {
  return correlations.find((correlation) => correlation.id === id);
}

/** What is left of convection when nothing moves: conduction into still air about a sphere, 2 exactly. */
const conductionLimit: Readonly<Record<Geometry, number>> = { sphere: 2, cylinder: 0.3 };

/**
 * Nusselt number of forced and natural convection together: (Nu - Nu0)³ = (Nu_f - Nu0)³ + (Nu_n - Nu0)³.
 *
 * The cube is Churchill's for assisting flow (AIChE J. 23 (1977) 10; Incropera et al., 6th ed., Eq. 9.64). Taking off
 * the conduction limit Nu0 first, so that a small body in still air does not count it twice, is not confirmed
 * against the paper. Opposing flow would take the difference; the direction is not asked for, for in every jet of
 * this experiment the natural part is below one percent.
 *
 * @param geometry sets Nu0: 2 for a sphere, 0.3 for a cylinder
 * @param forced Nusselt number without gravity
 * @param natural Nusselt number without flow
 */
export function mixedNusselt(geometry: Geometry, forced: number, natural: number): number {
  const still = conductionLimit[geometry];
  const a = Math.max(forced - still, 0);
  const b = Math.max(natural - still, 0);
  return still + Math.cbrt(a * a * a + b * b * b);
}

/** Standard gravity, m/s². */
const gravity = 9.806_65;

/**
 * Rayleigh number g ΔT D³ / (T_film nu alpha) of an ideal gas.
 *
 * @param excess temperature of the surface over the air, K
 * @param diameter m
 * @param film air at film temperature
 */
export function rayleighNumber(
  excess: number,
  diameter: number,
  film: {
    readonly temperature: number;
    readonly density: number;
    readonly viscosity: number;
    readonly prandtl: number;
  },
): number {
  const kinematic = film.viscosity / film.density;
  return (
    (gravity * Math.abs(excess) * diameter * diameter * diameter * film.prandtl) /
    (film.temperature * kinematic * kinematic)
  );
}
