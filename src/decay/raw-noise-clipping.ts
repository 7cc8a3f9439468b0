import type { Blocks } from '../recording/index.ts';
import type { Clipping } from './raw-noise-types.ts';
import { at } from './segment-series.ts';

/** Fewer readings in a row at an extreme are chance. */
const fewest = 5;
/**
 * Readings that differ by less are one code of the converter, K: degrees found from volts differ by up to 1e-6 K from
 * one to the next, and no converter's step is as small as this.
 */
const same = 1e-5;

/**
 * Stretches where the readings sit exactly at the largest or smallest value of the whole recording, while what
 * comes before goes towards that end and what comes after comes back from it: the signal went on out of range.
 *
 * @param deviation noise of a reading, K
 * @param step converter step, K; 0 for none
 */
export function findClipping(blocks: Blocks, deviation: number, step: number): Clipping[] {
  let top = Number.NEGATIVE_INFINITY;
  let bottom = Number.POSITIVE_INFINITY;
  for (let i = 0; i < blocks.length; i++) {
    top = Math.max(top, at(blocks.max, i));
    bottom = Math.min(bottom, at(blocks.min, i));
  }
  // Where a step is much coarser than the noise, a still signal repeats one value as well.
  if (step > 0 && deviation < 0.3 * step) return [];
  return [
    ...runsAt(blocks, 'top', top, deviation + step),
    ...runsAt(blocks, 'bottom', bottom, deviation + step),
  ];
}

function runsAt(blocks: Blocks, end: Clipping['end'], level: number, trifle: number): Clipping[] {
  const found: Clipping[] = [];
  const sits = (i: number) =>
    Math.abs(at(blocks.min, i) - level) < same && Math.abs(at(blocks.max, i) - level) < same;
  for (let i = 0; i < blocks.length; i++) {
    if (!sits(i)) continue;
    const first = i;
    let readings = 0;
    while (i < blocks.length && sits(i)) {
      readings += at(blocks.count, i);
      i++;
    }
    const length = i - first;
    if (readings < fewest) continue;
    const away = end === 'top' ? 1 : -1;
    const before =
      first > 0 ? away * (level - at(blocks.mean, Math.max(0, first - length))) : Number.POSITIVE_INFINITY;
    const last = Math.min(blocks.length - 1, i - 1 + length);
    const after = i < blocks.length ? away * (level - at(blocks.mean, last)) : Number.POSITIVE_INFINITY;
    if (before > 3 * trifle && after > 3 * trifle) {
      found.push({ end, level, readings, from: at(blocks.time, first), to: at(blocks.time, i - 1) });
    }
  }
  return found;
}
