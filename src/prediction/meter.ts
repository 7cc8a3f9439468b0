import { airDensity } from './air.ts';

/** The pressure and temperature at which a flow scale or a 'standard' volume is meant. */
export interface ReferenceCondition {
  readonly id: string;
  readonly name: string;
  /** Absolute, Pa. */
  readonly pressure: number;
  /** K. */
  readonly temperature: number;
}

const atmosphere = 101_325;
/** 14.696 psi, Pa (pound-force of 0.45359237 kg × 9.80665 m/s² on a square inch of 25.4 mm; NIST SP 811). */
const usAtmosphere = (14.696 * 0.453_592_37 * 9.806_65) / 0.0254 ** 2;
const fahrenheit = (degrees: number) => ((degrees - 32) * 5) / 9 + 273.15;

/** The conventions in use. Makers differ: a scale that does not name one is not a measurement. */
export const referenceConditions: readonly ReferenceCondition[] = [
  { id: '0C', name: '0 °C and 101.325 kPa', pressure: atmosphere, temperature: 273.15 },
  { id: '0C-1bar', name: '0 °C and 100 kPa', pressure: 1e5, temperature: 273.15 },
  { id: '15C', name: '15 °C and 101.325 kPa', pressure: atmosphere, temperature: 288.15 },
  { id: '20C', name: '20 °C and 101.325 kPa', pressure: atmosphere, temperature: 293.15 },
  { id: '25C', name: '25 °C and 101.325 kPa', pressure: atmosphere, temperature: 298.15 },
  { id: '60F', name: '60 °F and 14.696 psia', pressure: usAtmosphere, temperature: fahrenheit(60) },
  { id: '70F', name: '70 °F and 14.696 psia', pressure: usAtmosphere, temperature: fahrenheit(70) },
];

/** The reference condition with an id, if there is one. */
export function findReferenceCondition(id: string): ReferenceCondition | undefined {
  return referenceConditions.find((condition) => condition.id === id);
}

/** Specific gas constant of dry air in the US Standard Atmosphere 1976, J/(kg K). */
const airGasConstant = 287.052_87;

/** Density of dry air as an ideal gas, kg/m³. Temperature in K, absolute pressure in Pa. */
export function idealAirDensity(temperature: number, pressure: number): number {
  return pressure / (airGasConstant * temperature);
}

/**
 * Mass flow through a variable-area meter, kg/s: m = Q √(rho_cal rho_line). The float balances rho v²; so at another
 * density than that of the calibration the true volume is Q √(rho_cal / rho_line) (VDI/VDE 3513 and every textbook
 * of flow measurement; holds for the usual dense float, whose buoyancy in gas is nothing).
 *
 * @param indicated volume flow on the scale, m³/s
 * @param calibrationDensity of air at the condition the scale is made for, kg/m³
 * @param lineDensity of air in the meter, kg/m³
 */
export function variableAreaMassFlow(
  indicated: number,
  calibrationDensity: number,
  lineDensity: number,
): number {
  return indicated * Math.sqrt(calibrationDensity * lineDensity);
}

/**
 * Pressure on the scale of absolutes, Pa.
 *
 * @param line what is known of the pressure in the meter: absolute, or gauge with the room's
 * @param roomPressure absolute, Pa
 */
export function toAbsolutePressure(line: LinePressure, roomPressure: number): number {
  return 'absolutePressure' in line ? line.absolutePressure : roomPressure + line.gaugePressure;
}

/** Pressure in the meter, Pa: over nothing, or over the room. */
export type LinePressure = { readonly absolutePressure: number } | { readonly gaugePressure: number };

/** What a flow meter is, which decides what its reading means. */
export type MeterKind =
  /** A float in a tapered tube: volume at the calibration condition, corrected by the square root of density. */
  | 'variable-area'
  /** A thermal mass meter: the volume that the mass would have at the reference condition. */
  | 'thermal-mass'
  /** True volume at the pressure and temperature in the meter. */
  | 'volumetric'
  /** Mass, kg/s. */
  | 'mass';

/**
 * Mass flow of dry air through a meter, kg/s.
 *
 * @param kind what the reading means
 * @param reading m³/s, or kg/s for a mass meter
 * @param referenceDensity of air at the condition of the scale, kg/m³; used by variable-area and thermal mass meters
 * @param linePressure in the meter, absolute, Pa, 1 kPa to 1.3 MPa; used by variable-area and volumetric meters
 * @param lineTemperature in the meter, K
 */
export function meterMassFlow(
  kind: MeterKind,
  reading: number,
  referenceDensity: number,
  linePressure: number,
  lineTemperature: number,
): number {
  switch (kind) {
    case 'variable-area':
      return variableAreaMassFlow(reading, referenceDensity, airDensity(lineTemperature, linePressure));
    case 'thermal-mass':
      return reading * referenceDensity;
    case 'volumetric':
      return reading * airDensity(lineTemperature, linePressure);
    case 'mass':
      return reading;
  }
}
