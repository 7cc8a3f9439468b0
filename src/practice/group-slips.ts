/** How a group works with a recording. A slip changes one of these. */
export interface SheetPlan {
  /** `volts`: what the logger wrote; the last two: degrees by the table of another type. */
  readonly scale: 'celsius' | 'fahrenheit' | 'kelvin' | 'volts' | 'type J' | 'type K';
  readonly subtract: 'baseline' | 'nothing' | 'last' | 'room';
  readonly zero: 'start' | 'file' | 'heating';
  readonly keepHeating: boolean;
  /** Error fraction of the point. */
  readonly level: number;
  readonly logarithm: 'ln' | 'lg';
  /** What a second is counted as; null for one a reading. */
  readonly second: number | null;
  readonly hand: 'time constant' | 'slope' | 'negative';
  readonly decimals: number | null;
  readonly window: boolean;
  /** u(slope) for u(tau); what multiplies the standard uncertainty is left out, or is in it already. */
  readonly error: 'time constant' | 'slope';
  readonly expand: boolean;
  readonly expandFirst: boolean;
}

/** How a group works from the flow meter to the time constant. */
export interface PredictionPlan {
  readonly meter:
    | 'right'
    | 'as read'
    | 'scale volume'
    | 'no root'
    | 'gauge'
    | 'celsius'
    | 'twenty'
    | 'in the meter';
  /** What volume flow is multiplied by. */
  readonly volume: number;
  readonly nozzleArea: 'right' | 'pi d2' | 'radius' | 'body';
  /** What the diameter is multiplied by, everywhere. */
  readonly diameter: number;
  readonly reynoldsLength: number;
  readonly nusseltLength: number;
  readonly nusseltConductivity: 'air' | 'body';
  /** Volume over area, as a part of the diameter. */
  readonly length: number;
  readonly mass: number;
  readonly specificHeat: number;
  /** Null for the length of the time constant. */
  readonly biotLength: number | null;
  readonly biotConductivity: 'body' | 'air';
  /** Whether the accuracy of the correlation is divided by its coverage factor. */
  readonly divided: boolean;
  readonly expand: boolean;
  readonly expandFirst: boolean;
}

export const goodSheet: SheetPlan = {
  scale: 'celsius',
  subtract: 'baseline',
  zero: 'start',
  keepHeating: false,
  level: 0.368,
  logarithm: 'ln',
  second: 1,
  hand: 'time constant',
  decimals: null,
  window: true,
  error: 'time constant',
  expand: true,
  expandFirst: false,
};

export const goodPrediction: PredictionPlan = {
  meter: 'right',
  volume: 1,
  nozzleArea: 'right',
  diameter: 1,
  reynoldsLength: 1,
  nusseltLength: 1,
  nusseltConductivity: 'air',
  length: 1 / 6,
  mass: 1,
  specificHeat: 1,
  biotLength: null,
  biotConductivity: 'body',
  divided: true,
  expand: true,
  expandFirst: false,
};

/** What must be so at a bench for a slip to be possible there. */
type Needs = 'room' | 'volts' | 'volts of another type' | 'float' | 'gauge' | 'accuracy';

/** What a slip changes. */
export interface GroupSlip {
  readonly sheet?: Partial<SheetPlan>;
  readonly prediction?: Partial<PredictionPlan>;
  readonly needs?: Needs;
}

/** Slips that groups of a practice set make, by name (common practice, no source). */
export const groupSlips = {
  'ambient-not-subtracted': { sheet: { subtract: 'nothing' } },
  'ambient-not-subtracted-kelvin': { sheet: { subtract: 'nothing', scale: 'kelvin' } },
  'ambient-not-subtracted-fahrenheit': { sheet: { subtract: 'nothing', scale: 'fahrenheit' } },
  'ambient-last-reading': { sheet: { subtract: 'last' } },
  'ambient-of-the-room': { sheet: { subtract: 'room' }, needs: 'room' },
  'clock-from-file': { sheet: { zero: 'file' } },
  'clock-from-heating': { sheet: { zero: 'heating' } },
  'heating-kept': { sheet: { keepHeating: true, zero: 'heating' } },
  'complement-level': { sheet: { level: 0.632 } },
  'half-level': { sheet: { level: 0.5 } },
  'tenth-level': { sheet: { level: 0.1 } },
  'base-ten': { sheet: { logarithm: 'lg' } },
  'slope-reported': { sheet: { hand: 'slope' } },
  'sign-dropped': { sheet: { hand: 'negative' } },
  'slope-rounded': { sheet: { decimals: 2 } },
  'readings-as-seconds': { sheet: { second: null } },
  milliseconds: { sheet: { second: 1000 } },
  minutes: { sheet: { second: 1 / 60 } },
  'rate-tenfold': { sheet: { second: 10 } },
  'rate-tenth': { sheet: { second: 0.1 } },
  'no-window': { sheet: { window: false } },
  'volts-as-degrees': { sheet: { scale: 'volts' }, needs: 'volts' },
  'decoded-as-j': { sheet: { scale: 'type J' }, needs: 'volts of another type' },
  'decoded-as-k': { sheet: { scale: 'type K' }, needs: 'volts of another type' },
  'uncertainty-of-slope': { sheet: { error: 'slope' } },
  'not-expanded': { sheet: { expand: false } },
  'expanded-as-standard': { sheet: { expandFirst: true } },
  'minute-for-second': { prediction: { volume: 60 }, needs: 'float' },
  'minute-for-hour': { prediction: { volume: 1 / 60 }, needs: 'float' },
  litres: { prediction: { volume: 1000 }, needs: 'float' },
  'pressure-correction-left-out': { prediction: { meter: 'as read' }, needs: 'float' },
  'standard-for-actual': { prediction: { meter: 'scale volume' }, needs: 'float' },
  'root-left-out': { prediction: { meter: 'no root' }, needs: 'float' },
  'gauge-for-absolute': { prediction: { meter: 'gauge' }, needs: 'gauge' },
  'celsius-for-kelvin': { prediction: { meter: 'celsius' }, needs: 'float' },
  'other-standard': { prediction: { meter: 'twenty' }, needs: 'float' },
  'not-expanded-in-nozzle': { prediction: { meter: 'in the meter' }, needs: 'float' },
  'nozzle-area-pi-d-squared': { prediction: { nozzleArea: 'pi d2' }, needs: 'float' },
  'nozzle-radius': { prediction: { nozzleArea: 'radius' }, needs: 'float' },
  'body-for-nozzle': { prediction: { nozzleArea: 'body' }, needs: 'float' },
  'radius-for-diameter': { prediction: { diameter: 0.5 } },
  'diameter-doubled': { prediction: { diameter: 2 } },
  'millimetres-as-inches': { prediction: { diameter: 25.4 } },
  'millimetres-as-centimetres': { prediction: { diameter: 10 } },
  'radius-in-reynolds': { prediction: { reynoldsLength: 0.5 } },
  'radius-in-nusselt': { prediction: { nusseltLength: 0.5 } },
  'body-conductivity-in-nusselt': { prediction: { nusseltConductivity: 'body' } },
  'radius-for-volume-to-area': { prediction: { length: 1 / 2 } },
  'diameter-for-volume-to-area': { prediction: { length: 1 } },
  'projected-area': { prediction: { length: 2 / 3 } },
  'grams-as-kilograms': { prediction: { mass: 1000 } },
  'kilojoules-as-joules': { prediction: { specificHeat: 0.001 } },
  'biot-with-diameter': { prediction: { biotLength: 1 } },
  'biot-with-radius': { prediction: { biotLength: 1 / 2 } },
  'air-conductivity-in-biot': { prediction: { biotConductivity: 'air' } },
  'accuracy-as-standard': { prediction: { divided: false }, needs: 'accuracy' },
  'prediction-not-expanded': { prediction: { expand: false } },
  'prediction-expanded-as-standard': { prediction: { expandFirst: true } },
} as const satisfies Readonly<Record<string, GroupSlip>>;

/** Name of a slip that a simulated group can make in its sheet. */
export type GroupSlipName = keyof typeof groupSlips;
