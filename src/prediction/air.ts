import { dryAirMolarMass } from './air-equation.ts';
import {
  airTableRange,
  tabulatedConductivity,
  tabulatedDensity,
  tabulatedSpecificHeat,
  tabulatedVapourConductivity,
  tabulatedVapourSpecificHeat,
  tabulatedVapourViscosity,
  tabulatedViscosity,
} from './air-table.ts';
import { enhancementFactor, saturationPressure, waterMolarMass } from './water-vapour.ts';

/** Air at one temperature and pressure, SI. */
export interface AirState {
  /** K. */
  readonly temperature: number;
  /** Absolute, Pa. */
  readonly pressure: number;
  /** Mole fraction of water vapour. */
  readonly vapourFraction: number;
  /** kg/m³. */
  readonly density: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  /** Dynamic viscosity, Pa s. */
  readonly viscosity: number;
  /** W/(m K). */
  readonly conductivity: number;
  readonly prandtl: number;
}

const massRatio = dryAirMolarMass / waterMolarMass;
const fromAir = Math.sqrt(8 * (1 + massRatio));
const fromVapour = Math.sqrt(8 * (1 + 1 / massRatio));
const rootAir = massRatio ** -0.25;
const rootVapour = massRatio ** 0.25;

/**
 * Mole fraction of water vapour in air of a relative humidity: x = h f p_sv / p (Picard et al. 2008, A1.1), with the
 * saturation pressure of IAPWS-IF97.
 *
 * @param relativeHumidity 0 to 1
 * @param temperature K, 250 to 500
 * @param pressure absolute, Pa
 */
export function vapourFraction(relativeHumidity: number, temperature: number, pressure: number): number {
  if (relativeHumidity === 0) return 0;
  const fraction =
    (relativeHumidity * enhancementFactor(temperature, pressure) * saturationPressure(temperature)) /
    pressure;
  return Math.min(fraction, 1);
}

/** Whether the tables hold at a temperature in K and a pressure in Pa. */
function tabulated(temperature: number, pressure: number): boolean {
  return (
    temperature >= airTableRange.temperature[0] &&
    temperature <= airTableRange.temperature[1] &&
    pressure >= airTableRange.pressure[0] &&
    pressure <= airTableRange.pressure[1]
  );
}

/** How much less each part of moist air contributes for the company it is in (Wilke 1950, Eq. 14). */
interface Shares {
  readonly air: number;
  readonly vapour: number;
}

function mixingShares(x: number, dryViscosity: number, vapourViscosity: number): Shares {
  const ratio = Math.sqrt(dryViscosity / vapourViscosity);
  const inAir = (1 + ratio * rootAir) ** 2 / fromAir;
  const inVapour = (1 + rootVapour / ratio) ** 2 / fromVapour;
  return { air: (1 - x) / (1 - x + x * inAir), vapour: x / (x + (1 - x) * inVapour) };
}

/**
 * Viscosity of dry or moist air, Pa s.
 *
 * Dry air: Lemmon & Jacobsen (2004). Moist: the mixing rule of Wilke, J. Chem. Phys. 18 (1950) 517, Eq. 13.
 *
 * @param temperature K, 245 to 510
 * @param pressure absolute, Pa, 50 to 125 kPa
 * @param x mole fraction of water vapour, 0 to 0.3
 * @returns NaN where temperature or pressure is outside its range
 */
export function airViscosity(temperature: number, pressure: number, x = 0): number {
  if (!tabulated(temperature, pressure)) return Number.NaN;
  const dry = tabulatedViscosity(temperature, pressure);
  if (x === 0) return dry;
  const vapour = tabulatedVapourViscosity(temperature);
  const shares = mixingShares(x, dry, vapour);
  return shares.air * dry + shares.vapour * vapour;
}

/**
 * Density of dry or moist air, kg/m³.
 *
 * Dry air: Lemmon et al. (2000). Moist: the ideal mixture, which keeps the compressibility of dry air; within 2e-4
 * of CIPM-2007 in its range, 6e-4 of the CoolProp library up to a mole fraction of 0.15.
 *
 * @param temperature K, 245 to 510
 * @param pressure absolute, Pa, 1 kPa to 1.3 MPa
 * @param x mole fraction of water vapour, 0 to 0.3
 * @returns NaN where temperature or pressure is outside its range
 */
export function airDensity(temperature: number, pressure: number, x = 0): number {
  if (!(temperature >= airTableRange.temperature[0] && temperature <= airTableRange.temperature[1])) {
    return Number.NaN;
  }
  if (!(pressure >= airTableRange.densityPressure[0] && pressure <= airTableRange.densityPressure[1])) {
    return Number.NaN;
  }
  return tabulatedDensity(temperature, pressure) * (1 - x * (1 - 1 / massRatio));
}

/**
 * Dry or moist air: density, specific heat, viscosity, conductivity and Prandtl number.
 *
 * Dry air: Lemmon, Jacobsen, Penoncello & Friend (2000) and Lemmon & Jacobsen (2004). Moist air: density as in
 * `airDensity`; viscosity by Wilke (1950); conductivity by Wassiljewa with the factors of Mason & Saxena, Phys.
 * Fluids 1 (1958) 361, with their factor 1.065 taken as 1 as Poling, Prausnitz & O'Connell (The Properties of
 * Gases and Liquids, 5th ed. 2001, 10-6) recommend; specific heat by mass fractions. Moist values hold for
 * temperatures from 273 to 370 K.
 *
 * @param temperature K, 245 to 510
 * @param pressure absolute, Pa, 50 to 125 kPa
 * @param x mole fraction of water vapour, 0 to 0.3
 * @returns NaN properties where temperature or pressure is outside its range
 */
export function airState(temperature: number, pressure: number, x = 0): AirState {
  const density = airDensity(temperature, pressure, x);
  const inside = tabulated(temperature, pressure);
  let viscosity = inside ? tabulatedViscosity(temperature, pressure) : Number.NaN;
  let specificHeat = inside ? tabulatedSpecificHeat(temperature, pressure) : Number.NaN;
  let conductivity = inside ? tabulatedConductivity(temperature, pressure) : Number.NaN;
  if (x > 0 && inside) {
    const vapourViscosity = tabulatedVapourViscosity(temperature);
    const shares = mixingShares(x, viscosity, vapourViscosity);
    viscosity = shares.air * viscosity + shares.vapour * vapourViscosity;
    conductivity = shares.air * conductivity + shares.vapour * tabulatedVapourConductivity(temperature);
    const massFraction = x / (x + (1 - x) * massRatio);
    specificHeat += massFraction * (tabulatedVapourSpecificHeat(temperature) - specificHeat);
  }
  return {
    temperature,
    pressure,
    vapourFraction: x,
    density,
    specificHeat,
    viscosity,
    conductivity,
    prandtl: (viscosity * specificHeat) / conductivity,
  };
}
