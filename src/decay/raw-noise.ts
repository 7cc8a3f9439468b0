import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { fitLine, quantileOfSorted, standardDeviation } from '../statistics/index.ts';
import { findClipping } from './raw-noise-clipping.ts';
import { measureHum } from './raw-noise-hum.ts';
import { splitNoise } from './raw-noise-structure.ts';
import type { RawNoise } from './raw-noise-types.ts';
import { remembered } from './remembered.ts';
import { at } from './segment-series.ts';

/** Fewer readings than this do not show what their noise is like. */
const fewestReadings = 32;

/**
 * Noise of single readings: how much of it is white, how much is correlated and over what time, the mains hum,
 * the converter step, and where the signal was cut off at the end of a range.
 *
 * @param trace its `opening` holds the readings as they were
 * @param mains mains frequency, Hz
 * @param quiet baseline, where there is one, s; else the quietest eighth of the opening is taken
 * @returns null where there are too few readings in a row
 */
export function describeRawNoise(trace: Trace, mains: number, quiet: Span | null): RawNoise | null {
  const { opening, samplePeriod } = trace;
  const stretch = (quiet && readingsWithin(opening.length, samplePeriod, quiet)) ?? quietest(opening);
  return stretch === null ? null : noiseOfStretch(trace, mains, stretch.from, stretch.to);
}

/** Asked for the same stretch again while other marks move. */
const noiseOfStretch = remembered((trace: Trace, mains: number, from: number, to: number): RawNoise => {
  const { opening, samplePeriod } = trace;
  const part = opening.subarray(from, to);
  const straight = withoutTrend(part);
  const seen = standardDeviation(straight);
  const hum = measureHum(straight, samplePeriod, mains);
  // A still signal may sit on one value all the time: then the rest of the recording shows the steps.
  const step = converterStepOf(part) ?? converterStepOf(opening);
  // Rounding to a step has the deviation of a uniform distribution, however still the readings are.
  const deviation = Math.max(seen, (step ?? 0) / Math.sqrt(12));
  const parts = splitNoise(
    hum.amplitude ? withoutHum(straight, hum.appearsAt * samplePeriod, samplePeriod) : straight,
  );
  return {
    readings: part.length,
    from: from * samplePeriod,
    to: (to - 1) * samplePeriod,
    deviation,
    white: Math.sqrt(parts.white),
    correlated: Math.sqrt(parts.correlated),
    correlationTime: parts.memory * samplePeriod,
    hum,
    step,
    clipping: findClipping(trace.blocks, seen, step ?? 0),
  };
});

/**
 * To how many independent readings the readings of a stretch amount: the length over the time after which one
 * is independent of the next. With S = 2 s_c² t_c + s_w² Δt, the noise of a mean over T is S/T, and N
 * independent readings of the same scatter have (s_c² + s_w²)/N.
 *
 * @param noise parts as found, K; correlation time s
 * @param duration of the stretch, s
 * @param samplePeriod s
 * @returns at most the number of readings
 */
export function effectiveReadings(
  noise: Pick<RawNoise, 'white' | 'correlated' | 'correlationTime'>,
  duration: number,
  samplePeriod: number,
): number {
  const variance = noise.white ** 2 + noise.correlated ** 2;
  const density = 2 * noise.correlated ** 2 * noise.correlationTime + noise.white ** 2 * samplePeriod;
  const readings = duration / samplePeriod;
  return density > 0 ? Math.min(readings, (duration * variance) / density) : readings;
}

interface Stretch {
  readonly from: number;
  readonly to: number;
}

function readingsWithin(length: number, samplePeriod: number, span: Span): Stretch | null {
  const from = Math.max(0, Math.ceil(span.from / samplePeriod));
  const to = Math.min(length, Math.floor(span.to / samplePeriod));
  return to - from >= fewestReadings ? { from, to } : null;
}

/** The eighth of the readings that scatters least about a straight line. */
function quietest(opening: Float64Array): Stretch | null {
  const size = Math.floor(opening.length / 8);
  if (size < fewestReadings) return opening.length >= fewestReadings ? { from: 0, to: opening.length } : null;
  let best: Stretch | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let from = 0; from + size <= opening.length; from += size) {
    const scatter = standardDeviation(withoutTrend(opening.subarray(from, from + size)));
    if (scatter < least) {
      least = scatter;
      best = { from, to: from + size };
    }
  }
  return best;
}

function withoutTrend(values: Float64Array): Float64Array {
  const line = fitLine(
    Float64Array.from({ length: values.length }, (_, i) => i),
    values,
  );
  if (line === null) return values;
  return values.map((x, i) => x - line.centre.y - line.slope * (i - line.centre.x));
}

/** Takes a sine out of half-second pieces; its phase may wander from piece to piece. */
function withoutHum(values: Float64Array, frequency: number, samplePeriod: number): Float64Array {
  const result = values.slice();
  const perPiece = Math.min(
    values.length,
    Math.max(12, Math.ceil(Math.max(0.5 / samplePeriod, 4 / frequency))),
  );
  for (let from = 0; from < values.length; from += perPiece) {
    const start = Math.min(from, values.length - perPiece);
    let cosine = 0;
    let sine = 0;
    for (let i = start; i < start + perPiece; i++) {
      cosine += (2 / perPiece) * at(values, i) * Math.cos(2 * Math.PI * frequency * i);
      sine += (2 / perPiece) * at(values, i) * Math.sin(2 * Math.PI * frequency * i);
    }
    for (let i = from; i < Math.min(values.length, from + perPiece); i++) {
      const phase = 2 * Math.PI * frequency * i;
      result[i] = at(values, i) - cosine * Math.cos(phase) - sine * Math.sin(phase);
    }
  }
  return result;
}

/**
 * Step of the converter: the usual distance between neighbouring values that occur, where values occur again
 * and nearly all distances are whole multiples of it. Null where readings do not repeat.
 */
export function converterStepOf(values: Float64Array): number | null {
  const sorted = values.slice().sort();
  const distances = new Float64Array(sorted.length);
  let count = 0;
  const range = at(sorted, sorted.length - 1) - at(sorted, 0);
  for (let i = 1; i < sorted.length; i++) {
    const d = at(sorted, i) - at(sorted, i - 1);
    // Rounding of decimal numbers in binary is no step.
    if (d > 1e-9 * Math.max(1, range)) distances[count++] = d;
  }
  if (count === 0 || count * 1.25 > sorted.length) return null;
  const ordered = distances.subarray(0, count).sort();
  const step = quantileOfSorted(ordered.subarray(0, Math.max(1, Math.ceil(count / 2))), 0.5);
  const whole = ordered.filter((d) => Math.abs(d / step - Math.round(d / step)) < 0.15 && d > 0.5 * step);
  return whole.length >= 0.9 * count ? step : null;
}
