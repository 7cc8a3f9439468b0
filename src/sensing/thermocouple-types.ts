/** Letter types of IEC 60584-1 that have an ITS-90 reference function. */
export type ThermocoupleType = 'B' | 'E' | 'J' | 'K' | 'N' | 'R' | 'S' | 'T';

/** All of them. */
export const thermocoupleTypes: readonly ThermocoupleType[] = ['B', 'E', 'J', 'K', 'N', 'R', 'S', 'T'];

/** Why a reading has no counterpart. */
export type OutOfRange = 'below-range' | 'above-range' | 'ambiguous' | 'not-a-number';

/** A converted value, or why there is none. */
export type Conversion =
  | { readonly ok: true; readonly value: number }
  | { readonly ok: false; readonly reason: OutOfRange };
