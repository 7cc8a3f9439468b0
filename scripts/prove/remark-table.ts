import type { RemarkCode, Severity } from '../../src/remark/index.ts';
import { rateOf } from './rates.ts';
import type { Tried } from './summary.ts';
import { percentWithin } from './tables.ts';

const gravity: readonly Severity[] = ['repeat', 'caution', 'note'];

/** How large the departures are that false alarms of 'not first-order' tell of. */
export function falseAlarmSizes(tried: readonly Tried[]): string {
  const alarms = tried.flatMap(({ outcomes }) => outcomes).filter(({ firstOrder }) => firstOrder === false);
  const changes = alarms.flatMap(({ rateChange }) => (rateChange === null ? [] : [Math.abs(rateChange)]));
  const small = changes.filter((share) => share < smallChange).length;
  const harmless = alarms.filter(({ truth, found }) => {
    return (
      truth !== null &&
      found !== null &&
      Math.abs(Math.log(found.timeConstant / truth)) < 2 * found.uncertainty
    );
  });
  return `Of ${alarms.length} false alarms of 'not first-order', ${changes.length} tell of a change of the cooling rate, ${small} of these of one under ${100 * smallChange} %; in ${harmless.length} of all the time constant is within two standard uncertainties of the truth.`;
}

const smallChange = 0.05;

/** Each remark on recordings where it is not called for, the gravest and most frequent first. */
export function remarkRows(tried: readonly Tried[]): string[][] {
  const counts = new Map<string, { code: RemarkCode; severity: Severity; count: number }>();
  let of = 0;
  for (const { scenario, outcomes } of tried) {
    for (const { remarks } of outcomes) {
      of++;
      const unexpected = remarks.filter(({ code }) => !scenario.expected.includes(code));
      const kinds = new Map(unexpected.map((one) => [`${one.code} ${one.severity}`, one]));
      for (const [kind, { code, severity }] of kinds) {
        const known = counts.get(kind) ?? { code, severity, count: 0 };
        counts.set(kind, { ...known, count: known.count + 1 });
      }
    }
  }
  return [...counts.values()]
    .sort((a, b) => gravity.indexOf(a.severity) - gravity.indexOf(b.severity) || b.count - a.count)
    .map(({ code, severity, count }) => [
      code,
      severity,
      `${count} of ${of}`,
      percentWithin(rateOf(count, of)),
    ]);
}
