import type { Decay } from '../../src/decay/index.ts';
import type { BenchReadings } from '../../src/practice/bench-types.ts';
import type { RemarkCode, Severity } from '../../src/remark/index.ts';
import { timeConstantBound } from './bound.ts';
import type { Scenario } from './scenario.ts';

/** What is kept of one recording. */
export interface Outcome {
  /** True time constant, s; null where the cooling is too short for one. */
  readonly truth: number | null;
  readonly biot: number;
  /** What was reported; null without a time constant. */
  readonly found: {
    /** s. */
    readonly timeConstant: number;
    /** Of its logarithm. */
    readonly uncertainty: number;
    readonly interval: readonly [number, number];
  } | null;
  /** Least standard uncertainties of ln tau; null where the noise is not of the kind that has a known bound. */
  readonly bound: {
    /** From all readings after the heat is off. */
    readonly whole: number;
    /** From the readings that the fit uses. */
    readonly used: number;
  } | null;
  readonly remarks: readonly { readonly code: RemarkCode; readonly severity: Severity }[];
  readonly verdict: Decay['verdict'];
  readonly firstOrder: boolean | null;
  /** Where a change of the cooling rate is told: by which part; else null. */
  readonly rateChange: number | null;
  readonly segments: {
    readonly heatOff: boolean;
    readonly window: boolean;
    readonly baseline: boolean;
  };
  /** Why it could not be read; null where it could. */
  readonly unread: string | null;
}

/** A recording that could not be read at all. */
export function unreadOutcome({ truth }: BenchReadings, message: string): Outcome {
  return {
    truth: truth.timeConstant,
    biot: truth.biot,
    found: null,
    bound: null,
    remarks: [],
    verdict: 'repeat',
    firstOrder: null,
    rateChange: null,
    segments: { heatOff: false, window: false, baseline: false },
    unread: message,
  };
}

/** Holds an analysis against what the simulator knows. */
export function outcomeOf(scenario: Scenario, readings: BenchReadings, decay: Decay): Outcome {
  const { trial, truth } = readings;
  const { timeConstant } = decay;
  return {
    truth: truth.timeConstant,
    biot: truth.biot,
    found:
      timeConstant === null
        ? null
        : {
            timeConstant: timeConstant.value,
            uncertainty: timeConstant.standardUncertainty / timeConstant.value,
            interval: timeConstant.interval,
          },
    bound: boundOf(scenario, { trial, truth }, decay),
    remarks: decay.remarks.map(({ code, severity }) => ({ code, severity })),
    verdict: decay.verdict,
    firstOrder: decay.adequacy?.firstOrder ?? null,
    rateChange: decay.adequacy?.rateChange?.share ?? null,
    segments: segmentsFound(readings, decay),
    unread: null,
  };
}

/** Quantization that noise covers counts as white noise of the step over the root of 12 (Bennett, 1948). */
function boundOf(
  scenario: Scenario,
  { trial, truth }: Pick<BenchReadings, 'trial' | 'truth'>,
  { fit }: Decay,
): Outcome['bound'] {
  if (!scenario.bound || truth.timeConstant === null || fit === null) return null;
  const design = {
    timeConstant: truth.timeConstant,
    step: truth.peak - truth.coolingAir,
    to: trial.length - truth.heatOff,
    baseline: truth.heatOn,
    heating: truth.heatOff - truth.heatOn,
    rate: trial.logger.rate,
    white: Math.hypot(scenario.white, scenario.step / Math.sqrt(12)),
    correlated: scenario.correlated,
    offset: scenario.offset,
    drift: scenario.drift,
  };
  return {
    whole: timeConstantBound({ ...design, from: 0 }),
    used: timeConstantBound({ ...design, from: Math.max(0, fit.start - truth.heatOff) }),
  };
}

/** Points into which a recording is cut to be searched. */
const pointsSearched = 4000;
/** Part of the step that the noise-free reading may have risen at the end of a baseline. */
const risen = 0.005;

/**
 * Whether the parts were found: the heat going off within a tenth of the time constant, three points of the search or
 * 0.15 s; the fit between it and the end of the cooling; a baseline at whose end the noise-free reading has not risen by
 * 0.5 % of the step, and that holds at least half of what was recorded.
 */
function segmentsFound(
  { trial, truth, junction }: BenchReadings,
  { segments, fit }: Decay,
): Outcome['segments'] {
  const { rate } = trial.logger;
  const point = Math.max(trial.length / pointsSearched, 1 / rate);
  const bearable = Math.max(0.1 * (truth.timeConstant ?? 0), 3 * point, 0.15);
  const { heatOff, baseline } = segments;
  const before = junction[0] ?? Number.NaN;
  const reading = (time: number) => junction[Math.round(time * rate)] ?? Number.NaN;
  return {
    heatOff: heatOff !== null && Math.abs(heatOff - truth.heatOff) <= bearable,
    window:
      fit !== null &&
      fit.start >= truth.heatOff - point &&
      (fit.time.at(-1) ?? Number.POSITIVE_INFINITY) <= trial.length,
    baseline:
      baseline !== null &&
      reading(baseline.to) - before < risen * (truth.peak - before) &&
      baseline.to - baseline.from >= 0.5 * truth.heatOn,
  };
}
