import type { Remark } from '../remark/index.ts';
import type { StampFacts } from './stamps.ts';
import { refuseTime, type TimeEvidence } from './timeevidence.ts';

/** A sampling rate that the time column did not tell. */
export interface ToldRate {
  readonly hertz: number;
  readonly from: 'header' | 'caller';
  /** `given`, or `stated in line 2`. */
  readonly source: string;
}

/** The caller's rate, or else the header's; null without either. */
export function toldRate({ options, facts }: TimeEvidence): ToldRate | null {
  if (options.rate !== undefined) return { hertz: options.rate, from: 'caller', source: 'given' };
  if (facts.rate === null) return null;
  return { hertz: facts.rate.hertz, from: 'header', source: `stated in line ${facts.rate.line}` };
}

/** Usual spacing of the samples, s, and what the stamps themselves say of it. */
export interface Spacing {
  readonly period: number;
  /** The rate that had to say it, because the stamps leave it open; null where they do not. */
  readonly told: ToldRate | null;
}

/**
 * Spacing of the samples: as the stamps show; as told, where that agrees with stamps that are cut off or rounded, or
 * where no stamp was seen whole.
 *
 * @param shown spacing by the stamps, s; where none was seen whole, what it is at most
 * @param secondsPerRaw s in a unit of the stamps
 * @param column of the stamps, counted from 1
 * @throws RecordingError `rate-needed` where neither the stamps nor anybody tells
 */
export function spacingOf(
  evidence: TimeEvidence,
  stamps: StampFacts,
  shown: number,
  secondsPerRaw: number,
  column: number,
): Spacing {
  const rate = toldRate(evidence);
  const { samples, span, slack } = stamps.counted;
  if (samples > 0) {
    const agrees = rate !== null && Math.abs(span * secondsPerRaw * rate.hertz - samples) < slack;
    return { period: agrees ? 1 / rate.hertz : shown, told: null };
  }
  if (stamps.stuck && rate === null) return { period: Number.NaN, told: null };
  const step = stamps.step * secondsPerRaw;
  const most = step / shown;
  // A sample more or less shares a stamp, depending on where the stamp begins.
  const fits =
    stamps.stuck || (rate !== null && (step * rate.hertz > most - 1.01 || close(rate.hertz, 1 / shown)));
  if (rate !== null && fits) return { period: 1 / rate.hertz, told: rate };
  if (rate?.from === 'caller') return { period: shown, told: null };
  return refuseTime(
    evidence,
    'rate-needed',
    `The time stamps of column ${column} come every ${Number(step.toPrecision(3))} s and repeat, and none of them was seen whole: they do not tell the sampling rate${rate === null ? '' : `, and ${Math.round(most)} rows to a stamp do not fit the ${rate.hertz} Hz ${rate.source}`}.`,
    'Say how often the logger sampled with --rate, as "100 Hz" or "10 ms".',
  );
}

/**
 * Says which statements of the sampling rate contradict each other.
 *
 * @param own rate of the time column, Hz; null without one
 */
export function ratesTold(evidence: TimeEvidence, own: number | null): Remark[] {
  const { options, facts } = evidence;
  const stated = facts.rate;
  const remarks: Remark[] = [];
  const say = (message: string, action: string) =>
    remarks.push({ code: 'rate-disagrees', severity: 'caution', message, action });
  const shown = (hertz: number) => `${Number(hertz.toPrecision(6))} Hz`;
  if (options.rate !== undefined && own !== null && !close(own, options.rate)) {
    say(
      `The time column runs at ${shown(own)}, the given rate is ${shown(options.rate)}; the given rate was used.`,
      'Leave --rate out to use the time column.',
    );
  }
  if (stated !== null && own !== null && !close(own, stated.hertz)) {
    say(
      `Line ${stated.line} states ${shown(stated.hertz)}, the time column runs at ${shown(own)}${options.rate === undefined ? '; the column was used' : ''}.`,
      'Check the time base against a stopwatch: a factor here is a factor in the time constant.',
    );
  }
  if (stated !== null && own === null && options.rate !== undefined && !close(stated.hertz, options.rate)) {
    say(
      `Line ${stated.line} states ${shown(stated.hertz)}, the given rate is ${shown(options.rate)}; the given rate was used.`,
      'Check the time base against a stopwatch: a factor here is a factor in the time constant.',
    );
  }
  return remarks;
}

/** Two rates that differ by 2 % or less are one rate and a coarse clock. */
export function close(a: number, b: number): boolean {
  return Math.abs(a - b) <= 0.02 * Math.max(Math.abs(a), Math.abs(b));
}
