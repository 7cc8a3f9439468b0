import type { Recording } from '../recording/index.ts';
import type { ThermocoupleType } from './thermocouple-types.ts';
import type { PlatinumClass, ThermocoupleClass } from './tolerance.ts';
import type { ChainUncertainty } from './types.ts';

/** A sensor that keeps a tolerance class, where the logger has done the conversion itself. */
export type ToleratedSensor =
  | { readonly sensor: 'thermocouple'; readonly type: ThermocoupleType; readonly class: ThermocoupleClass }
  | { readonly sensor: 'platinum'; readonly class: PlatinumClass };

/** The channel is in degrees already. */
export interface DegreesChain {
  readonly kind: 'degrees';
  /** Unit of the channel, where the recording does not say or says it wrongly. */
  readonly unit?: 'degC' | 'degF' | 'K';
  readonly tolerance?: ToleratedSensor;
  /** What is known of the accuracy besides; nothing where left out. */
  readonly accuracy?: Partial<ChainUncertainty>;
}

/** Where the thermocouple's wires end. Standard uncertainties in K. */
export type ReferenceJunction =
  | { readonly kind: 'ice'; readonly standardUncertainty?: number }
  | { readonly kind: 'fixed'; readonly temperature: number; readonly standardUncertainty?: number }
  /** Recorded in another channel of the file, in degrees; its number as a column, counted from 1. */
  | { readonly kind: 'channel'; readonly column: number; readonly standardUncertainty?: number };

/** A thermocouple, perhaps through an amplifier, recorded as a voltage. */
export interface ThermocoupleChain {
  readonly kind: 'thermocouple';
  readonly type: ThermocoupleType;
  readonly junction: ReferenceJunction;
  /** Volts at the logger per volt at the thermocouple, not 0; 1 without an amplifier. May be negative. */
  readonly gain: number;
  /** Relative standard uncertainty of the gain; 0 where left out. */
  readonly gainUncertainty?: number;
  /** Volts at the logger with the input shorted, or a recording of that. */
  readonly zero: number | Recording;
  /** Standard uncertainty of the zero at the logger, V; 0, or from the recording's scatter, where left out. */
  readonly zeroUncertainty?: number;
  readonly toleranceClass?: ThermocoupleClass;
}

/** A platinum sensor recorded in ohm. */
export interface ResistanceChain {
  readonly kind: 'resistance';
  /** Resistance at 0 °C, ohm: 100 for a Pt100. */
  readonly nominal: number;
  readonly toleranceClass?: PlatinumClass;
}

/** A sensor whose voltage is proportional to temperature. */
export interface LinearChain {
  readonly kind: 'linear';
  /** K/V, not 0. */
  readonly slope: number;
  /** Temperature at 0 V, °C. */
  readonly offset: number;
  /** Relative standard uncertainty of the slope; 0 where left out. */
  readonly slopeUncertainty?: number;
  /** Standard uncertainty of the offset, K; 0 where left out. */
  readonly offsetUncertainty?: number;
}

/** How what was recorded came from a temperature. */
export type Chain = DegreesChain | ThermocoupleChain | ResistanceChain | LinearChain;

/** A chain that does not fit the recording, or is not one. */
export class ChainError extends Error {
  override readonly name = 'ChainError';
}
