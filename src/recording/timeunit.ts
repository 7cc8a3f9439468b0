import type { Remark } from '../remark/index.ts';
import type { Column } from './columns.ts';
import { indexName, timeName } from './names.ts';
import type { TimeUnit } from './options.ts';
import { close } from './rates.ts';
import type { StampFacts } from './stamps.ts';
import { lowerName } from './timechoice.ts';
import { refuseTime, type TimeEvidence } from './timeevidence.ts';

/** Factors from a unit to seconds: times the one, over the other. */
export const perUnit: Readonly<Record<Exclude<TimeUnit, 'index'>, readonly [times: number, over: number]>> = {
  s: [1, 1],
  ms: [1, 1e3],
  us: [1, 1e6],
  min: [60, 1],
  h: [3600, 1],
};

/**
 * Counters of 32 bits begin again after 2^32 of their own unit, which are milliseconds or microseconds; the
 * file may state them in a larger unit.
 */
export const rollOvers: Readonly<Record<Exclude<TimeUnit, 'index'>, readonly number[]>> = {
  us: [2 ** 32],
  ms: [2 ** 32, 2 ** 32 / 1e3],
  s: [2 ** 32 / 1e3, 2 ** 32 / 1e6],
  min: [],
  h: [],
};

/**
 * Unit of a time column: as told, as stated, as the rate shows, or seconds where nothing speaks against it.
 *
 * @throws RecordingError `rate-needed`, `time-unit-needed`
 */
export function timeUnitOf(
  evidence: TimeEvidence,
  column: Column | undefined,
  stamps: StampFacts,
): { unit: TimeUnit; remarks: Remark[]; rateFrom: 'header' | 'caller' } {
  const { options, facts } = evidence;
  const rateFrom = options.rate === undefined ? 'header' : 'caller';
  const stated = column?.unit?.kind === 'time' ? column.unit.unit : undefined;
  const rate = options.rate ?? facts.rate?.hertz ?? null;
  const told = options.timeUnit ?? stated;
  const name = column === undefined ? '' : lowerName(column);
  const label =
    column === undefined
      ? 'The time column'
      : name === ''
        ? `Column ${column.index + 1}`
        : `"${column.name}"`;
  if (told !== undefined && (told !== 'index' || rate !== null)) {
    return { unit: told, remarks: told === 'index' ? [indexRemark(evidence, label, rate)] : [], rateFrom };
  }
  if (rate !== null) {
    const fits = (['s', 'ms', 'us', 'min', 'h'] as const).find((unit) => {
      const [times, over] = perUnit[unit];
      return close(over / (stamps.samplePeriod * times), rate);
    });
    const counting = stamps.step === 1 && (indexName.test(name) || fits === undefined);
    if (told === 'index' || counting)
      return { unit: 'index', remarks: [indexRemark(evidence, label, rate)], rateFrom };
    if (fits !== undefined) {
      const remark = timeAssumed(
        'note',
        `${label} states no unit; ${fits} agrees with the rate of ${rate} Hz.`,
        'If it is another unit, say which with --time-unit.',
      );
      return { unit: fits, remarks: [remark], rateFrom };
    }
  }
  if (told === 'index' || (stamps.step === 1 && stamps.whole && !timeName.test(name))) {
    return refuseTime(
      evidence,
      'rate-needed',
      `${label} counts by ones and states no unit: sample numbers or seconds?`,
      'If they are sample numbers, say how often the logger sampled with --rate, as "100 Hz" or "10 ms"; if seconds, say --time-unit s.',
    );
  }
  if (stamps.whole && stamps.step > 1.5 && !stamps.hasRepeats) {
    return refuseTime(
      evidence,
      'time-unit-needed',
      `${label} states no unit, and steps of ${Number(stamps.step.toPrecision(6))} could be milliseconds or seconds.`,
      'Say which with --time-unit (s, ms, us, min or h).',
    );
  }
  const namesTime = name === '' || options.timeColumn !== undefined || timeName.test(name);
  return {
    unit: 's',
    remarks: [
      timeAssumed(
        stamps.whole || !namesTime ? 'caution' : 'note',
        `${label} ${namesTime ? '' : 'rises evenly and was taken as the time; it '}states no unit and was read as seconds, which makes ${Number((1 / stamps.samplePeriod).toPrecision(6))} Hz.`,
        namesTime
          ? 'If it is another unit, say which with --time-unit.'
          : 'If it is another unit, say which with --time-unit; if it is not the time, name the time with --time-column.',
      ),
    ],
    rateFrom,
  };
}

function indexRemark(evidence: TimeEvidence, label: string, rate: number | null): Remark {
  const source =
    evidence.options.rate === undefined ? `stated in line ${evidence.facts.rate?.line ?? 1}` : 'given';
  return timeAssumed(
    'note',
    `${label} numbers the samples; times were made with the rate ${source}, ${rate} Hz.`,
    'A wrong rate makes every time wrong by the same factor: check it once against a stopwatch.',
  );
}

/** The remark that a time rests on something that the file does not say. */
export function timeAssumed(severity: 'note' | 'caution', message: string, action: string): Remark {
  return { code: 'time-assumed', severity, message, action };
}
