import type { DialectName } from './bench-types.ts';
import { headers, preambles } from './dialect-head.ts';
import type { Layout } from './dialect-types.ts';

/** Seconds between tabs, and nothing that could go wrong: what the others differ from. */
const plain: Layout = {
  about: 'tabs, decimal points, seconds; three lines above and units in brackets',
  encoding: 'utf-8',
  delimiter: '\t',
  decimal: '.',
  lineEnd: '\n',
  width: 0,
  preamble: preambles.short,
  header: headers.brackets,
  time: { kind: 'number', unit: 's', perSecond: 1 },
  timeName: 'Time',
  sensorName: 'Junction',
  units: 'symbols',
  numbered: false,
  second: null,
  words: null,
  trailingDelimiter: false,
  restarts: false,
  cut: false,
  blankLines: 0,
};

const clock = { kind: 'clock', date: 'joined', fine: true, oddity: 'none' } as const;
const comma = { delimiter: ',', lineEnd: '\r\n' } as const;

/** How every dialect writes. */
export const layouts: Readonly<Record<DialectName, Layout>> = {
  'plain-tab': plain,
  'comma-header': {
    ...plain,
    ...comma,
    about: 'commas, one quoted header row and nothing above it',
    preamble: preambles.none,
    header: headers.quoted,
    sensorName: 'Sphere',
  },
  'semicolon-comma': {
    ...plain,
    about: 'semicolons and decimal commas, words of that region, one byte a character',
    encoding: 'latin-1',
    delimiter: ';',
    decimal: ',',
    lineEnd: '\r\n',
    preamble: preambles.german,
    timeName: 'Zeit',
    sensorName: 'Kugel',
  },
  'bare-column': {
    ...plain,
    about: 'readings and nothing else: rate and unit are known to whoever set the logger',
    preamble: preambles.none,
    header: headers.none,
    time: { kind: 'none' },
  },
  'headed-column': {
    ...plain,
    about: 'readings alone below comment lines that state rate and unit',
    preamble: preambles.hashed,
    header: headers.none,
    time: { kind: 'none' },
    units: 'letters',
  },
  'unit-row': {
    ...plain,
    about: 'a row of units below the row of names',
    header: headers.unitRow,
  },
  'name-comment-unit': {
    ...plain,
    about: 'rows of names, of remarks and of units',
    ...comma,
    preamble: preambles.none,
    header: headers.commentRow,
    sensorName: 'Probe 1',
  },
  'key-values': {
    ...plain,
    about: 'sections of keys and values above the numbers',
    delimiter: ';',
    preamble: preambles.keys,
    header: headers.names,
    units: 'letters',
    sensorName: 'Sphere',
  },
  'comment-block': {
    ...plain,
    about: 'two dozen comment lines above the numbers',
    ...comma,
    preamble: preambles.block,
  },
  'date-time': {
    ...plain,
    about: 'date and time in each row',
    delimiter: ',',
    time: clock,
    timeName: 'Date and time',
  },
  'date-and-time': {
    ...plain,
    about: 'date and time in each row, in columns of their own',
    delimiter: ';',
    time: { ...clock, date: 'apart' },
    sensorName: 'Probe 1',
  },
  'time-of-day': {
    ...plain,
    about: 'time of day in each row',
    time: { ...clock, date: 'none' },
    timeName: 'Clock time',
  },
  'past-midnight': {
    ...plain,
    about: 'time of day by a clock that is hours off, so that midnight comes on the way',
    time: { ...clock, date: 'none', oddity: 'midnight' },
    timeName: 'Clock time',
  },
  'clock-put-back': {
    ...plain,
    about: 'date and time by a clock that is put back by an hour on the way',
    delimiter: ';',
    time: { ...clock, oddity: 'put-back' },
    timeName: 'Date and time',
  },
  'repeated-stamps': {
    ...plain,
    about: 'date and time to the second: many rows share a stamp',
    delimiter: ',',
    time: { ...clock, fine: false },
    timeName: 'Date and time',
    sensorName: 'Sphere',
  },
  milliseconds: {
    ...plain,
    about: 'milliseconds from the start',
    ...comma,
    header: headers.joined,
    time: { kind: 'number', unit: 'ms', perSecond: 1e3 },
    units: 'letters',
  },
  minutes: {
    ...plain,
    about: 'minutes from the start',
    time: { kind: 'number', unit: 'min', perSecond: 1 / 60 },
  },
  'sample-number': {
    ...plain,
    about: 'numbers of the samples in place of times; the rate stands above',
    time: { kind: 'sample' },
    timeName: 'Sample',
  },
  'byte-order-mark': {
    ...plain,
    ...comma,
    about: 'a byte order mark before the first name',
    encoding: 'utf-8 with mark',
    preamble: preambles.none,
  },
  'utf-16': {
    ...plain,
    about: 'two bytes a character, with a mark',
    encoding: 'utf-16le with mark',
    lineEnd: '\r\n',
  },
  'trailing-delimiter': {
    ...plain,
    ...comma,
    about: 'a delimiter behind the last cell of every row',
    trailingDelimiter: true,
  },
  'unnamed-column': {
    ...plain,
    about: 'a number of the row first, which the header does not name',
    numbered: true,
  },
  restarted: {
    ...plain,
    about: 'the logger began again during the baseline, header and all',
    restarts: true,
  },
  'overload-words': {
    ...plain,
    about: 'OL for readings outside the range, NaN for those that were lost',
    ...comma,
    words: { over: 'OL', under: '-OL', lost: 'NaN' },
  },
  'indefinite-words': {
    ...plain,
    about: '1.#INF for readings outside the range, -1.#IND for those that were lost',
    words: { over: '1.#INF', under: '-1.#INF', lost: '-1.#IND' },
  },
  'overload-numbers': {
    ...plain,
    about: '9.9E37 for readings outside the range, 9.91E37 for those that were lost',
    ...comma,
    words: { over: '9.9E37', under: '-9.9E37', lost: '9.91E37' },
  },
  spaces: {
    ...plain,
    about: 'columns lined up with spaces',
    delimiter: ' ',
    preamble: preambles.unlabelled,
    header: headers.joined,
    units: 'letters',
    width: 14,
  },
  'cut-last-line': {
    ...plain,
    about: 'the last line ends in the middle',
    lineEnd: '\r\n',
    cut: true,
  },
  'blank-lines': {
    ...plain,
    ...comma,
    about: 'empty lines at the end',
    blankLines: 3,
  },
  'second-channel': {
    ...plain,
    about: 'temperature of the reference junction behind the sensor',
    header: headers.unitRow,
    second: { kind: 'reference junction', place: 'after' },
  },
  'reference-first': {
    ...plain,
    about: 'temperature of the reference junction before the sensor',
    ...comma,
    header: headers.quoted,
    second: { kind: 'reference junction', place: 'before' },
    sensorName: 'Sphere',
  },
  'cycle-counter': {
    ...plain,
    about: 'a count of mains cycles with thousands marks before the sensor',
    second: { kind: 'cycles', place: 'before' },
  },
};

/** What a person chooses a dialect by. */
export interface DialectInfo {
  readonly name: DialectName;
  /** One line. */
  readonly about: string;
  /** Whether a line states the sampling rate. */
  readonly statesRate: boolean;
  readonly statesUnit: boolean;
  /** Whether rows tell the time: where they do not, a wrong rate in the header goes unnoticed. */
  readonly writesTime: boolean;
}

function isDialect(name: string): name is DialectName {
  return Object.hasOwn(layouts, name);
}

/** All dialects in which a simulated logger can write. */
export const dialects: readonly DialectInfo[] = Object.keys(layouts)
  .filter(isDialect)
  .map((name) => {
    const { about, preamble, header, time } = layouts[name];
    return {
      name,
      about,
      statesRate: preamble.rate,
      statesUnit: preamble.unit || header.unit,
      writesTime: time.kind === 'number' || time.kind === 'clock',
    };
  });
