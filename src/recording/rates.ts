import type { Remark } from '../remark/index.ts';
import type { TimeEvidence } from './timeevidence.ts';

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
