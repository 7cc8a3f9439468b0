/** What the time stamps of the first rows show, in the unit in which they stand. */
export interface StampFacts {
  /** Usual spacing of the samples. */
  readonly samplePeriod: number;
  /** Usual step from one stamp to the next different one. */
  readonly step: number;
  /** Last decimal that the stamps use. */
  readonly resolution: number;
  /** Share of steps that are zero. */
  readonly repeats: number;
  /** Whether stamps repeat so often that several samples share one. */
  readonly hasRepeats: boolean;
  /** Whether all stamps are the same. */
  readonly stuck: boolean;
  /** Share of steps that do not fall. */
  readonly rising: number;
  /** Whether nearly all steps are the same. */
  readonly even: boolean;
  /** Whether all stamps are whole numbers. */
  readonly whole: boolean;
}

/**
 * Looks at raw time stamps.
 *
 * @param raw stamps in order; not-a-number where a row has none
 */
export function stampFacts(raw: readonly number[]): StampFacts {
  const stamps = raw.filter((x) => Number.isFinite(x));
  const steps = stamps.slice(1).map((x, i) => x - (stamps[i] ?? 0));
  const scale = stamps.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  const zero = scale * 1e-15;
  const forward = steps.filter((d) => d > zero);
  const step = median(forward);
  const repeats = steps.length === 0 ? 0 : steps.filter((d) => Math.abs(d) <= zero).length / steps.length;
  const rising = steps.length === 0 ? 0 : steps.filter((d) => d >= -zero).length / steps.length;
  const near = forward.filter((d) => Math.abs(d - step) <= 0.02 * step + 4 * zero);
  const hasRepeats = repeats >= 0.3;
  const even = steps.length > 0 && near.length >= 0.95 * steps.length;
  // Stamps that are even as they stand owe nothing to rounding.
  const resolution = even ? 0 : decimalOf(stamps);
  const usual = steps.filter((d) => d >= -zero && d <= 1.5 * step + 1.01 * resolution);
  const single = even ? average(near) : usual.length > 0.9 * steps.length ? average(usual) : step;
  return {
    samplePeriod: hasRepeats ? periodOfRepeats(stamps, step, zero) : single,
    step: hasRepeats ? step : single,
    resolution,
    repeats,
    hasRepeats,
    stuck: forward.length === 0 && steps.length > 0,
    rising,
    even,
    whole: stamps.every((x) => Number.isInteger(x)),
  };
}

/** Samples per step, from the stamps that are seen whole: neither the first nor the last, and before no gap. */
function periodOfRepeats(stamps: readonly number[], step: number, zero: number): number {
  const groups: { at: number; count: number }[] = [];
  for (const at of stamps) {
    const last = groups.at(-1);
    if (last !== undefined && Math.abs(at - last.at) <= zero) last.count++;
    else groups.push({ at, count: 1 });
  }
  let samples = 0;
  let span = 0;
  groups.forEach(({ at, count }, i) => {
    const next = groups[i + 1];
    if (i === 0 || next === undefined || Math.abs(next.at - at - step) > 0.5 * step) return;
    samples += count;
    span += next.at - at;
  });
  if (samples > 0) return span / samples;
  const largest = groups.reduce((m, g) => Math.max(m, g.count), 1);
  return step / largest;
}

function decimalOf(stamps: readonly number[]): number {
  for (let digits = 0; digits <= 9; digits++) {
    const scale = 10 ** digits;
    if (
      stamps.every(
        (x) => Math.abs(x * scale - Math.round(x * scale)) <= 1e-9 * Math.max(1, Math.abs(x * scale)),
      )
    ) {
      return 1 / scale;
    }
  }
  return 0;
}

function average(values: readonly number[]): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[sorted.length >> 1] ?? Number.NaN;
}
