/** Water vapour at the low pressures at which it is a part of air, and the pressure at which it condenses. */

/** kg/mol (IAPWS-95). */
export const waterMolarMass = 0.018_015_268;
/** K. */
const criticalTemperature = 647.096;
/** J/(kg K) (IAPWS-95). */
const specificGasConstant = 461.518_05;

/** IAPWS-IF97 (revised release 2007), Table 34. Confirmed by the release's own check values in the tests. */
const saturation = {
  n1: 0.116_705_214_527_67e4,
  n2: -0.724_213_167_032_06e6,
  n3: -0.170_738_469_400_92e2,
  n4: 0.120_208_247_024_7e5,
  n5: -0.323_255_503_223_33e7,
  n6: 0.149_151_086_135_3e2,
  n7: -0.482_326_573_615_91e4,
  n8: 0.405_113_405_420_57e6,
  n9: -0.238_555_575_678_49,
  n10: 0.650_175_348_447_98e3,
} as const;

/**
 * Pressure of saturated water vapour over liquid, Pa: IAPWS-IF97, Eq. 30.
 *
 * @param temperature K, 250 to 500; below 273.15 K over supercooled water, an extrapolation
 * @returns NaN outside this range
 */
export function saturationPressure(temperature: number): number {
  if (!(temperature >= 250 && temperature <= 500)) return Number.NaN;
  const { n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 } = saturation;
  const x = temperature + n9 / (temperature - n10);
  const a = x * x + n1 * x + n2;
  const b = n3 * x * x + n4 * x + n5;
  const c = n6 * x * x + n7 * x + n8;
  return 1e6 * ((2 * c) / (-b + Math.sqrt(b * b - 4 * a * c))) ** 4;
}

/**
 * Factor by which air raises the saturation pressure: CIPM-2007 (Picard, Davis, Gläser & Fujii, Metrologia 45 (2008)
 * 149, A1.2), given there for 60 to 110 kPa and 0 to 30 °C. Beyond 30 °C it stays within 0.3 % of 1.004.
 *
 * @param temperature K
 * @param pressure of the moist air, Pa
 */
export function enhancementFactor(temperature: number, pressure: number): number {
  const celsius = Math.min(temperature - 273.15, 60);
  return 1.000_62 + 3.14e-8 * pressure + 5.6e-7 * celsius * celsius;
}

/**
 * Viscosity of water vapour at zero density, Pa s: IAPWS 2008 (Huber et al., J. Phys. Chem. Ref. Data 38 (2009) 101),
 * Eq. 11 with Table 1.
 *
 * @param temperature K
 */
export function waterVapourViscosity(temperature: number): number {
  const t = temperature / criticalTemperature;
  const sum = 1.677_52 + (2.204_62 + (0.636_656_4 - 0.241_605 / t) / t) / t;
  return (1e-4 * Math.sqrt(t)) / sum;
}

/**
 * Thermal conductivity of water vapour at zero density, W/(m K): IAPWS 2011 (Huber et al., J. Phys. Chem. Ref. Data
 * 41 (2012) 033102), Eq. 16 with Table 1.
 *
 * @param temperature K
 */
export function waterVapourConductivity(temperature: number): number {
  const t = temperature / criticalTemperature;
  const sum = 2.443_221e-3 + (1.323_095e-2 + (6.770_357e-3 + (-3.454_586e-3 + 4.096_266e-4 / t) / t) / t) / t;
  return (1e-3 * Math.sqrt(t)) / sum;
}

/** Einstein terms of the ideal gas in IAPWS-95 (Table 6.1 of Wagner & Pruß, 2002). */
const einstein: readonly (readonly [n: number, gamma: number])[] = [
  [0.012_436, 1.287_289_67],
  [0.973_15, 3.537_342_22],
  [1.2795, 7.740_737_08],
  [0.969_56, 9.244_377_96],
  [0.248_73, 27.507_510_5],
];

/**
 * Isobaric specific heat of water vapour as an ideal gas, J/(kg K): IAPWS-95 (Wagner & Pruß, J. Phys. Chem. Ref.
 * Data 31 (2002) 387).
 *
 * @param temperature K
 */
export function waterVapourSpecificHeat(temperature: number): number {
  let sum = 4.006_32;
  for (const [n, gamma] of einstein) {
    const x = (gamma * criticalTemperature) / temperature;
    const decay = Math.exp(-x);
    sum += (n * x * x * decay) / (1 - decay) ** 2;
  }
  return specificGasConstant * sum;
}
