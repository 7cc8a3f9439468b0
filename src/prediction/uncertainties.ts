import type { Input } from '../quantity/index.ts';
import type { ChainParameters, ChainSetup } from './chain.ts';
import { usualDecayConstant } from './jet.ts';
import type { PreparedChain } from './setup.ts';

/** Name of an input that can carry an uncertainty. */
export type ParameterName = keyof ChainParameters;

/** One input of the prediction that carries an uncertainty. */
export interface PredictionParameter {
  readonly name: ParameterName;
  readonly description: string;
  readonly unit: string;
  /** Standard uncertainty where the user states none: in the unit, or as a part of the value. Common practice. */
  readonly typical: { readonly absolute: number } | { readonly relative: number };
  /** Whether a condition uses it. */
  readonly used: (setup: ChainSetup, p: ChainParameters) => boolean;
}

const always = () => true;
const flowing = (setup: ChainSetup) => setup.flow !== 'still';
const jet = (setup: ChainSetup) => setup.flow === 'jet';
const lined = (setup: ChainSetup) =>
  jet(setup) && (setup.meterKind === 'variable-area' || setup.meterKind === 'volumetric');
const sphere = (setup: ChainSetup) => setup.shape === 'sphere';

/** Every input that can carry an uncertainty, in the order of a budget. */
export const predictionParameters: readonly PredictionParameter[] = [
  {
    name: 'nusseltFactor',
    description: 'what the correlations are off by, about body and wires alike',
    unit: '1',
    // Replaced by the accuracy that the user states for correlations.
    typical: { absolute: 0.15 },
    used: always,
  },
  {
    name: 'diameter',
    description: 'diameter of the body, which enters area, volume and Reynolds number',
    unit: 'm',
    typical: { absolute: 2e-5 },
    used: always,
  },
  {
    name: 'mass',
    description: 'mass of the body',
    unit: 'kg',
    typical: { relative: 0.002 },
    used: (setup) => setup.weighed,
  },
  {
    name: 'density',
    description: 'density of the body',
    unit: 'kg/m³',
    typical: { relative: 0.01 },
    used: (setup) => !setup.weighed,
  },
  {
    name: 'specificHeat',
    description: 'specific heat of the body',
    unit: 'J/(kg K)',
    typical: { relative: 0.02 },
    used: always,
  },
  {
    name: 'conductivity',
    description: 'conductivity of the body',
    unit: 'W/(m K)',
    typical: { relative: 0.1 },
    used: sphere,
  },
  {
    name: 'meterReading',
    description: 'reading of the flow meter',
    unit: 'm³/s',
    typical: { relative: 0.025 },
    used: jet,
  },
  {
    name: 'linePressure',
    description: 'pressure in the flow meter',
    unit: 'Pa',
    typical: { absolute: 3000 },
    used: lined,
  },
  {
    name: 'lineTemperature',
    description: 'temperature in the flow meter',
    unit: 'K',
    typical: { absolute: 2 },
    used: lined,
  },
  {
    name: 'nozzleDiameter',
    description: 'diameter of the nozzle',
    unit: 'm',
    typical: { absolute: 5e-5 },
    used: jet,
  },
  {
    name: 'standOff',
    description: 'distance from the nozzle',
    unit: 'm',
    typical: { absolute: 2e-3 },
    used: jet,
  },
  {
    name: 'profileFactor',
    description: 'speed on the axis over the mean in the nozzle',
    unit: '1',
    typical: { absolute: 0.03 },
    used: jet,
  },
  {
    name: 'decayConstant',
    description: 'constant of the decay of the jet',
    unit: '1',
    typical: { absolute: usualDecayConstant.standardUncertainty },
    used: jet,
  },
  {
    name: 'speed',
    description: 'speed of the air',
    unit: 'm/s',
    typical: { relative: 0.03 },
    used: (setup) => setup.flow === 'speed',
  },
  {
    name: 'roomPressure',
    description: 'pressure in the room',
    unit: 'Pa',
    typical: { absolute: 200 },
    used: always,
  },
  {
    name: 'roomTemperature',
    description: 'temperature of the room',
    unit: 'K',
    typical: { absolute: 0.5 },
    used: always,
  },
  {
    name: 'airTemperature',
    description: 'temperature of the moving air',
    unit: 'K',
    typical: { absolute: 1 },
    used: flowing,
  },
  {
    name: 'relativeHumidity',
    description: 'relative humidity of the air at the body',
    unit: '1',
    typical: { absolute: 0.05 },
    used: (_, p) => p.relativeHumidity > 0,
  },
  {
    name: 'airConductivityFactor',
    description: 'what the conductivity of air is off by',
    unit: '1',
    typical: { absolute: 0.01 },
    used: always,
  },
  {
    name: 'airViscosityFactor',
    description: 'what the viscosity of air is off by',
    unit: '1',
    typical: { absolute: 0.005 },
    used: always,
  },
  {
    name: 'startTemperature',
    description: 'temperature of the body as the cooling starts',
    unit: 'K',
    typical: { absolute: 3 },
    used: always,
  },
  {
    name: 'emissivity',
    description: 'emissivity of the body',
    unit: '1',
    typical: { relative: 0.3 },
    used: (_, p) => p.emissivity > 0,
  },
  {
    name: 'stemFactor',
    description: 'what the conductance of the wires is off by',
    unit: '1',
    typical: { absolute: 0.3 },
    used: (setup) => setup.wires.length > 0,
  },
];

/** Standard uncertainties that replace the typical ones, in the unit of their input; 0 takes an input as exact. */
export type PredictionUncertainties = Readonly<Partial<Record<ParameterName, number>>>;

/** How well correlations are trusted: ± a part of the Nusselt number, and how many standard uncertainties that is. */
export interface CorrelationAccuracy {
  readonly relative: number;
  readonly coverageFactor: number;
}

/** ±30 %, as textbooks say of Whitaker's correlation, read as an expanded uncertainty with k = 2 (common practice). */
export const usualCorrelationAccuracy: CorrelationAccuracy = { relative: 0.3, coverageFactor: 2 };

/**
 * The inputs of one condition with their standard uncertainties.
 *
 * @param prepared the chain
 * @param given standard uncertainties that replace the typical ones
 * @param accuracy of the correlation
 * @throws RangeError for a standard uncertainty that is not a number of at least 0, or an accuracy without sense
 */
export function uncertainInputs(
  prepared: PreparedChain,
  given: PredictionUncertainties,
  accuracy: CorrelationAccuracy,
): readonly (Input & { readonly name: ParameterName })[] {
  const { relative, coverageFactor } = accuracy;
  if (!(relative >= 0 && relative < 1 && coverageFactor > 0 && Number.isFinite(coverageFactor))) {
    throw new RangeError(
      `The accuracy of the correlation is ${relative} at k = ${coverageFactor}: give a part between 0 and 1 and a factor above 0.`,
    );
  }
  const { parameters, setup } = prepared;
  const usedOnes = predictionParameters.filter((parameter) => parameter.used(setup, parameters));
  return usedOnes.map(({ name, unit, typical }) => {
    const value = parameters[name];
    const usual = 'absolute' in typical ? typical.absolute : typical.relative * Math.abs(value);
    const standard = name === 'nusseltFactor' ? relative / coverageFactor : usual;
    const standardUncertainty = given[name] ?? standard;
    if (!(standardUncertainty >= 0 && Number.isFinite(standardUncertainty))) {
      throw new RangeError(
        `The standard uncertainty of ${name} is ${standardUncertainty}: give a number of at least 0 in ${unit}.`,
      );
    }
    return {
      name,
      value,
      unit: name === 'meterReading' && setup.meterKind === 'mass' ? 'kg/s' : unit,
      standardUncertainty,
    };
  });
}
