import type { DialectName, SimulatedStem } from '../../src/practice/bench-types.ts';
import type { RemarkCode } from '../../src/remark/index.ts';

/** A body in its jet. SI. */
export interface Rig {
  readonly name: string;
  /** m. */
  readonly diameter: number;
  /** kg/m³. */
  readonly density: number;
  /** J/(kg K). */
  readonly specificHeat: number;
  /** W/(m K). */
  readonly conductivity: number;
  readonly emissivity: number;
  /** Convection in the jet, W/(m² K). */
  readonly coefficient: number;
}

/** Noise with memory: standard deviation K, correlation time s. */
export interface Memory {
  readonly standardDeviation: number;
  readonly correlationTime: number;
}

/**
 * What a scenario is for. `lumped`: one exponential describes it; these carry the targets for intervals and false
 * alarms. `conducting`: a body with a temperature profile. `stem`: a second path of the heat. `hidden`: what one
 * recording cannot show, listed but not counted.
 */
type Purpose = 'lumped' | 'conducting' | 'stem' | 'hidden';

/** Recordings of one kind. Times s, temperatures K. */
export interface Scenario {
  readonly name: string;
  readonly purpose: Purpose;
  /** What it asks of the analysis, a few words. */
  readonly about: string;
  readonly rig: Rig;
  readonly stems: readonly SimulatedStem[];
  /** Hz. */
  readonly rate: number;
  readonly baseline: number;
  /** Cooling, in lumped time constants. */
  readonly cooling: number;
  /** Correlated noise of the signal. */
  readonly correlated: readonly Memory[];
  /** White noise of a reading. */
  readonly white: number;
  readonly hum: number;
  /** Step of the converter in what is logged; 0 for none. */
  readonly step: number;
  /** Fluctuation of the air's temperature at the body. */
  readonly turbulence: Memory | null;
  /** Relative fluctuation of the coefficient. */
  readonly unsteady: Memory | null;
  /** Time in which the hot air dies away. */
  readonly tail: number;
  /** Standard deviation of the jet's temperature less that of the baseline. */
  readonly offset: number;
  /** Standard deviation of the drift of the zero, K/s. */
  readonly drift: number;
  /** Lag of the junction behind the middle of the body. */
  readonly junctionLag: number;
  /** Amplified thermocouple voltage against an ice point, or degrees. */
  readonly logged: 'degrees' | 'volts';
  /** Dialects, taken in turn. */
  readonly dialects: readonly DialectName[];
  /** Remarks that are right here, and so no false alarms. */
  readonly expected: readonly RemarkCode[];
  /** Whether the noise is Gaussian signal noise alone, so that the bound is known. */
  readonly bound: boolean;
  /** The departure that is to be found in more than 90 % of its recordings, in words; null where none is. */
  readonly detect: string | null;
  /** Recordings of a full run. */
  readonly recordings: number;
}
