/** A field of what `analyze --json` prints, as `a.b` and `a[].b`. */
export interface JsonField {
  readonly path: string;
  /** SI, °C for temperatures; null where there is none. */
  readonly unit: string | null;
  readonly meaning: string;
}

const field = (path: string, unit: string | null, meaning: string): JsonField => ({ path, unit, meaning });

/** From and to, in s from the first sample. */
function span(path: string, meaning: string): JsonField[] {
  return [field(`${path}.from`, 's', `${meaning}: its beginning.`), field(`${path}.to`, 's', 'Its end.')];
}

const reading: readonly JsonField[] = [
  field('recording.path', null, 'Path of the file, as it was given.'),
  field('recording.sha256', null, 'SHA-256 of the file, hexadecimal.'),
  field('recording.bytes', 'B', 'Size of the file.'),
  field('recording.samples', null, 'Usable samples.'),
  field('recording.rate', 'Hz', 'Sampling rate.'),
  field('recording.duration', 's', 'From the first sample to the last.'),
  field(
    'recording.startedAt',
    null,
    'When the logger began, as its file says, without a zone; null where it does not.',
  ),
  field('recording.channel', null, 'Name of the channel.'),
  field('recording.column', null, 'Its column, counted from 1.'),
  field('recording.unit', null, 'Unit of its readings.'),
  field('recording.dialect.encoding', null, 'Encoding of the text.'),
  field('recording.dialect.delimiter', null, 'What separates the columns.'),
  field('recording.dialect.decimal', null, 'Decimal mark.'),
  field('recording.dialect.thousands', null, 'Thousands mark; null where there is none.'),
  field('recording.dialect.firstDataLine', null, 'Line of the first row of numbers, counted from 1.'),
  field(
    'recording.dialect.time.kind',
    null,
    'Where the time comes from: `column`, `index-column` or `none`.',
  ),
  field('recording.dialect.time.column', null, 'The column of the time or the index, counted from 1.'),
  field('recording.dialect.time.format', null, 'How the time is written in its column.'),
  field(
    'recording.dialect.time.rateFrom',
    null,
    'Without a time column: who said the rate, `header` or `caller`.',
  ),
  field('recording.conversion', null, 'How readings became degrees, in words.'),
];

const parts: readonly JsonField[] = [
  ...span('segments.baseline', 'Baseline before the heating'),
  ...span('segments.heating', 'Heating'),
  field('segments.peak.time', 's', 'The hottest moment, from smoothed data.'),
  field('segments.peak.temperature', '°C', 'Temperature then.'),
  field('segments.heatOff', 's', 'When the heat went off.'),
  ...span('segments.hotTail', 'Hot air that dies away'),
  ...span('segments.cooling', 'Clean cooling'),
  ...span('segments.window', 'The stretch between the error fractions of the classroom fits'),
  ...span('segments.heatings[]', 'Each heating that was found'),
  field('ambient.value', '°C', 'Temperature to which the body cools.'),
  field('ambient.standardUncertainty', 'K', 'Standard uncertainty of it.'),
  field('ambient.source', null, '`baseline`, `given` or `fitted`.'),
  field('ambient.reason', null, 'Why it was taken from there.'),
];

const numbers: readonly JsonField[] = [
  field(
    'estimates[].method',
    null,
    '`exponential-fit`, `point-36.8`, `log-linear-origin` or `log-linear-intercept`.',
  ),
  field('estimates[].value', 's', 'Time constant by this method.'),
  field('estimates[].standardUncertainty', 's', 'Standard uncertainty, with the noise as it is.'),
  field('estimates[].interval[]', 's', 'Lower and upper end of its 95 % interval.'),
  field('estimates[].classroom.value', 's', 'The same as a class takes it; null where a class does not.'),
  field(
    'estimates[].classroom.standardError',
    's',
    'Standard error that a class prints; readings are taken as independent.',
  ),
  field('estimates[].classroom.interval[]', 's', 'Interval that a class prints; null where it prints none.'),
  field(
    'timeConstant.value',
    's',
    'The time constant that is reported; `timeConstant` is null where there is none.',
  ),
  field('timeConstant.standardUncertainty', 's', 'Standard uncertainty, all sources together.'),
  field('timeConstant.interval[]', 's', 'Lower and upper end of the coverage interval.'),
  field('timeConstant.coverage', '1', 'Coverage probability of that interval.'),
  field('timeConstant.degreesOfFreedom', '1', 'Effective degrees of freedom.'),
  field('timeConstant.method', null, 'Estimate that it is.'),
  field('endFraction', '1', 'Error fraction at the end of the cooling.'),
  field('budget[].source', null, '`noise`, `ambient`, `drift`, `start-and-window`, `time-base` or `chain`.'),
  field('budget[].label', null, 'The same in words.'),
  field('budget[].contribution', 's', 'Standard uncertainty of the time constant from it.'),
  field('budget[].share', '1', 'Its share of the variance.'),
];

const noise: readonly JsonField[] = [
  field('noise.readings', null, 'Readings that the noise was found on.'),
  field('noise.from', 's', 'Where they begin.'),
  field('noise.to', 's', 'Where they end.'),
  field('noise.deviation', 'K', 'Standard deviation of a reading, hum included.'),
  field('noise.white', 'K', 'Part without memory from one reading to the next.'),
  field('noise.correlated', 'K', 'Part that lasts over some time.'),
  field('noise.correlationTime', 's', 'How long: the time over which its correlation falls by e.'),
  field('noise.hum.mains', 'Hz', 'Mains frequency.'),
  field('noise.hum.amplitude', 'K', 'Amplitude of hum; null where the rate does not show it.'),
  field('noise.hum.appearsAt', 'Hz', 'Where it shows in the readings.'),
  field('noise.hum.foldedLow', null, 'Whether the rate folds it to where it looks like drift.'),
  field('noise.step', 'K', 'Converter step; null where the readings show none.'),
  field('noise.clipping[].end', null, 'Readings at the end of the range: `top` or `bottom`.'),
  field('noise.clipping[].level', '°C', 'Where they sit.'),
  field('noise.clipping[].readings', null, 'How many.'),
  ...span('noise.clipping[]', 'The stretch'),
];

const adequacy: readonly JsonField[] = [
  field(
    'adequacy.firstOrder',
    null,
    'Whether one exponential describes the cooling; null where it cannot be told.',
  ),
  field('adequacy.kind', null, 'What a departure looks like; null without one.'),
  field('adequacy.rateChange.share', '1', 'Cooling rate after a change over that before, less 1.'),
  field('adequacy.rateChange.time', 's', 'When it changed.'),
  field(
    'adequacy.size',
    '1',
    'How far a departure moves the time constant, or the delay it means, as a part of the time constant.',
  ),
  field('adequacy.sentence', null, 'What was seen, and what the time constant still means.'),
  field('adequacy.tests[].name', null, 'Each test that was made.'),
  field('adequacy.tests[].statistic', '1', 'What it found, in its standard uncertainties.'),
  field('adequacy.tests[].limit', '1', 'What one exponential stays below.'),
  field('adequacy.tests[].fails', null, 'Whether it found a departure.'),
  field('adequacy.ratio90to50.value', '1', 'Time to 90 % of the fall over time to 50 %.'),
  field('adequacy.ratio90to50.standardUncertainty', '1', 'Standard uncertainty of it.'),
  field('adequacy.ratio90to50.expected', '1', 'log2(10): one exponential.'),
  field('adequacy.ratio90to50.from', null, 'Where the times begin: `heat-off` or `window-start`.'),
  field(
    'adequacy.backExtrapolation.value',
    '1',
    'How far the fit, carried back, lies above the reading: ln of the ratio.',
  ),
  field('adequacy.backExtrapolation.standardUncertainty', '1', 'Standard uncertainty of it.'),
  field(
    'adequacy.earlyOverLate.value',
    '1',
    'Time constant of the first half of the fall over that of the rest.',
  ),
  field('adequacy.earlyOverLate.standardUncertainty', '1', 'Standard uncertainty of it.'),
  field(
    'adequacy.visibleShare.fast',
    '1',
    'Smallest faster exponential, as a part of the excess, that would have shown.',
  ),
  field('adequacy.visibleShare.slow', '1', 'The same of a slower one.'),
];

const judgement: readonly JsonField[] = [
  field(
    'fingerprint.fault',
    null,
    'Which slip explains how the classroom values differ from the fit; `none` where they agree.',
  ),
  field('fingerprint.chiSquareNone', '1', 'Chi-square of the differences, three degrees of freedom.'),
  field('fingerprint.chiSquareLeft', '1', 'What is left of it once the slip is allowed for.'),
  field('fingerprint.kelvin', 'K', 'Size of the slip as a temperature, where it is one.'),
  field('fingerprint.seconds', 's', 'Size as a time, where it is one.'),
  field('fingerprint.factor', '1', 'Size as a factor, where it is one.'),
  field('fingerprint.sentence', null, 'The same in words.'),
  field('remarks[].code', null, 'Code of a remark: [remarks.md](remarks.md).'),
  field('remarks[].severity', null, '`note`, `caution` or `repeat`.'),
  field('remarks[].message', null, 'What was seen, with its number.'),
  field('remarks[].action', null, 'What to do.'),
  ...span('remarks[].at', 'The place that it is about, where it has one'),
  field('verdict', null, '`usable`, `usable-with-remarks` or `repeat`.'),
  field('decisions[]', null, 'What people decided about the recording, as it stands below `decisions/`.'),
];

/** Every field of a recording that was analyzed, in the order in which they are printed. */
export const jsonFields: readonly JsonField[] = [
  ...reading,
  ...parts,
  ...numbers,
  ...noise,
  ...adequacy,
  ...judgement,
];

/** What a recording that could not be analyzed has in place of them. */
export const jsonErrorFields: readonly JsonField[] = [
  field('recording.path', null, 'Path of the file, as it was given.'),
  field('error.code', null, 'Which kind of trouble it is.'),
  field('error.message', null, 'What was wrong, and where.'),
  field('error.line', null, 'Line of the file, counted from 1; null where it is about none.'),
  field('error.mend', null, 'What to do; null where nothing is known.'),
];
