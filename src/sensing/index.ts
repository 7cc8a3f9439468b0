export {
  type ReferenceFunction,
  thermocoupleEmf,
  thermocoupleReference,
  thermocoupleTemperature,
} from './thermocouple.ts';
export {
  type Conversion,
  type OutOfRange,
  type ThermocoupleType,
  thermocoupleTypes,
} from './thermocouple-types.ts';
export type { ChainUncertainty, Trace } from './types.ts';
