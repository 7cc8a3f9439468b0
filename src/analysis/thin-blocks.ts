import { type ThinCurve, thinCurve } from '../figure/index.ts';
import type { Trace } from '../sensing/index.ts';

/** Most points of a trace that is drawn. */
const mostPoints = 2000;

/** By the blocks, for as long as these are in memory: marks that move leave the trace as it is. */
const thinned = new WeakMap<Trace['blocks'], ThinCurve>();

/** A trace with few enough points to draw, °C against s. */
export function thinBlocks(blocks: Trace['blocks']): ThinCurve {
  const known = thinned.get(blocks);
  if (known !== undefined) return known;
  const { time, mean, min, max } = blocks;
  const thin = thinCurve({ time, value: mean, low: min, high: max }, mostPoints);
  thinned.set(blocks, thin);
  return thin;
}
