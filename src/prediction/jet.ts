/** A round free jet: from the mass flow through the nozzle to the speed on the axis at the body. */

/**
 * Mean speed in the nozzle's mouth, m/s.
 *
 * @param massFlow kg/s
 * @param density of the air after it has expanded to room pressure, kg/m³
 * @param diameter of the nozzle, m
 */
export function nozzleVelocity(massFlow: number, density: number, diameter: number): number {
  return massFlow / (density * (Math.PI / 4) * diameter * diameter);
}

/**
 * Speed on the axis over the speed at the mouth: 1 in the potential core, then B d/x: min(1, B d / (x - x0)).
 *
 * B between 5.8 (Hussein, Capp & George, J. Fluid Mech. 258 (1994) 31, by laser Doppler) and 6.06 (Panchapakesan &
 * Lumley, J. Fluid Mech. 246 (1993) 197), both not confirmed; 6.11 at a jet Reynolds number of 19 400 but 1.35 at
 * 1430 (Abdel-Rahman, Al-Fahed & Chakroun, Mech. Res. Comm. 23 (1996) 313, abstract). Holds from the nozzle to
 * about 40 diameters, for jet Reynolds numbers above 10 000.
 *
 * @param standOff distance from the mouth over the nozzle diameter
 * @param decayConstant B
 * @param virtualOrigin x0 over the nozzle diameter
 */
export function jetDecay(standOff: number, decayConstant: number, virtualOrigin = 0): number {
  const distance = standOff - virtualOrigin;
  return distance > decayConstant ? decayConstant / distance : 1;
}

/** Where the decay law is used without a remark. */
export const jetRange = {
  /** Stand-off over nozzle diameter. */
  standOff: 40,
  /** Of the jet, on the nozzle diameter, beyond the core. */
  reynolds: 10_000,
  /** Speed over the speed of sound: below it air is as good as incompressible (common practice). */
  mach: 0.3,
} as const;

/**
 * B that is taken where the user states none, and its standard uncertainty: it makes the core six diameters long,
 * the middle of the 4 to 6 diameters that are quoted for the core and of 5.8 to 6.1 for the decay (common practice).
 */
export const usualDecayConstant = { value: 6, standardUncertainty: 0.5 } as const;

/**
 * Width of the potential core, m: the nozzle's at the mouth, tapering to nothing where the decay begins (common
 * practice).
 *
 * @param diameter of the nozzle, m
 * @param standOff distance over nozzle diameter
 * @param decayConstant B, which is also the length of the core in diameters
 */
export function coreWidth(diameter: number, standOff: number, decayConstant: number): number {
  return diameter * Math.max(0, 1 - standOff / decayConstant);
}

/**
 * Speed of sound in air, m/s, as an ideal gas with ratio of specific heats 1.4.
 *
 * @param temperature K
 */
export function speedOfSound(temperature: number): number {
  return Math.sqrt(1.4 * 287.052_87 * temperature);
}
