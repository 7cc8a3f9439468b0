/** Scale on which a student forms the error fraction. */
export type StudentScale =
  | { readonly kind: 'celsius' | 'fahrenheit' | 'kelvin' | 'volts' }
  /** Degrees by the table of another thermocouple type. */
  | { readonly kind: 'other-type'; readonly type: string };

/** How a student works with a recording. Each slip changes one or two of these. */
export interface StudentChoices {
  readonly scale: StudentScale;
  /**
   * `baseline`: the level before the heating; `jet`: the temperature of the jet as it is given; `none`: nothing is
   * subtracted; `last`: the last reading; `room`: a thermometer in the room.
   */
  readonly ambient: 'baseline' | 'jet' | 'none' | 'last' | 'room';
  /** `heat-off`: where the curve begins to fall; `spike`: the single highest reading, whatever it is. */
  readonly start: 'hottest' | 'heat-off' | 'spike';
  /** Where time is counted from. */
  readonly clock: 'start' | 'file' | 'heating';
  /** Whether readings before the cooling stay in. */
  readonly heatingKept: boolean;
  readonly window: 'taught' | 'none';
  readonly logarithm: 'natural' | 'base-ten';
  /** Whether the fraction of the change is taken for the error fraction that is left. */
  readonly complement: boolean;
  /** Error fraction at which the time of the point method is read. */
  readonly level: number;
  /** Whether that time is read off between two readings, or is that of the first one below the level. */
  readonly crossing: 'between' | 'first-below';
  /** What a second of the file is taken for, s: readings for seconds, ms for s. */
  readonly secondIs: number;
  readonly report: 'time-constant' | 'slope';
  /** Whether 1/slope is reported with the slope's own sign. */
  readonly signKept: boolean;
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
  complement: false,
  level: Math.exp(-1),
  crossing: 'between',
  secondIs: 1,
  report: 'time-constant',
  signKept: false,
  slopeDecimals: null,
};

/** How a student comes from a regression to an uncertainty. */
export interface UncertaintyChoices {
  /** `budget`: all that makes the time constant uncertain, as this program counts it. */
  readonly from: 'origin' | 'intercept' | 'budget';
  /** Every how many readings one was kept. */
  readonly thinnedBy: number;
  /** Whether the uncertainty of the slope is carried to the time constant, or given as it is. */
  readonly of: 'time-constant' | 'slope';
  /** What the standard uncertainty is multiplied by: Student's t for 95 %, or nothing. */
  readonly expandedBy: 'student' | 'nothing';
  /** What is given as the standard uncertainty. */
  readonly standardIs: 'standard' | 'expanded';
  /** The group's own standard uncertainty, s, where the expanded one is worked from it; else null. */
  readonly own: number | null;
}

/** As it is taught. */
export const taughtUncertainty: UncertaintyChoices = {
  from: 'origin',
  thinnedBy: 1,
  of: 'time-constant',
  expandedBy: 'student',
  standardIs: 'standard',
  own: null,
};
