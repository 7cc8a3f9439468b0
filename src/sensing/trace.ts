import { type Blocks, eachColumn, type Recording } from '../recording/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import { chainUncertainty } from './accuracy.ts';
import type { Chain } from './chain.ts';
import { describeChain } from './describe.ts';
import { type Scale, scaleOf } from './scale.ts';
import type { Trace } from './types.ts';

/**
 * Turns a recording into degrees.
 *
 * Means are converted with the second-order term for the spread inside a block, which matters where a block holds
 * a steep piece of a bent scale; squares by the square of the local slope; extremes by the scale itself. Readings
 * outside the scale's range are left out and said in a remark `chain-out-of-range`: nothing is extrapolated.
 *
 * @param recording in any unit that the chain starts from
 * @param chain how the readings came from a temperature
 * @returns remarks of the recording and of the chain
 * @throws ChainError where the chain does not fit the recording
 */
export function toTrace(recording: Recording, chain: Chain): Trace {
  const scale = scaleOf(recording, chain);
  const { blocks, lost } = convertBlocks(recording.blocks, scale);
  const samplePeriod = 1 / recording.rate;
  const [cold, hot] = span(blocks.mean);
  return {
    name: recording.name,
    blocks,
    samplePeriod,
    opening: convertOpening(recording.opening, samplePeriod, scale),
    chain: chainUncertainty(chain, cold, hot),
    described: describeChain(chain),
    remarks:
      lost === null ? recording.remarks : [...recording.remarks, outOfRange(lost, scale, recording.blocks)],
  };
}

interface Lost {
  /** Blocks without a temperature. */
  readonly count: number;
  readonly at: Span;
}

/** Extremes this near the mean, K, are converted by the curve of the scale at the mean, to 1e-6 K. */
const nearMean = 0.5;

function convertBlocks(from: Blocks, scale: Scale): { blocks: Blocks; lost: Lost | null } {
  const length = from.length;
  // What does not change is shared with the recording unless blocks are left out.
  let { cell, time, count } = from;
  const mean = new Float64Array(length);
  const squares = new Float64Array(length);
  const min = new Float64Array(length);
  const max = new Float64Array(length);
  let kept = 0;
  let lost = 0;
  let firstLost = 0;
  let lastLost = 0;
  let near: number | undefined;
  for (let i = 0; i < length; i++) {
    const at = from.time[i] ?? Number.NaN;
    const x = from.mean[i] ?? Number.NaN;
    const n = from.count[i] ?? 1;
    const shift = scale.shiftAt(at);
    const t = scale.temperature(x, shift, near);
    if (Number.isNaN(t)) {
      if (lost === 0) {
        firstLost = at;
        [cell, time, count] = [cell.slice(), time.slice(), count.slice()];
      }
      lastLost = at;
      lost++;
      continue;
    }
    near = t;
    if (lost > 0) {
      cell[kept] = from.cell[i] ?? Number.NaN;
      time[kept] = at;
      count[kept] = n;
    }
    if (n === 1) {
      mean[kept] = t;
      min[kept] = t;
      max[kept] = t;
    } else {
      const slope = scale.slope(t);
      const bend = scale.curvature(t, slope) / 2;
      const spread = from.squares[i] ?? 0;
      const extreme = (end: number): number => {
        const d = end - x;
        if (Math.abs(d * slope) < nearMean) return t + d * (slope + bend * d);
        const exact = scale.temperature(end, shift, t);
        // An extreme outside the range while the mean is inside: the mean stands in, the remark below speaks.
        return Number.isNaN(exact) ? t : exact;
      };
      const low = extreme(from.min[i] ?? x);
      const high = extreme(from.max[i] ?? x);
      squares[kept] = spread * slope * slope;
      min[kept] = Math.min(low, high);
      max[kept] = Math.max(low, high);
      // Two terms of a series can overshoot where single readings lie far off; a mean cannot.
      mean[kept] = Math.min(Math.max(t + (bend * spread) / n, Math.min(low, high)), Math.max(low, high));
    }
    kept++;
  }
  const cut = (values: Float64Array) => (kept === length ? values : values.slice(0, kept));
  return {
    blocks: {
      length: kept,
      width: from.width,
      ...eachColumn({ cell, time, count, mean, squares, min, max }, cut),
    },
    lost: lost === 0 ? null : { count: lost, at: { from: firstLost, to: lastLost } },
  };
}

/** Single samples; one outside the range repeats the one before it, so that the spacing stays even. */
function convertOpening(opening: Float64Array, samplePeriod: number, scale: Scale): Float64Array {
  const degrees = new Float64Array(opening.length);
  let kept = 0;
  let last: number | undefined;
  for (let i = 0; i < opening.length; i++) {
    const t = scale.temperature(opening[i] ?? Number.NaN, scale.shiftAt(i * samplePeriod), last);
    if (Number.isNaN(t)) {
      if (last === undefined) continue;
    } else {
      last = t;
    }
    degrees[kept++] = last ?? t;
  }
  return kept === opening.length ? degrees : degrees.slice(0, kept);
}

/** With more of the readings than this out of range, unit, sensor or amplifier cannot be what was told. */
const mostLost = 0.2;

function outOfRange(lost: Lost, scale: Scale, all: Blocks): Remark {
  const { from, to } = lost.at;
  const everything = lost.count === all.length;
  const part = ((100 * lost.count) / all.length).toPrecision(2);
  return {
    code: 'chain-out-of-range',
    severity: lost.count > mostLost * all.length ? 'repeat' : 'caution',
    message: everything
      ? `No reading lies within ${scale.range}.`
      : `${part} % of the readings, between ${from.toFixed(1)} s and ${to.toFixed(1)} s, lie outside ${scale.range}; they were left out.`,
    action:
      'Check the unit of the channel, the sensor type, the gain and zero of the amplifier, and the wiring.',
    at: lost.at,
  };
}

/** Lowest and highest value; 0 and 0 for none. */
function span(values: Float64Array): [number, number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low <= high ? [low, high] : [0, 0];
}
