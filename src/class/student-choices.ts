/** Scale on which a student forms the error fraction. */
export type StudentScale =
  | { readonly kind: 'celsius' | 'fahrenheit' | 'kelvin' | 'volts' }
  /** Degrees by the table of another thermocouple type. */
  | { readonly kind: 'other-type'; readonly type: string };

/** How a student works with a recording. Each slip changes one or two of these. */
export interface StudentChoices {
  readonly scale: StudentScale;
  /** `none`: nothing is subtracted; `last`: the last reading; `room`: a thermometer in the room. */
  readonly ambient: 'baseline' | 'none' | 'last' | 'room';
  /** `spike`: the single highest reading, whatever it is. */
  readonly start: 'hottest' | 'spike';
  /** Where time is counted from. */
  readonly clock: 'start' | 'file' | 'heating' | 'heat-off';
  /** Whether readings before the cooling stay in. */
  readonly heatingKept: boolean;
  readonly window: 'taught' | 'none';
  readonly logarithm: 'natural' | 'base-ten';
  /** Error fraction at which the time of the point method is read. */
  readonly level: number;
  /** What a second of the file is taken for, s: readings for seconds, ms for s. */
  readonly secondIs: number;
  readonly report: 'time-constant' | 'slope';
  /** Decimals to which a trend line shows its slope; null for all. */
  readonly slopeDecimals: number | null;
}

/** As it is taught. */
export const taughtChoices: StudentChoices = {
  scale: { kind: 'celsius' },
  ambient: 'baseline',
  start: 'hottest',
  clock: 'start',
  heatingKept: false,
  window: 'taught',
  logarithm: 'natural',
  level: Math.exp(-1),
  secondIs: 1,
  report: 'time-constant',
  slopeDecimals: null,
};
