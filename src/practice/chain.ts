import type { BenchTrial, SimulatedChain, SimulatedOutput } from './bench-types.ts';
import { emfAt, tabulatedEmf, tabulatedMistake } from './emf.ts';
import { addCorrelatedNoise, addHum, addWhiteNoise } from './noise.ts';
import type { Streams } from './streams.ts';

/**
 * What the logger makes of the junction's temperature: noise, hum and the drift of the zero as seen in temperature,
 * then degrees or volts with the limits and the steps of the converter.
 *
 * @param junction noise-free temperature at each sample, °C
 * @param trial its chain and sampling rate
 * @param streams random numbers; each noise has its own, so that none changes another
 * @returns readings in the unit of the output
 * @throws RangeError where a thermocouple has no emf at a temperature that occurs, or a converter has no range
 */
export function throughChain(junction: Float64Array, trial: BenchTrial, streams: Streams): Float64Array {
  const { chain, logger } = trial;
  const values = Float64Array.from(junction);
  disturb(values, 1 / logger.rate, chain, streams);
  if (chain.output.kind === 'degrees') toDegrees(values, chain.output);
  else toVolts(values, chain.output);
  return values;
}

/** Adds what disturbs the signal before the converter, in K. */
function disturb(values: Float64Array, samplePeriod: number, chain: SimulatedChain, streams: Streams): void {
  addWhiteNoise(values, chain.whiteNoise, streams('white noise'));
  chain.correlatedNoise.forEach((process, i) => {
    addCorrelatedNoise(values, samplePeriod, process, streams(`correlated noise ${i + 1}`));
  });
  addHum(values, samplePeriod, chain.hum, streams('hum'));
  const { offset, zeroDrift } = chain;
  for (let i = 0; i < values.length; i++) {
    values[i] = (values[i] ?? 0) + offset + zeroDrift * i * samplePeriod;
  }
}

type Degrees = Extract<SimulatedOutput, { kind: 'degrees' }>;
type Volts = Extract<SimulatedOutput, { kind: 'volts' }>;

const fromCelsius = {
  degC: (t: number) => t,
  degF: (t: number) => 1.8 * t + 32,
  K: (t: number) => t + 273.15,
} as const;

function toDegrees(values: Float64Array, output: Degrees): void {
  const { mistaken } = output;
  const seen =
    mistaken === null || values.length === 0 ? null : tabulatedMistake(mistaken, ...extremes(values));
  const show = display(output);
  for (let i = 0; i < values.length; i++) {
    const t = values[i] ?? Number.NaN;
    values[i] = show(seen === null ? t : seen(t));
  }
}

/** Limits degrees to the range and rounds them to the step of the logged unit. */
function display(output: Degrees): (t: number) => number {
  const { range, step } = output;
  const shown = fromCelsius[output.unit];
  return (t) => {
    const value = shown(range === null ? t : Math.min(Math.max(t, range.from), range.to));
    return step > 0 ? step * Math.round(value / step) : value;
  };
}

const perVolt = { V: 1, mV: 1e3, uV: 1e6 } as const;

function toVolts(values: Float64Array, output: Volts): void {
  if (values.length === 0) return;
  const emf = tabulatedEmf(output.type, ...extremes(values));
  const reference = output.compensated ? 0 : emfAt(output.type, output.reference);
  const convert = converter(output);
  for (let i = 0; i < values.length; i++) {
    const volts = output.zero + output.gain * (emf(values[i] ?? Number.NaN) - reference);
    values[i] = convert(volts) * perVolt[output.unit];
  }
}

/** Smallest step of the converter, V; null where it has none to speak of. */
export function converterStep(output: Volts): number | null {
  if (output.bits === null) return null;
  if (output.range === null) {
    throw new RangeError(
      `A converter of ${output.bits} bits needs a range: give the output of the chain one.`,
    );
  }
  return (output.range.to - output.range.from) / 2 ** output.bits;
}

/** Limits a voltage to the converter's range and rounds it to the nearest of its 2^bits codes. */
function converter(output: Volts): (volts: number) => number {
  const { range, bits } = output;
  const step = converterStep(output);
  if (range === null) return (volts) => volts;
  if (step === null || bits === null) return (volts) => Math.min(Math.max(volts, range.from), range.to);
  const lastCode = 2 ** bits - 1;
  return (volts) => {
    const code = Math.round((volts - range.from) / step);
    return range.from + step * Math.min(Math.max(code, 0), lastCode);
  };
}

function extremes(values: Float64Array): [from: number, to: number] {
  let from = Number.POSITIVE_INFINITY;
  let to = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < from) from = value;
    if (value > to) to = value;
  }
  return [from, to];
}

/** Lowest and highest reading that the logger can give, in the unit of the output; null where there is no limit. */
export function outputLimits(
  output: SimulatedOutput,
): { readonly low: number; readonly high: number } | null {
  if (output.range === null) return null;
  const { from, to } = output.range;
  if (output.kind === 'degrees') {
    const show = display(output);
    return { low: show(from), high: show(to) };
  }
  const convert = converter(output);
  const scale = perVolt[output.unit];
  return { low: convert(from) * scale, high: convert(to) * scale };
}
