import type { Trace } from '../sensing/index.ts';
import { judgeAdequacy } from './adequacy.ts';
import type { Adequacy } from './adequacy-types.ts';
import { ambientPrior } from './ambient.ts';
import { type BaselineReading, baselineLevel } from './baseline.ts';
import { conflictingFit, conflictSuspected, type Freed, type FreedFit } from './conflict.ts';
import { fitDecay } from './fit.ts';
import type { AmbientPrior, DecayFit, DecayFitFailure } from './fit-types.ts';
import type { Segmentation } from './segment-types.ts';
import type { DecaySettings } from './settings.ts';
import { type BlockWidth, type CutBlocks, chooseBlockWidth, cutBlocks } from './window.ts';

/** A cooling, cut into blocks and fitted. */
export interface FittedCooling {
  /** Blocks of the clean cooling. */
  readonly blocks: CutBlocks;
  readonly baseline: BaselineReading | null;
  readonly prior: AmbientPrior;
  readonly fit: DecayFit | DecayFitFailure;
  readonly adequacy: Adequacy | null;
  /** A fit that does not know the baseline, to see whether the cooling tends to the same level; null if it fails. */
  readonly free: DecayFit | null;
  /** What of the baseline the fit lets free because the cooling contradicts it; null where it does not. */
  readonly freed: Freed | null;
  /** Standard uncertainty of a steady drift that the fit allows for, K/s. */
  readonly driftUncertainty: number;
}

/** A slope of the baseline of this many standard uncertainties, and of this many of the usual drift, is a drift. */
const clearSlope = 4;
const largeSlope = 2;
/** A drift that no zero has, K/s: as good as no knowledge of it. */
const anyDrift = 1;

/**
 * Cuts baseline and clean cooling into blocks of one width and fits the cooling.
 *
 * @returns null where the recording has no cooling
 */
export function fitCooling(
  trace: Trace,
  { segments, rough, fitFrom }: Segmentation,
  settings: DecaySettings,
): FittedCooling | null {
  const { cooling, heatOff } = segments;
  if (cooling === null || rough === null || fitFrom === null) return null;
  const span = { from: fitFrom, to: cooling.to };
  const width = chooseBlockWidth(trace, span.to - span.from, rough.timeConstant, settings.mains);
  const blocks = cutBlocks(trace, span, width);
  const baseline =
    segments.baseline === null ? null : baselineLevel(cutBlocks(trace, segments.baseline, width));
  const prior = ambientPrior(settings, baseline);
  const driftUncertainty = driftAllowed(baseline, settings);
  const input = {
    time: blocks.time,
    value: blocks.value,
    blockWidth: blocks.blockWidth,
    baseline,
    driftUncertainty,
    guess: {
      timeConstant: rough.timeConstant,
      ambient: rough.ambient,
      amplitude: rough.excess * Math.exp(-(span.from - rough.origin) / rough.timeConstant),
    },
  };
  const known = fitDecay({ ...input, ambient: prior });
  const common = { blocks, baseline, prior, driftUncertainty };
  if (known.kind === 'failed') return { ...common, fit: known, adequacy: null, free: null, freed: null };
  const free = prior.kind === 'fitted' ? known : fitDecay({ ...input, ambient: { kind: 'fitted' } });
  const early = heatOff === null ? null : { heatOff, ...earlyBlocks(trace, heatOff, span.from, width) };
  const whole = { ...common, free: free.kind === 'fit' ? free : null };
  if (prior.kind === 'baseline' && conflictSuspected(known)) {
    const freed = conflictingFit(known, [
      ...asCandidate(free, { level: true, drift: false }),
      ...asCandidate(fitDecay({ ...input, driftUncertainty: anyDrift, ambient: prior }), {
        level: false,
        drift: true,
      }),
      ...asCandidate(fitDecay({ ...input, driftUncertainty: anyDrift, ambient: { kind: 'fitted' } }), {
        level: true,
        drift: true,
      }),
    ]);
    const adequacy = freed === null ? null : judgeAdequacy({ fit: freed.fit, early });
    // A departure of another kind draws a free level along without being explained by it.
    if (freed !== null && adequacy?.firstOrder !== false) return { ...whole, ...freed, adequacy };
  }
  return { ...whole, fit: known, freed: null, adequacy: judgeAdequacy({ fit: known, early }) };
}

function asCandidate(fit: DecayFit | DecayFitFailure, freed: Freed): FreedFit[] {
  return fit.kind === 'fit' ? [{ fit, freed }] : [];
}

/** The drift that is allowed for: at least what the baseline shows. */
function driftAllowed(baseline: BaselineReading | null, settings: DecaySettings): number {
  if (baseline === null) return settings.drift;
  const slope = Math.abs(baseline.slope);
  const real = slope > Math.max(clearSlope * baseline.slopeUncertainty, largeSlope * settings.drift);
  return real ? slope : settings.drift;
}

/** Blocks between the heat going off and the start of the fit, on the grid of the fit. */
function earlyBlocks(
  trace: Trace,
  heatOff: number,
  fitFrom: number,
  width: BlockWidth,
): Pick<CutBlocks, 'time' | 'value'> {
  const cell = trace.blocks.width;
  // The fit's first block starts at the first cell that lies inside.
  const first = Math.ceil(fitFrom / cell - 1e-6) * cell;
  const whole = Math.floor((first - heatOff) / width.width);
  if (whole < 1) return { time: new Float64Array(0), value: new Float64Array(0) };
  const span = { from: first - whole * width.width, to: first - trace.samplePeriod };
  return cutBlocks(trace, span, width);
}
