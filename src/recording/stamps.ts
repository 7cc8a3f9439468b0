/** What the time stamps of the first rows show, in the unit in which they stand. */
export interface StampFacts {
  /** Usual spacing of the samples; where no stamp was seen whole, what it is at most. */
  readonly samplePeriod: number;
  /** What the spacing was counted from. */
  readonly counted: Counted;
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

/** Samples and the time that they take, from first stamps to last. */
interface Counted {
  /** None where stamps repeat and none of them was seen whole. */
  readonly samples: number;
  readonly span: number;
  /** By how many samples the count can differ from span times rate, as stamps are cut off or rounded. */
  readonly slack: number;
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
  const decimal = decimalOf(stamps);
  const resolution = even ? 0 : decimal;
  const usual = steps.filter((d) => d >= -zero && d <= 1.5 * step + 1.01 * resolution);
  const single = even ? average(near) : usual.length > 0.9 * steps.length ? average(usual) : step;
  const spacing = hasRepeats
    ? spacingOfRepeats(stamps, step, zero)
    : { samplePeriod: single, counted: countedSteps(steps, even ? near : usual, decimal) };
  return {
    ...spacing,
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

/** Samples of the stamps that are seen whole: neither the first nor the last, and next to no gap or jump. */
function spacingOfRepeats(
  stamps: readonly number[],
  step: number,
  zero: number,
): Pick<StampFacts, 'samplePeriod' | 'counted'> {
  const groups: { at: number; count: number }[] = [];
  for (const at of stamps) {
    const last = groups.at(-1);
    if (last !== undefined && Math.abs(at - last.at) <= zero) last.count++;
    else groups.push({ at, count: 1 });
  }
  const ordinary = groups.map(
    ({ at }, i) => Math.abs(at - (groups[i - 1]?.at ?? Number.NaN) - step) <= 0.5 * step,
  );
  const whole = groups.map((_, i) => ordinary[i] === true && ordinary[i + 1] === true);
  let samples = 0;
  let span = 0;
  let stretches = 0;
  const counts = new Set<number>();
  groups.forEach(({ at, count }, i) => {
    if (!whole[i]) return;
    samples += count;
    span += (groups[i + 1]?.at ?? at) - at;
    counts.add(count);
    if (!whole[i - 1]) stretches++;
  });
  // Stamps that all have as many samples owe nothing to rounding.
  const counted = { samples, span, slack: counts.size > 1 ? stretches : 0 };
  const largest = largestOf(groups.map(({ count }) => count));
  return { samplePeriod: samples > 0 ? span / samples : step / largest, counted };
}

function countedSteps(steps: readonly number[], usual: readonly number[], decimal: number): Counted {
  const span = usual.reduce((sum, d) => sum + d, 0);
  const equal = largestOf(usual) + largestOf(usual.map((d) => -d)) <= 1e-6 * largestOf(usual);
  const stretches = 1 + steps.length - usual.length;
  const slack = equal ? 0 : (stretches * decimal * usual.length) / span;
  return { samples: usual.length, span, slack };
}

function largestOf(values: readonly number[]): number {
  return values.reduce((most, x) => Math.max(most, x), Number.NEGATIVE_INFINITY);
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
