export { chainUncertainty } from './accuracy.ts';
export {
  type Chain,
  ChainError,
  type DegreesChain,
  type LinearChain,
  type ReferenceJunction,
  type ResistanceChain,
  type ThermocoupleChain,
  type ToleratedSensor,
} from './chain.ts';
export {
  platinumResistance,
  platinumSensitivity,
  platinumTemperature,
  resistanceRange,
} from './resistance.ts';
export {
  type ReferenceFunction,
  thermocoupleEmf,
  thermocoupleReference,
  thermocoupleTemperature,
} from './thermocouple.ts';
export { referenceSegments, typeKExponential } from './thermocouple-reference.ts';
export {
  type Conversion,
  type OutOfRange,
  type ThermocoupleType,
  thermocoupleTypes,
} from './thermocouple-types.ts';
export {
  type PlatinumClass,
  platinumTolerance,
  type ThermocoupleClass,
  thermocoupleTolerance,
  uniformUncertainty,
} from './tolerance.ts';
export { toTrace } from './trace.ts';
export type { ChainUncertainty, Trace } from './types.ts';
