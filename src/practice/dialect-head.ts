import type { ColumnLabel, Layout } from './dialect-types.ts';

type Preamble = Layout['preamble'];
type Header = Layout['header'];

/** Lines before the header. Bench, rate and start stand in all of them but the first. */
export const preambles = {
  none: { lines: () => [], rate: false, unit: false },
  short: {
    lines: (f) => [`Bench: ${f.bench}`, `Sample rate: ${f.rate} Hz`, `Started: ${f.date}T${f.time}`],
    rate: true,
    unit: false,
  },
  unlabelled: {
    lines: (f) => [`${f.bench}`, `Recording begun ${f.date} ${f.time}`, `Rate ${f.rate} Hz`, ''],
    rate: true,
    unit: false,
  },
  hashed: {
    lines: (f) => [
      `# bench: ${f.bench}`,
      `# start: ${f.date} ${f.time}`,
      `# rate = ${f.rate} Hz`,
      `# unit: ${f.unit}`,
    ],
    rate: true,
    unit: true,
  },
  german: {
    lines: (f) => [
      `Messplatz: ${f.bench}`,
      `Beginn: ${f.date.split('-').reverse().join('.')} ${f.time}`,
      `Abtastrate: ${f.rate} Hz`,
    ],
    rate: true,
    unit: false,
  },
  keys: {
    lines: (f) => [
      '[bench]',
      `name=${f.bench}`,
      'input=1',
      'mains filter=50 Hz',
      '[recording]',
      `start date=${f.date}`,
      `start time=${f.time}`,
      `sampling rate=${f.rate} Hz`,
      `unit=${f.unit}`,
      'averaging=off',
      '[readings]',
    ],
    rate: true,
    unit: true,
  },
  block: {
    lines: (f) => [
      '#'.repeat(60),
      '# Record of a teaching bench',
      '#',
      `# Bench            ${f.bench}`,
      `# Date             ${f.date}`,
      `# Start time       ${f.time}`,
      '#',
      '# Input 1          sensor of the body',
      '# Input 2          not connected',
      '# Input 3          not connected',
      '# Input 4          not connected',
      '# Mains filter     60 Hz',
      '# Averaging        none',
      '# Trigger          by hand',
      '# Battery          97 %',
      '# Memory free      81 %',
      '#',
      `# Sample rate      ${f.rate} Hz`,
      '#',
      '# Before the run   zero checked, jet on',
      '# During the run   nothing was touched',
      '# After the run    sensor back in its clip',
      '#',
      '#'.repeat(60),
    ],
    rate: true,
    unit: false,
  },
} as const satisfies Readonly<Record<string, Preamble>>;

const names = (columns: readonly ColumnLabel[]) => columns.map(({ name }) => name);
const units = (columns: readonly ColumnLabel[]) => columns.map(({ unit }) => unit ?? '');
const withUnit = (columns: readonly ColumnLabel[], open: string, close: string) =>
  columns.map(({ name, unit }) => (unit === null ? name : `${name} ${open}${unit}${close}`));

/** Rows above the numbers. */
export const headers = {
  none: { rows: () => [], unit: false },
  names: { rows: (columns) => [names(columns)], unit: false },
  brackets: { rows: (columns) => [withUnit(columns, '[', ']')], unit: true },
  quoted: { rows: (columns) => [withUnit(columns, '(', ')').map((cell) => `"${cell}"`)], unit: true },
  joined: {
    rows: (columns) => [columns.map(({ name, unit }) => (unit === null ? name : `${name}_${unit}`))],
    unit: true,
  },
  unitRow: { rows: (columns) => [names(columns), units(columns)], unit: true },
  commentRow: {
    rows: (columns) => [names(columns), columns.map(({ comment }) => comment), units(columns)],
    unit: true,
  },
} as const satisfies Readonly<Record<string, Header>>;
