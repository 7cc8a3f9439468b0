import {
  type Decay,
  type DecaySettings,
  type EndForecast,
  finishDecay,
  forecastEnd,
  prepareDecay,
} from '../decay/index.ts';
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
    end: forecastEnd(fit, heatOff, settings.endFraction),
  };
}
