import type { Experiment } from '../experiment/index.ts';
import type { DialectName, SimulatedChain, SimulatedOutput } from './bench-types.ts';
import { type Draws, drawsFor, roundedDraw } from './labelled-draws.ts';
import { PracticeError } from './set-types.ts';

/** What belongs to a bench all term: its amplifier, its logger, its corner of the room. */
export interface Bench {
  readonly code: string;
  /** Its heat transfer over that of the whole rig: nozzle, stand-off, meter. */
  readonly multiplier: number;
  readonly dialect: DialectName;
  /** Standard deviation of a reading before the converter, K. */
  readonly whiteNoise: number;
  readonly correlatedNoise: { readonly standardDeviation: number; readonly correlationTime: number };
  /** Amplitude, K. */
  readonly hum: number;
  /** Error of its zero and of its reference junction, K. */
  readonly offset: number;
  /** How turbulent its jet is, about 1. */
  readonly turbulence: number;
  /** Step of a logger that shows degrees, K, where the file states none. */
  readonly step: number;
}

/** Standard deviation of the heat transfer from bench to bench of one design (common practice, no source). */
const benchSpread = 0.025;

/** Draws a bench; the n-th one gets the n-th dialect of an order that the seed gives. */
export function benchOf(seed: string, code: string, number: number, dialects: readonly DialectName[]): Bench {
  const draws = drawsFor(seed, 'bench', code);
  const order = drawsFor(seed, 'dialects').shuffled(dialects);
  const dialect = order[number % order.length];
  if (dialect === undefined) throw new PracticeError('There is no way to write a recording.');
  return {
    code,
    multiplier: draws.normal(1, benchSpread),
    dialect,
    whiteNoise: draws.between(0.03, 0.12),
    correlatedNoise: {
      standardDeviation: draws.between(0.02, 0.08),
      correlationTime: draws.between(0.1, 0.6),
    },
    hum: draws.between(0.02, 0.25),
    offset: draws.normal(0, 0.3),
    turbulence: draws.between(0.7, 1.4),
    step: [0.01, 0.02, 0.05][draws.index(3)] ?? 0.02,
  };
}

/**
 * The sensor chain of a trial. Volts where the file states a thermocouple, its reference junction and a gain; else
 * degrees from a logger that knows its sensor.
 *
 * @param rate sampling rate, Hz
 */
export function benchChain(experiment: Experiment, bench: Bench, rate: number, draws: Draws): SimulatedChain {
  const { mains, protocol } = experiment;
  // A logger that is slower than the mains averages most of the hum away.
  const hum = rate > 2.4 * mains ? bench.hum : 0.2 * bench.hum;
  return {
    whiteNoise: bench.whiteNoise,
    correlatedNoise: [bench.correlatedNoise],
    // The mains of a country stay within some hundredths of a hertz.
    hum: { amplitude: roundedDraw(hum), frequency: draws.normal(mains, 0.02) },
    offset: roundedDraw(bench.offset + draws.normal(0, 0.05)),
    zeroDrift: draws.normal(0, 0.5 * protocol.drift),
    output: outputOf(experiment, bench),
  };
}

function outputOf(experiment: Experiment, bench: Bench): SimulatedOutput {
  const { sensor, logger } = experiment;
  const reference = referenceOf(experiment);
  const resolution = logger?.resolution;
  if (sensor.thermocouple === undefined || sensor.gain === undefined || reference === null) {
    const step = resolution?.unit === 'K' ? resolution.step : bench.step;
    return { kind: 'degrees', unit: 'degC', step, range: null, mistaken: null };
  }
  const range = logger?.range ?? null;
  const levels =
    resolution?.unit === 'V' && range !== null ? (range.to - range.from) / resolution.step : null;
  const bits =
    logger?.bits ?? (levels === null ? null : Math.min(32, Math.max(1, Math.round(Math.log2(levels)))));
  return {
    kind: 'volts',
    unit: sensor.gain >= 20 ? 'V' : 'mV',
    type: sensor.thermocouple,
    reference,
    compensated: false,
    gain: sensor.gain,
    zero: sensor.zero?.value ?? 0,
    range,
    bits: range === null ? null : bits,
  };
}

/** Temperature of the reference junction, °C; null where the file does not state it as a number. */
function referenceOf({ sensor }: Experiment): number | null {
  const { junction } = sensor;
  if (junction === undefined) return null;
  if (junction === 'ice') return 0;
  const written = /^([+-]?[\d.]+)\s*(?:degC|°C)$/.exec(junction)?.[1];
  if (written === undefined) {
    throw new PracticeError(
      `Practice recordings have one channel and a reference junction at one temperature: the file says "${junction}" under sensor › junction. Write ice or a temperature such as 22.5 degC in a copy of it.`,
    );
  }
  return Number(written);
}
