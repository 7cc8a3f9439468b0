import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { ambientUsed } from './ambient.ts';
import { readingsWanted } from './classroom-start.ts';
import type { ClassroomInput } from './classroom-types.ts';
import { type FittedCooling, fitCooling } from './cooling.ts';
import type { DecayFit } from './fit-types.ts';
import { noiseFreedom } from './noise.ts';
import { describeRawNoise } from './raw-noise.ts';
import type { RawNoise } from './raw-noise-types.ts';
import { findSegments } from './segment.ts';
import { at } from './segment-series.ts';
import { defaultSegmentSettings } from './segment-settings.ts';
import type { Segmentation } from './segment-types.ts';
import type { DecaySettings } from './settings.ts';
import type { Ambient } from './types.ts';

/** A recording as far as it can be analyzed from its blocks alone. */
export interface PreparedDecay {
  readonly trace: Trace;
  readonly settings: DecaySettings;
  readonly segmentation: Segmentation;
  readonly cooling: FittedCooling | null;
  readonly noise: RawNoise | null;
  /** Null without a fit. */
  readonly classroom: { readonly input: ClassroomInput; readonly ambient: Ambient } | null;
  /**
   * Stretches of which single readings would make the values as a classroom reads them exact: about the hottest
   * reading and about the 36.8 % point. Empty where every block is one reading.
   */
  readonly readingsWanted: readonly Span[];
}

/**
 * Finds the parts of a recording and fits the cooling.
 *
 * @param trace recording in °C
 * @param settings how the trial is judged
 */
export function prepareDecay(trace: Trace, settings: DecaySettings): PreparedDecay {
  const segmentation = findSegments(trace, {
    ...defaultSegmentSettings,
    mains: settings.mains,
    heating: settings.heating,
    endFraction: settings.endFraction,
    baseline: settings.marks.baseline,
    cooling: settings.marks.cooling,
  });
  const cooling = fitCooling(trace, segmentation, settings);
  const noise = describeRawNoise(trace, settings.mains, segmentation.segments.baseline);
  const base = { trace, settings, segmentation, cooling, noise };
  if (cooling === null || cooling.fit.kind === 'failed') {
    return { ...base, classroom: null, readingsWanted: [] };
  }
  const ambient = ambientUsed(cooling.prior, cooling.fit, cooling.baseline, settings, cooling.freed);
  const input = classroomInput(base, cooling, cooling.fit, ambient);
  const coarse = trace.blocks.width > 1.5 * trace.samplePeriod;
  return { ...base, classroom: { input, ambient }, readingsWanted: coarse ? readingsWanted(input) : [] };
}

/** A classroom takes the baseline, however the cooling contradicts it; its true uncertainty takes that in. */
function classroomAmbient(
  { baseline, freed }: FittedCooling,
  fit: DecayFit,
  ambient: Ambient,
  start: number,
): ClassroomInput['ambient'] {
  const time = baseline?.midTime ?? start;
  if (freed === null || baseline === null) {
    return { value: ambient.value, standardUncertainty: ambient.standardUncertainty, time };
  }
  const later = at(fit.time, fit.time.length - 1);
  const difference = fit.ambient + fit.drift * (later - fit.driftOrigin) - baseline.mean;
  const standardUncertainty = Math.hypot(ambient.standardUncertainty, difference);
  return { value: baseline.mean, standardUncertainty, time };
}

function classroomInput(
  {
    trace,
    settings,
    segmentation,
    noise,
  }: Pick<PreparedDecay, 'trace' | 'settings' | 'segmentation' | 'noise'>,
  cooling: FittedCooling,
  fit: DecayFit,
  ambient: Ambient,
): ClassroomInput {
  const { segments } = segmentation;
  const start = segments.heatOff ?? segments.cooling?.from ?? fit.start;
  const end = segments.cooling?.to ?? at(fit.time, fit.time.length - 1);
  return {
    trace,
    window: cooling.blocks,
    noise: fit.noise,
    noiseDegrees: noiseFreedom(fit.noise, end - fit.start),
    readingDeviation: noise?.deviation ?? Math.sqrt(fit.noise.variance),
    heatOff: start,
    trial: { from: segments.heating?.from ?? start, to: end },
    ambient: classroomAmbient(cooling, fit, ambient, start),
    driftUncertainty: cooling.driftUncertainty,
    fit,
    upper: settings.window.from,
    lower: settings.window.to,
  };
}
