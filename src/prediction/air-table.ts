import {
  dryAirCompressibility,
  dryAirIdealDensity,
  dryAirMolarDensity,
  dryAirSpecificHeat,
} from './air-equation.ts';
import { dryAirConductivity, dryAirViscosity } from './air-transport.ts';
import { smoothTable, smoothValue } from './smooth-table.ts';
import { waterVapourConductivity, waterVapourSpecificHeat, waterVapourViscosity } from './water-vapour.ts';

/**
 * The reference formulations of dry air and water vapour as polynomials in temperature and pressure. They reproduce
 * them within 1e-7 (tested) at a small part of the cost.
 */

/** Temperatures and pressures between which the tables hold. */
export const airTableRange = {
  /** K. */
  temperature: [245, 510],
  /** Pa, for everything but density. */
  pressure: [50_000, 125_000],
  /** Pa, for density: up to the line pressure of a flow meter. */
  densityPressure: [1000, 1_300_000],
} as const satisfies Record<string, readonly [number, number]>;

const { temperature: temperatures } = airTableRange;
const near = [55_000, 87_500, 120_000] as const;
const wide = [50_000, 500_000, 1_200_000] as const;
const degree = 9;

function tableOf(property: (temperature: number, molarDensity: number) => number) {
  return smoothTable(temperatures, near, degree, (t, p) => property(t, dryAirMolarDensity(t, p)));
}

function build() {
  return {
    specificHeat: tableOf(dryAirSpecificHeat),
    viscosity: tableOf(dryAirViscosity),
    conductivity: tableOf(dryAirConductivity),
    /** (Z - 1)/p, 1/Pa. */
    departure: smoothTable(temperatures, wide, degree, (t, p) => (dryAirCompressibility(t, p) - 1) / p),
    vapourViscosity: smoothTable(temperatures, near, degree, waterVapourViscosity),
    vapourConductivity: smoothTable(temperatures, near, degree, waterVapourConductivity),
    vapourSpecificHeat: smoothTable(temperatures, near, degree, waterVapourSpecificHeat),
  } as const;
}

let built: ReturnType<typeof build> | null = null;

/** The tables, made when first asked for: they take longer than a program's start should. */
function tables(): ReturnType<typeof build> {
  built ??= build();
  return built;
}

/** Density of dry air, kg/m³. Temperature in K, absolute pressure in Pa. */
export function tabulatedDensity(temperature: number, pressure: number): number {
  return (
    dryAirIdealDensity(temperature, pressure) /
    (1 + pressure * smoothValue(tables().departure, temperature, pressure))
  );
}

/** Specific heat of dry air, J/(kg K). Temperature in K, pressure in Pa. */
export function tabulatedSpecificHeat(temperature: number, pressure: number): number {
  return smoothValue(tables().specificHeat, temperature, pressure);
}

/** Viscosity of dry air, Pa s. Temperature in K, pressure in Pa. */
export function tabulatedViscosity(temperature: number, pressure: number): number {
  return smoothValue(tables().viscosity, temperature, pressure);
}

/** Thermal conductivity of dry air, W/(m K). Temperature in K, pressure in Pa. */
export function tabulatedConductivity(temperature: number, pressure: number): number {
  return smoothValue(tables().conductivity, temperature, pressure);
}

/** Viscosity of water vapour, Pa s. Temperature in K. */
export function tabulatedVapourViscosity(temperature: number): number {
  return smoothValue(tables().vapourViscosity, temperature, 0);
}

/** Thermal conductivity of water vapour, W/(m K). Temperature in K. */
export function tabulatedVapourConductivity(temperature: number): number {
  return smoothValue(tables().vapourConductivity, temperature, 0);
}

/** Specific heat of water vapour, J/(kg K). Temperature in K. */
export function tabulatedVapourSpecificHeat(temperature: number): number {
  return smoothValue(tables().vapourSpecificHeat, temperature, 0);
}
