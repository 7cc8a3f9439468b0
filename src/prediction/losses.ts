/** What leaves a body by other ways than convection from its own surface, as a share of the same coefficient. */

/** Stefan-Boltzmann constant, W/(m² K⁴) (CODATA 2018, exact). */
const stefanBoltzmann = 5.670_374_419e-8;

/**
 * Radiation of a small grey body in large surroundings as a coefficient, W/(m² K): eps sigma (Ts² + Tr²)(Ts + Tr)
 * (Incropera et al., 6th ed., Eq. 1.9), for a heat flow written with Ts - Tr.
 *
 * @param emissivity 0 to 1
 * @param surface temperature of the body, K
 * @param surroundings temperature of the walls, K
 */
export function radiationCoefficient(emissivity: number, surface: number, surroundings: number): number {
  return (
    emissivity *
    stefanBoltzmann *
    (surface * surface + surroundings * surroundings) *
    (surface + surroundings)
  );
}

/** A wire or stem that leaves the body. */
export interface Fin {
  /** m. */
  readonly diameter: number;
  /** Of the wire's own material, W/(m K). */
  readonly conductivity: number;
  /** Of the wire's own material, density × specific heat, J/(m³ K). */
  readonly volumetricHeat: number;
  /** m, or null for so long that its end does not matter. */
  readonly length: number | null;
}

/**
 * Heat that a round wire draws from a body, W/K: a fin with an adiabatic tip, √(h P k A) tanh(m L), m² = h P/(k A); a
 * long wire has tanh = 1 (Incropera et al., 6th ed., Table 3.4, cases B and D).
 *
 * @param wire the fin
 * @param h heat transfer coefficient about the wire, W/(m² K), 0 or more
 */
export function finConductance(wire: Fin, h: number): number {
  const { diameter, conductivity, length } = wire;
  const infinite = (Math.PI / 2) * Math.sqrt(h * conductivity * diameter * diameter * diameter);
  if (length === null) return infinite;
  return infinite * Math.tanh(Math.sqrt((4 * h) / (conductivity * diameter)) * length);
}

/**
 * Time constant of a wire on its own, s: rho c d/(4 h).
 *
 * @param wire the fin
 * @param h heat transfer coefficient about the wire, W/(m² K)
 */
export function wireTimeConstant(wire: Fin, h: number): number {
  return (wire.volumetricHeat * wire.diameter) / (4 * h);
}
