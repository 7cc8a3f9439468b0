import {
  type Decay,
  type DecaySettings,
  type EndForecast,
  finishDecay,
  forecastEnd,
  prepareDecay,
} from '../decay/index.ts';
import { coarsenBlocks } from '../recording/index.ts';
import type { Trace } from '../sensing/index.ts';
import { blocksFrom } from './stretches.ts';
import type { LiveTimeConstant } from './types.ts';

/** What an analysis of the cooling so far found. Times in s, temperatures in °C. */
export interface TrialFit {
  readonly decay: Decay;
  /** Of the latest reading that it knew. */
  readonly until: number;
  readonly timeConstant: LiveTimeConstant | null;
  /** Null where no exponential can be told yet. */
  readonly curve: {
    readonly timeConstant: number;
    readonly heatOff: number;
    /** Excess over the ambient when the heat went off, K. */
    readonly step: number;
    readonly ambientAt: (time: number) => number;
  } | null;
  readonly end: EndForecast | null;
}

/**
 * Analyzes a trial as far as it is recorded, as a whole file is analyzed.
 *
 * @param from s: what lies before belongs to an earlier trial of the same recording
 */
export function fitTrial(trace: Trace, from: number, settings: DecaySettings): TrialFit {
  const blocks = blocksFrom(trace.blocks, from);
  const decay = finishDecay(prepareDecay({ ...trace, blocks }, settings));
  const until = blocks.time[blocks.length - 1] ?? 0;
  const { fit, timeConstant, segments } = decay;
  if (fit === null || timeConstant === null) {
    return { decay, until, timeConstant: null, curve: null, end: null };
  }
  const heatOff = segments.heatOff ?? segments.cooling?.from ?? fit.start;
  const { value, standardUncertainty, interval } = timeConstant;
  return {
    decay,
    until,
    timeConstant: { value, standardUncertainty, interval },
    curve: {
      timeConstant: value,
      heatOff,
      step: fit.amplitude * Math.exp((fit.start - heatOff) / value),
      ambientAt: (time) => fit.ambient + fit.drift * (time - fit.driftOrigin),
    },
    // The heat went off somewhere up to the clean cooling: a rectangle of that width (JCGM 100:2008, 4.3.7).
    end: forecastEnd(
      fit,
      heatOff,
      settings.endFraction,
      ((segments.cooling?.from ?? heatOff) - heatOff) / Math.sqrt(12),
    ),
  };
}

/** Blocks and single readings that a look in between is made on at most, about. */
const blocksForLooks = 6000;
const readingsForLooks = 8192;

/**
 * A trace on fewer blocks for a look while it grows, which costs a part of what the whole does. Blocks stay parts of a
 * mains period, or become whole ones.
 *
 * @param mains mains frequency, Hz
 */
export function coarseForLooks(trace: Trace, mains: number): Trace {
  const { blocks } = trace;
  const wanted = Math.floor(blocks.length / blocksForLooks);
  const opening = trace.opening.subarray(0, readingsForLooks);
  if (wanted < 2) return { ...trace, opening };
  const period = Math.round(1 / (mains * blocks.width));
  const factor = wanted >= period ? wanted - (wanted % Math.max(1, period)) : largestDivisor(period, wanted);
  return { ...trace, opening, blocks: coarsenBlocks(blocks, Math.max(1, factor)) };
}

function largestDivisor(of: number, atMost: number): number {
  for (let divisor = atMost; divisor > 1; divisor--) if (of % divisor === 0) return divisor;
  return 1;
}
