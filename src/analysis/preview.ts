import { type DecaySettings, finishDecay, prepareDecay } from '../decay/index.ts';
import { coarsenBlocks } from '../recording/index.ts';
import type { Span } from '../remark/index.ts';
import type { Trace } from '../sensing/index.ts';
import type { AnalyzedFile, OpenedFile } from './analyze-file.ts';

/** Blocks on which a recording is cut and fitted within some tens of milliseconds: twice as many as the fit takes. */
const mostBlocks = 2000;
/** Readings of the opening that show what the noise is like. */
const mostOpening = 1 << 13;
/** A block may last this part of the time constant, so that the fit still has blocks of its own choice. */
const partOfTimeConstant = 1 / 40;

/**
 * The trace on a coarser grid, on which marks can be tried at once.
 *
 * @param trace recording in °C
 * @param timeConstant rough, s; null where it is not known
 */
export function coarseTrace(trace: Trace, timeConstant: number | null): Trace {
  const { blocks, opening } = trace;
  const wanted = Math.ceil(blocks.length / mostBlocks);
  const allowed =
    timeConstant === null ? wanted : Math.floor((timeConstant * partOfTimeConstant) / blocks.width);
  return {
    ...trace,
    blocks: coarsenBlocks(blocks, Math.max(1, Math.min(wanted, allowed))),
    opening: opening.subarray(0, mostOpening),
  };
}

/**
 * Analyzes a recording on its coarse grid. The time constant is that of the full analysis to a small part of its
 * uncertainty.
 *
 * @param opened the recording as it was read
 * @param coarse by `coarseTrace`
 */
export function previewAnalysis(opened: OpenedFile, coarse: Trace, settings: DecaySettings): AnalyzedFile {
  const { recording, trace } = opened;
  const prepared = prepareDecay(coarse, settings);
  const single = trace.blocks.width < 1.5 * trace.samplePeriod;
  const decay = single ? finishDecay(prepared, (span) => blocksWithin(trace, span)) : finishDecay(prepared);
  return { recording, trace, decay, heatingUsed: prepared.segmentation.heatingUsed };
}

/** Readings of a stretch of a trace whose blocks are single readings. */
function blocksWithin({ blocks }: Trace, { from, to }: Span) {
  const first = firstAtOrAfter(blocks.time, from);
  let end = firstAtOrAfter(blocks.time, to);
  while (end < blocks.length && (blocks.time[end] ?? Number.NaN) <= to) end++;
  return { time: blocks.time.subarray(first, end), value: blocks.mean.subarray(first, end) };
}

/** Index of the first time that is not before the given one. */
export function firstAtOrAfter(times: Float64Array, time: number): number {
  let low = 0;
  let high = times.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((times[middle] ?? Number.NaN) < time) low = middle + 1;
    else high = middle;
  }
  return low;
}
