import type { ThermocoupleType } from '../sensing/index.ts';

/**
 * One trial as a bench makes it: a body in air, a chain of instruments, a logger that writes text. SI; temperatures in
 * °C, differences and noise in K, times in s from the first sample.
 */
export interface BenchTrial {
  /** Any integer; everything random in the trial comes from it. */
  readonly seed: number;
  readonly body: SimulatedBody;
  readonly air: SimulatedAir;
  /** In order, not overlapping; the last one is followed by the cooling that the trial is about. */
  readonly heatings: readonly Heating[];
  /** End of the recording, s. */
  readonly length: number;
  readonly chain: SimulatedChain;
  readonly logger: SimulatedLogger;
}

/** A solid sphere with radial conduction, what leaves it, and the junction in its middle. */
export interface SimulatedBody {
  /** m. */
  readonly diameter: number;
  /** kg/m³. */
  readonly density: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  /** W/(m K). */
  readonly conductivity: number;
  /** Of its surface, 0 to 1. */
  readonly emissivity: number;
  /** Rods or wires that leave the surface and cool in the same air; each a fin with nodes of its own. */
  readonly stems: readonly SimulatedStem[];
  /** Lag of the junction behind the middle of the body, s; 0 where it has the same temperature. */
  readonly junctionLag: number;
  /** The adhesive gives way at the first time the middle passes a temperature: from then on another lag. */
  readonly melting: { readonly above: number; readonly lag: number } | null;
}

/** A fin: a rod or wire of one diameter. */
export interface SimulatedStem {
  /** m. */
  readonly diameter: number;
  /** m, > 0; the far end passes no heat. */
  readonly length: number;
  /** kg/m³. */
  readonly density: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  /** W/(m K). */
  readonly conductivity: number;
  /** About the stem in the jet, W/(m² K). */
  readonly coefficient: number;
}

/** The air that the body stands in while it is not heated, and what it does over time. */
export interface SimulatedAir {
  /** At the body before the heating, °C. */
  readonly ambient: number;
  /** Of the jet during the cooling less that, K: expanded supply air is a little colder. */
  readonly jetOffset: number;
  /** Slow drift of all air temperatures, K/s. */
  readonly drift: number;
  /** Of the walls, for radiation, °C. */
  readonly surroundings: number;
  /** Convection about the body in the jet, W/(m² K), without radiation and stems. */
  readonly coefficient: number;
  /** Relative standard deviation and correlation time (s) of a fluctuation of all coefficients. */
  readonly coefficientFluctuation: { readonly relative: number; readonly correlationTime: number } | null;
  /** From a time on, the coefficients of body and stems are multiplied by a factor: a jet that was turned, or off. */
  readonly jetChange: { readonly at: number; readonly factor: number } | null;
  /** Fluctuation of the air's temperature at the body, which the body follows as far as its inertia lets it. */
  readonly turbulence: { readonly standardDeviation: number; readonly correlationTime: number } | null;
}

/** Hot air on the body. */
export interface Heating {
  /** s. */
  readonly from: number;
  readonly to: number;
  /** Of the stream, °C. */
  readonly stream: number;
  /** Convection about the body in the stream, W/(m² K); stems get the same factor of their coefficient as the body. */
  readonly coefficient: number;
  /** Times in which the stream's excess builds up and dies away, s; 0 for a step. */
  readonly rise: number;
  readonly tail: number;
  /** Relative slow wander of the stream's excess, as a hand makes it. */
  readonly wander: number;
}

/** From the junction to the number that is logged. */
export interface SimulatedChain {
  /** Noise of a reading before the converter, referred to temperature. */
  readonly whiteNoise: number;
  /** Noise of the signal with memory, referred to temperature, K and s; several add up. */
  readonly correlatedNoise: readonly {
    readonly standardDeviation: number;
    readonly correlationTime: number;
  }[];
  /** Amplitude of the mains hum, K, and mains frequency, Hz. */
  readonly hum: { readonly amplitude: number; readonly frequency: number };
  /** What the zero adds at the start, K, and its drift, K/s, as seen in temperature. */
  readonly offset: number;
  readonly zeroDrift: number;
  readonly output: SimulatedOutput;
}

/** A logger that is set to another type than the junction's, and adds the emf of its terminals by that type. */
export interface MistakenType {
  readonly junction: ThermocoupleType;
  readonly setTo: ThermocoupleType;
  /** Temperature of the logger's terminals, °C; it shows a junction of that temperature rightly. */
  readonly terminals: number;
}

/** What the logger is given. */
export type SimulatedOutput =
  /** Degrees from a logger that knows the sensor; `step` in the logged unit, 0 for none. */
  | {
      readonly kind: 'degrees';
      readonly unit: 'degC' | 'degF' | 'K';
      readonly step: number;
      /** Readings are held at the ends of this range, in °C. */
      readonly range: { readonly from: number; readonly to: number } | null;
      /** Null for a logger that is set to the junction's own type. */
      readonly mistaken: MistakenType | null;
    }
  /** A voltage: zero + gain × (E(junction) − E(reference junction)). */
  | {
      readonly kind: 'volts';
      readonly unit: 'V' | 'mV' | 'uV';
      readonly type: ThermocoupleType;
      /** Temperature of the reference junction, °C: 0 for an ice point. */
      readonly reference: number;
      /** Whether electronics add the emf of the reference junction. */
      readonly compensated: boolean;
      readonly gain: number;
      /** V at the logger. */
      readonly zero: number;
      /** V at the logger; null for none. */
      readonly range: { readonly from: number; readonly to: number } | null;
      /** Converter bits over the range; null for none. */
      readonly bits: number | null;
    };

/** Which way a logger's text file is written; what each means stands in `dialects`. */
export type DialectName =
  | 'plain-tab'
  | 'comma-header'
  | 'semicolon-comma'
  | 'bare-column'
  | 'headed-column'
  | 'unit-row'
  | 'name-comment-unit'
  | 'key-values'
  | 'comment-block'
  | 'date-time'
  | 'date-and-time'
  | 'time-of-day'
  | 'past-midnight'
  | 'clock-put-back'
  | 'repeated-stamps'
  | 'milliseconds'
  | 'minutes'
  | 'sample-number'
  | 'byte-order-mark'
  | 'utf-16'
  | 'trailing-delimiter'
  | 'unnamed-column'
  | 'restarted'
  | 'overload-words'
  | 'indefinite-words'
  | 'overload-numbers'
  | 'spaces'
  | 'cut-last-line'
  | 'blank-lines'
  | 'second-channel'
  | 'reference-first'
  | 'cycle-counter';

/** How the recording is sampled and written. */
export interface SimulatedLogger {
  /** True sampling rate, Hz. */
  readonly rate: number;
  /** Rate that the header states, Hz; null for the true one. */
  readonly statedRate: number | null;
  readonly dialect: DialectName;
  /** A spreadsheet opened and saved the file: decimal commas, few decimals, its own delimiter. */
  readonly resaved: boolean;
  /** What the header calls the bench, and when the recording started (local, ISO 8601 without zone). */
  readonly bench: string;
  readonly startedAt: string;
}

/** What the simulator knows and a recording only shows. */
export interface BenchTruth {
  /**
   * Time constant, s: of the noise-free reading of the junction, −1/slope of ln(error fraction) against time between
   * 0.9 and 0.1 of the step, ordinary least squares with intercept over true excess to the true air temperature. Null
   * where the cooling does not go through that window.
   */
  readonly timeConstant: number | null;
  /** m c over (h + radiation at mid-cooling) A of the bare body, s: what a lumped balance without stems would give. */
  readonly lumpedTimeConstant: number;
  /** (h + radiation) L/k with L = volume over area. */
  readonly biot: number;
  /** Largest true temperature of the middle of the body, °C. */
  readonly peak: number;
  /** When the heat went on and off for the cooling that counts, s. */
  readonly heatOn: number;
  readonly heatOff: number;
  /** Of the air during the cooling, at heat-off, °C. */
  readonly coolingAir: number;
  /** True error fraction of the last sample. */
  readonly endFraction: number;
}

/** A simulated recording before it is text. */
export interface BenchReadings {
  readonly trial: BenchTrial;
  readonly truth: BenchTruth;
  /** Noise-free temperature of the junction at each sample, °C. */
  readonly junction: Float64Array;
  /** What was logged, in the unit of the output. */
  readonly logged: Float64Array;
}
