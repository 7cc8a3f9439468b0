import { logCoverageInterval, usualCoverage } from '../quantity/index.ts';
import type { Remark, Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import { budgetOf } from './budget.ts';
import { classroomEstimates } from './classroom.ts';
import type { ClassroomResult, RawSamples } from './classroom-types.ts';
import { readFingerprint } from './fingerprint.ts';
import type { DecayFit } from './fit-types.ts';
import { type PreparedDecay, prepareDecay } from './prepare.ts';
import { effectiveReadings } from './raw-noise.ts';
import { decayRemarks } from './remarks.ts';
import type { CoolingPoint, Decay, TimeConstant } from './result.ts';
import { type DecaySettings, usualDecaySettings } from './settings.ts';
import type { Estimate, Verdict } from './types.ts';
import type { CutBlocks } from './window.ts';

/**
 * From a trace to its time constant: segments, ambient, fit, estimates, adequacy, budget, remarks and verdict.
 *
 * @param trace recording in °C
 * @param settings how the trial is judged
 */
export function analyzeDecay(trace: Trace, settings: DecaySettings = usualDecaySettings): Decay {
  return finishDecay(prepareDecay(trace, settings));
}

/**
 * Completes an analysis.
 *
 * @param prepared what `prepareDecay` found
 * @param readings gives single readings, °C, of the stretches in `prepared.readingsWanted`; without it, values as a
 *   classroom reads them come from block means
 */
export function finishDecay(prepared: PreparedDecay, readings?: (span: Span) => RawSamples): Decay {
  const { segmentation, cooling, noise, settings, trace } = prepared;
  const base = {
    segments: segmentation.segments,
    baseline: cooling?.baseline ?? null,
    noise,
  };
  if (cooling === null || cooling.fit.kind === 'failed' || prepared.classroom === null) {
    const remarks = decayRemarks(prepared, null);
    return {
      ...base,
      window: null,
      ambient: null,
      estimates: [],
      taught: null,
      timeConstant: null,
      fit: null,
      independentReadings: null,
      adequacy: null,
      budget: [],
      fingerprint: null,
      fittedStart: null,
      endFraction: null,
      points: [],
      remarks,
      verdict: verdictOf(remarks),
    };
  }
  const { fit } = cooling;
  const { input, ambient } = prepared.classroom;
  const classroom = classroomEstimates(readings === undefined ? input : { ...input, readings });
  const budget = budgetOf(fit, trace.chain, settings);
  const timeConstant: TimeConstant = {
    value: fit.timeConstant,
    standardUncertainty: fit.timeConstant * budget.relative,
    interval: logCoverageInterval(fit.timeConstant, budget.relative, budget.degreesOfFreedom),
    coverage: usualCoverage,
    degreesOfFreedom: budget.degreesOfFreedom,
    method: 'exponential-fit',
  };
  const step = stepOf(fit, input.heatOff);
  const points = coolingPoints(fit, step, cooling.blocks.value);
  const remarks = decayRemarks(prepared, classroom);
  return {
    ...base,
    window: windowOf(fit, input.heatOff, input.trial.to, settings),
    ambient,
    estimates: [fitEstimate(timeConstant), ...classroom.estimates],
    taught: classroom.taught,
    timeConstant,
    fit,
    independentReadings:
      noise === null
        ? null
        : effectiveReadings(noise, recordedTime(cooling.blocks, trace.samplePeriod), trace.samplePeriod),
    adequacy: cooling.adequacy,
    budget: budget.lines,
    fingerprint: fingerprintOf(classroom, fit, trace),
    fittedStart: classroom.fittedStart,
    endFraction: points.at(-1)?.fitted ?? null,
    points,
    remarks,
    verdict: verdictOf(remarks),
  };
}

/** Time that the readings of the fit stand for, without what is missing, s. */
function recordedTime({ count }: CutBlocks, samplePeriod: number): number {
  return count.reduce((sum, n) => sum + n, 0) * samplePeriod;
}

function fitEstimate({ method, value, standardUncertainty, interval }: TimeConstant): Estimate {
  return { method, value, standardUncertainty, interval, classroom: null };
}

/** Excess of the fitted exponential when the heat went off, K. */
function stepOf(fit: DecayFit, heatOff: number): number {
  return fit.amplitude * Math.exp((fit.start - heatOff) / fit.timeConstant);
}

/** Where the fitted error fraction passes the ends of the classroom window, within the trial. */
function windowOf(fit: DecayFit, heatOff: number, end: number, settings: DecaySettings): Span | null {
  const from = heatOff - fit.timeConstant * Math.log(settings.window.from);
  const to = Math.min(end, heatOff - fit.timeConstant * Math.log(settings.window.to));
  return to > from ? { from, to } : null;
}

function coolingPoints(fit: DecayFit, step: number, values: Float64Array): CoolingPoint[] {
  return Array.from(fit.time, (time, i) => {
    const temperature = values[i] ?? Number.NaN;
    const ambient = fit.ambient + fit.drift * (time - fit.driftOrigin);
    const fitted = fit.fitted[i] ?? Number.NaN;
    return {
      time,
      temperature,
      errorFraction: (temperature - ambient) / step,
      fitted: (fitted - ambient) / step,
      residual: temperature - fitted,
      band: fit.band[i] ?? Number.NaN,
    };
  });
}

function fingerprintOf(classroom: ClassroomResult, fit: DecayFit, trace: Trace) {
  if (classroom.againstFit === null) return null;
  return readFingerprint({
    ...classroom.againstFit,
    timeConstant: fit.timeConstant,
    step: classroom.step,
    rate: 1 / trace.samplePeriod,
  });
}

/** The gravest remark decides. */
function verdictOf(remarks: readonly Remark[]): Verdict {
  if (remarks.some(({ severity }) => severity === 'repeat')) return 'repeat';
  return remarks.some(({ severity }) => severity === 'caution') ? 'usable-with-remarks' : 'usable';
}
