import type { ChainParameters } from './chain.ts';

/**
 * Parameters as a row of numbers, in the order below. A hundred thousand draws set their inputs by place: setting them
 * by name takes several times as long.
 */
const order = [
  'roomPressure',
  'roomTemperature',
  'airTemperature',
  'relativeHumidity',
  'speed',
  'meterReading',
  'linePressure',
  'lineTemperature',
  'nozzleDiameter',
  'standOff',
  'profileFactor',
  'decayConstant',
  'diameter',
  'density',
  'mass',
  'specificHeat',
  'conductivity',
  'emissivity',
  'startTemperature',
  'stemFactor',
  'airConductivityFactor',
  'airViscosityFactor',
  'nusseltFactor',
] as const satisfies readonly (keyof ChainParameters)[];

/** Place of a parameter in the row. */
export function placeOfParameter(name: keyof ChainParameters): number {
  return order.indexOf(name);
}

/** The row of a set of parameters. */
export function packParameters(parameters: ChainParameters): Float64Array {
  return Float64Array.from(order, (name) => parameters[name]);
}

/** The parameters of a row; the places are those of `order`. */
export function unpackParameters(row: Float64Array): ChainParameters {
  return {
    roomPressure: row[0] as number,
    roomTemperature: row[1] as number,
    airTemperature: row[2] as number,
    relativeHumidity: row[3] as number,
    speed: row[4] as number,
    meterReading: row[5] as number,
    linePressure: row[6] as number,
    lineTemperature: row[7] as number,
    nozzleDiameter: row[8] as number,
    standOff: row[9] as number,
    profileFactor: row[10] as number,
    decayConstant: row[11] as number,
    diameter: row[12] as number,
    density: row[13] as number,
    mass: row[14] as number,
    specificHeat: row[15] as number,
    conductivity: row[16] as number,
    emissivity: row[17] as number,
    startTemperature: row[18] as number,
    stemFactor: row[19] as number,
    airConductivityFactor: row[20] as number,
    airViscosityFactor: row[21] as number,
    nusseltFactor: row[22] as number,
  };
}
