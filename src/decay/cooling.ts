import type { Trace } from '../sensing/index.ts';
import { judgeAdequacy } from './adequacy.ts';
import type { Adequacy } from './adequacy-types.ts';
import { ambientPrior } from './ambient.ts';
import { type BaselineReading, baselineLevel } from './baseline.ts';
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
}

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
  const input = {
    time: blocks.time,
    value: blocks.value,
    blockWidth: blocks.blockWidth,
    baseline,
    driftUncertainty: settings.drift,
    guess: {
      timeConstant: rough.timeConstant,
      ambient: rough.ambient,
      amplitude: rough.excess * Math.exp(-(span.from - rough.origin) / rough.timeConstant),
    },
  };
  const fit = fitDecay({ ...input, ambient: prior });
  if (fit.kind === 'failed') return { blocks, baseline, prior, fit, adequacy: null, free: null };
  const free = prior.kind === 'fitted' ? fit : fitDecay({ ...input, ambient: { kind: 'fitted' } });
  const early = heatOff === null ? null : { heatOff, ...earlyBlocks(trace, heatOff, span.from, width) };
  return {
    blocks,
    baseline,
    prior,
    fit,
    adequacy: judgeAdequacy({ fit, early }),
    free: free.kind === 'fit' ? free : null,
  };
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
