import type { Remark } from '../remark/index.ts';
import type { Column } from './columns.ts';
import { RecordingError } from './error.ts';
import { sensorName } from './names.ts';
import type { ReadOptions } from './options.ts';
import { columnName, shownRows } from './shown.ts';
import type { Channel } from './types.ts';
import { nameAndUnit, type UnitMeaning } from './units.ts';

/** The columns that are read. */
export interface Choice {
  readonly channel: Channel;
  readonly channels: readonly Channel[];
  readonly companions: readonly Channel[];
  readonly remarks: readonly Remark[];
}

/** What is known while choosing. */
export interface ChoiceContext {
  readonly name: string;
  readonly firstLine: number;
  /** Columns used for the time, counted from 0. */
  readonly timeColumns: readonly number[];
  /** Unit that the preamble states for all readings. */
  readonly statedUnit: UnitMeaning | null;
}

/**
 * Chooses the column that is the experiment's temperature, by unit and name.
 *
 * @throws RecordingError `channel-needed` where two are equally likely, `channel-unknown` where the caller's
 *   choice is not there
 */
export function chooseChannel(
  columns: readonly Column[],
  options: ReadOptions,
  context: ChoiceContext,
): Choice {
  const readings = columns.filter(
    (c) => c.kind === 'number' && !context.timeColumns.includes(c.index) && !numbersRows(c),
  );
  const toChannel = (column: Column): Channel => ({
    column: column.index + 1,
    name: columnName(column),
    unit: channelUnit(column, context.statedUnit),
  });
  const chosen =
    options.channel === undefined
      ? likeliest(readings, columns, context)
      : givenReading(columns, options.channel, '--channel', context);
  const found = toChannel(chosen);
  const remarks: Remark[] = [];
  if (options.channel === undefined && readings.length > 1) {
    remarks.push({
      code: 'channel-chosen',
      severity: 'note',
      message: `Of ${readings.length} columns with readings, column ${found.column} ("${found.name}"${found.unit === null ? '' : `, ${found.unit}`}) was taken.`,
      action: 'If it is another one, name it with --channel.',
    });
  }
  if (options.unit !== undefined && found.unit !== null && options.unit !== found.unit) {
    remarks.push({
      code: 'unit-assumed',
      severity: 'caution',
      message: `The file says that "${found.name}" is in ${found.unit}; it was read as ${options.unit} as told.`,
      action: 'Check which of the two is right, and leave out --unit if the file is.',
    });
  }
  const companions = (options.companions ?? []).map((key) =>
    toChannel(givenReading(columns, key, '--junction', context)),
  );
  return {
    channel: options.unit === undefined ? found : { ...found, unit: options.unit },
    channels: readings.map(toChannel),
    companions,
    remarks,
  };
}

/** A column that counts the rows is no reading. */
function numbersRows(column: Column): boolean {
  if (column.unit !== null || column.sample.length < 3) return false;
  if (
    !/^(?:|#|n|i|no|nr|idx|index|.*(?:sample|scan|record|reading|row|line|point|count|number).*)\.?$/i.test(
      column.name,
    )
  ) {
    return false;
  }
  const numbers = column.sample.map(Number);
  return numbers.every((x, i) => Number.isInteger(x) && (i === 0 || x === (numbers[i - 1] ?? 0) + 1));
}

function channelUnit(column: Column, stated: UnitMeaning | null): Channel['unit'] {
  const unit = column.unit ?? stated;
  return unit?.kind === 'channel' ? unit.unit : null;
}

/** Option with which a caller names a column. */
type ColumnOption = '--channel' | '--junction' | '--time-column';

/** A column of readings that the caller names. */
function givenReading(
  columns: readonly Column[],
  key: string | number,
  option: ColumnOption,
  context: ChoiceContext,
): Column {
  const column = findColumn(columns, key, option, context);
  const isTime = context.timeColumns.includes(column.index);
  if (column.kind === 'number' && !isTime) return column;
  const others = columns.filter((c) => c.kind === 'number' && !context.timeColumns.includes(c.index));
  const rest = others.length === 0 ? 'No other column holds numbers.' : `Numbers are in ${listed(others)}.`;
  throw new RecordingError(
    'channel-unknown',
    context.name,
    context.firstLine,
    isTime ? `${called(column)} is the time. ${rest}` : `${called(column)} does not hold numbers. ${rest}`,
    isTime
      ? `Name another column with ${option}; if this one holds readings, say where the time is with --time-column.`
      : `Name another column with ${option}.`,
    shownRows(columns, context.firstLine),
  );
}

/** `Column 2 ("Sphere")`. */
function called(column: Column): string {
  return `Column ${column.index + 1}${column.name === '' ? '' : ` ("${column.name}")`}`;
}

/** `columns 2 ("Sphere"), 3 ("Room")`: as many as a sentence can hold. */
function listed(columns: readonly Column[]): string {
  const list = columns
    .slice(0, 8)
    .map((c) => `${c.index + 1}${c.name === '' ? '' : ` ("${c.name}")`}`)
    .join(', ');
  return `${columns.length === 1 ? 'column' : 'columns'} ${list}${columns.length > 8 ? ` and ${columns.length - 8} more` : ''}`;
}

/**
 * The column that a caller means: by its name with or without its unit, as the header has it, by a part of
 * the name that only one column has, or by its number counted from 1. Case matters only between names that
 * differ in nothing else.
 *
 * @throws RecordingError `channel-unknown` where there is none, or more than one
 */
export function findColumn(
  columns: readonly Column[],
  key: string | number,
  option: ColumnOption,
  context: Pick<ChoiceContext, 'name' | 'firstLine'>,
): Column {
  const wanted = String(key).trim();
  const byNumber = /^\d{1,6}$/.test(wanted) ? columns[Number(wanted) - 1] : undefined;
  const found = typeof key === 'number' ? [] : columnsNamed(columns, wanted);
  const [first = byNumber, second] = found;
  if (first !== undefined && second === undefined) return first;
  throw new RecordingError(
    'channel-unknown',
    context.name,
    context.firstLine,
    second === undefined
      ? `There is no column "${wanted.slice(0, 60)}" for ${option}; the file has ${listed(columns)}.`
      : `The name "${wanted.slice(0, 60)}" fits ${listed(found)} alike.`,
    // A number behind --junction is a temperature.
    option === '--junction'
      ? 'Give --junction the name of one of these columns, with its unit as the header has it.'
      : `Give ${option} the number of one of these columns, or its name with its unit as the header has it.`,
    shownRows(columns, context.firstLine),
  );
}

/** Columns that a name may mean, by the closest way of comparing that finds any. */
function columnsNamed(columns: readonly Column[], wanted: string): readonly Column[] {
  const folded = foldedText(wanted);
  if (folded === '') return [];
  const { name, unit } = nameAndUnit(wanted);
  // Case comes first, as "t" is often the time and "T" the temperature.
  const ways: ((column: Column) => boolean)[] = [
    (c) => c.header.trim() === wanted || c.name === wanted,
    (c) => foldedText(c.header) === folded,
    (c) => foldedText(c.name) === folded,
    (c) => unit !== null && foldedText(c.name) === foldedText(name) && sameUnit(c.unit, unit),
  ];
  for (const way of ways) {
    const found = columns.filter(way);
    if (found.length > 0) return found;
  }
  // A number is a column's place before it is a part of a name.
  if (/^\d{1,6}$/.test(wanted)) return [];
  return columns.filter((c) => foldedText(c.header === '' ? c.name : c.header).includes(folded));
}

function foldedText(text: string): string {
  return text.trim().replace(/\s+/g, ' ').toLowerCase();
}

function sameUnit(a: UnitMeaning | null, b: UnitMeaning): boolean {
  if (a === null || a.kind !== b.kind) return false;
  return a.kind === 'other' || b.kind === 'other' || a.unit === b.unit;
}

const aside =
  /ambient|room|umgebung|raum|ambiante|ref(?:erence)?\b|cold|cjc|\bcj\b|\brj\b|vergleichs|jet|supply|humid|feuchte|flow|durchfluss|press|druck|set[ _-]?point|soll|status|batt|heater|trigger|alarm|error|board|internal|event|flag|count|sample|index|nr\b|no\b|seq/i;

function likeliest(readings: readonly Column[], columns: readonly Column[], context: ChoiceContext): Column {
  const [first] = readings;
  if (first === undefined) {
    throw new RecordingError(
      'no-numbers',
      context.name,
      context.firstLine,
      'There is a time column but no column of readings.',
      'Export the channel of the sensor as well, or say with --time-column none that the only column is not the time.',
      shownRows(columns, context.firstLine),
    );
  }
  const ranked = readings
    .map((column) => ({ column, points: plausibility(column) }))
    .sort((a, b) => b.points - a.points);
  const [best, second] = ranked;
  if (best !== undefined && (second === undefined || best.points > second.points)) return best.column;
  throw new RecordingError(
    'channel-needed',
    context.name,
    context.firstLine,
    `Several columns could be the sensor's: ${ranked
      .filter((r) => r.points === ranked[0]?.points)
      .slice(0, 8)
      .map((r) => `${r.column.index + 1} ("${columnName(r.column)}")`)
      .join(', ')}.`,
    'Say which with --channel, by name or number.',
    shownRows(columns, context.firstLine),
  );
}

function plausibility(column: Column): number {
  const { unit } = column;
  let points = 0;
  if (unit?.kind === 'channel')
    points += unit.unit === 'degC' || unit.unit === 'degF' || unit.unit === 'K' ? 4 : 3;
  else if (unit !== null) points -= 6;
  if (sensorName.test(column.name)) points += 2;
  if (/^T(?:\d|_|$)/.test(column.name)) points += 2;
  if (aside.test(column.name)) points -= 5;
  return points;
}
