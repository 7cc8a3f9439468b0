import { thinCurve } from '../figure/index.ts';
import type { Span } from '../remark/index.ts';
import { type OpenedFile, readingsWithin } from './analyze-file.ts';
import { firstAtOrAfter } from './preview.ts';
import type { StretchOfReadings } from './types.ts';

/** Most single readings that are read from the file at once. */
const mostRead = 100_000;
/** Most points that can be asked for. */
const mostPoints = 20_000;

/**
 * Readings of a stretch, °C: single ones where there are few enough, else means with the extremes of those behind a
 * point.
 *
 * @param span s from the first sample
 * @param points most points, at least 1
 * @throws RecordingError where the file is not there any more
 */
export async function stretchOfReadings(
  opened: OpenedFile,
  span: Span,
  points: number,
): Promise<StretchOfReadings> {
  const most = Math.min(Math.max(1, Math.floor(points)), mostPoints);
  const { blocks, samplePeriod } = opened.trace;
  const first = firstAtOrAfter(blocks.time, span.from);
  const end = firstAtOrAfter(blocks.time, span.to);
  const expected = (Math.min(span.to, blocks.time.at(-1) ?? 0) - Math.max(span.from, 0)) / samplePeriod + 2;
  const single = blocks.width < 1.5 * samplePeriod;
  if (!single && expected <= mostRead && (expected <= most || end - first < most)) {
    const { time, value } = await readingsWithin(opened, span, mostRead);
    return asStretch(thinCurve({ time, value }, most), time.length <= most);
  }
  // One block on either side, so that a curve goes on to the edge.
  const from = Math.max(0, first - 1);
  const to = Math.min(blocks.length, end + 1);
  const cut = (values: Float64Array) => values.subarray(from, to);
  const curve = {
    time: cut(blocks.time),
    value: cut(blocks.mean),
    low: cut(blocks.min),
    high: cut(blocks.max),
  };
  return asStretch(thinCurve(curve, most), single && to - from <= most);
}

function asStretch(curve: ReturnType<typeof thinCurve>, raw: boolean): StretchOfReadings {
  const { time, value, low, high } = curve;
  return { time: [...time], value: [...value], low: [...low], high: [...high], raw };
}
