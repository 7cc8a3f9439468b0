import type { Remark } from '../remark/index.ts';
import type { Column } from './columns.ts';
import { RecordingError } from './error.ts';
import type { ReadOptions } from './options.ts';
import { columnName, shownRows } from './shown.ts';
import type { Channel } from './types.ts';
import type { UnitMeaning } from './units.ts';

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
      : findColumn(columns, options.channel, 'channel', context);
  if (chosen.kind !== 'number') {
    throw new RecordingError(
      'channel-unknown',
      context.name,
      context.firstLine,
      `Column ${chosen.index + 1} does not hold numbers.`,
      'Name a column of numbers with --channel.',
      shownRows(columns, context.firstLine),
    );
  }
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
      action: 'Check which of the two is right.',
    });
  }
  const companions = (options.companions ?? []).map((key) =>
    toChannel(findColumn(columns, key, 'companion', context)),
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

/** The column that a caller means, by number counted from 1 or by name. */
export function findColumn(
  columns: readonly Column[],
  key: string | number,
  what: string,
  context: Pick<ChoiceContext, 'name' | 'firstLine'>,
): Column {
  const wanted = String(key).trim();
  const folded = wanted.toLowerCase();
  const named = columns.filter((c) => c.name.toLowerCase() === folded && folded !== '');
  const byNumber = /^\d{1,6}$/.test(wanted) ? columns[Number(wanted) - 1] : undefined;
  const found = typeof key === 'number' ? byNumber : (named[0] ?? byNumber);
  const partly = columns.filter((c) => c.name.toLowerCase().includes(folded) && folded !== '');
  const only = found ?? (partly.length === 1 ? partly[0] : undefined);
  if (only !== undefined) return only;
  throw new RecordingError(
    'channel-unknown',
    context.name,
    context.firstLine,
    `There is no column "${wanted.slice(0, 60)}".`,
    `Name one of the columns below with --${what === 'time column' ? 'time-column' : what}, by name or number.`,
    shownRows(columns, context.firstLine),
  );
}

const hot =
  /temp|thermo|\btc\b|tc[_ ]?\d|sphere|kugel|bead|body|probe|sensor|sonde|f[üu]hler|junction|signal|ai\s?\d|kelvin|celsius/i;
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
  if (hot.test(column.name)) points += 2;
  if (/^T(?:\d|_|$)/.test(column.name)) points += 2;
  if (aside.test(column.name)) points -= 5;
  return points;
}
