import { toSI, type Unit } from '../quantity/index.ts';
import type { CellRows } from './cells.ts';
import { headingOf, type PlaceColumn, type QuantityColumn } from './columns.ts';
import { type Heading, understandHeading, unitFor } from './heading.ts';
import { type DecimalMark, decimalMarkOf, readWrittenNumber, type WrittenNumber } from './number.ts';
import type { ReadSheet, SheetFault, SheetRow, WrittenValue } from './types.ts';

/** What a cell holds where a value was left out on purpose. */
const leftOut = /^(?:|-+|–|—|n\/?a|none|nil|\?+)$/i;
/** A number, and what stands behind it. */
const numberAndUnit = /^([+\-\u2212]?[\d.,'’\s\u00A0\u2009\u202F]*\d[.,]?(?:[eE][+-]?\d+)?)\s*(.*)$/;
/** An apostrophe that keeps a spreadsheet from taking the text behind it for a formula. */
const guarded = /^'(?=[=+\-@|%\uFF1D\uFF0B\uFF0D\uFF20])/u;
/** Most faults that are listed; a sheet that has more is no sheet. */
const mostFaults = 200;

/**
 * Reads the rows of a sheet: the first one names the columns. What cannot be used is said with its line and column and
 * counts as not handed in; nothing is thrown.
 */
export function readSheet({ rows }: CellRows): ReadSheet {
  const [head, ...body] = rows;
  if (head === undefined) {
    return { rows: [], faults: [fault(null, null, 'The sheet is empty.', 'Hand in a sheet with values.')] };
  }
  const faults: SheetFault[] = [];
  const columns = columnsIn(head, faults);
  if (!columns.some(({ heading }) => heading.kind === 'quantity')) {
    faults.push(
      fault(
        head.line,
        null,
        'No column is one of those that are asked for.',
        'Use the headings of the empty sheet, such as "time constant through origin / s".',
      ),
    );
  }
  const numbers = columns.filter(({ heading }) => heading.kind === 'quantity');
  const mark = decimalMarkOf(
    body.flatMap(({ cells, stored }) => {
      return numbers.flatMap(({ at }) => (stored?.has(at) === true ? [] : [cells[at] ?? '']));
    }),
  );
  const read = body.map((row) => rowOf(row, columns, mark, faults));
  return {
    rows: read.filter(
      ({ values, recording, body: of }) => values.length > 0 || recording !== null || of !== null,
    ),
    faults: faults.slice(0, mostFaults),
  };
}

interface SheetColumn {
  readonly at: number;
  readonly text: string;
  readonly heading: Heading;
}

/** The columns by the first row; a heading that stands twice counts once. */
function columnsIn({ line, cells }: CellRows['rows'][number], faults: SheetFault[]): SheetColumn[] {
  const seen = new Set<string>();
  return cells.flatMap((cell, at): SheetColumn[] => {
    const text = cell.replace(guarded, '');
    const heading = understandHeading(text);
    if (heading.kind === 'unknown') {
      if (text.trim() !== '') {
        faults.push(fault(line, text, 'The column is none of those that are known.', 'It was left aside.'));
      }
      return [];
    }
    if (heading.kind === 'unit-unknown') {
      const { column, unit } = heading;
      faults.push(
        fault(
          line,
          text,
          `"${unit}" is no unit of ${column.words}.`,
          `Head the column "${headingOf(column)}".`,
        ),
      );
      return [];
    }
    const key = heading.kind === 'place' ? heading.place : heading.column.quantity;
    if (seen.has(key)) {
      faults.push(fault(line, text, 'The sheet has this column twice.', 'The first one was taken.'));
      return [];
    }
    seen.add(key);
    if (heading.kind === 'quantity' && heading.unit === null && !heading.percent) {
      const { unit } = heading.column;
      if (unit !== '') {
        faults.push(
          fault(
            line,
            text,
            'The heading has no unit.',
            `${unit} was taken where a cell has none either; head the column "${headingOf(heading.column)}".`,
          ),
        );
      }
    }
    return [{ at, text, heading }];
  });
}

function rowOf(
  { line, cells, stored }: CellRows['rows'][number],
  columns: readonly SheetColumn[],
  mark: DecimalMark,
  faults: SheetFault[],
): SheetRow {
  const place = (wanted: PlaceColumn): string | null => {
    const column = columns.find(({ heading }) => heading.kind === 'place' && heading.place === wanted);
    const text = column === undefined ? '' : (cells[column.at] ?? '').replace(guarded, '').trim();
    return text === '' ? null : text;
  };
  const found = columns.flatMap(({ at, text, heading }): PartValue[] => {
    const cell = (cells[at] ?? '').replace(guarded, '').trim();
    if (heading.kind !== 'quantity' || leftOut.test(cell)) return [];
    const value = valueIn(cell, heading, stored?.has(at) === true ? '.' : mark);
    if (typeof value !== 'string') return [value];
    faults.push(fault(line, text, value, 'It counts as not handed in: write a plain number.'));
    return [];
  });
  return {
    line,
    group: place('group'),
    recording: place('recording'),
    body: place('body'),
    flow: place('flow'),
    repeat: repeatOf(place('repeat')),
    note: place('note') ?? '',
    values: settled(found, line, faults),
  };
}

function repeatOf(text: string | null): number | null {
  return text !== null && /^\d{1,4}$/.test(text) ? Number(text) : null;
}

/** A value that may still be a part of another. */
interface PartValue extends WrittenValue {
  readonly percent: boolean;
}

/** Reads a cell; one sentence where it is no value. */
function valueIn(
  cell: string,
  { column, unit, percent }: Heading & { kind: 'quantity' },
  mark: DecimalMark,
): PartValue | string {
  const shown = cell.length > 60 ? `${cell.slice(0, 60)}…` : cell;
  if (/±|\+\/?-/.test(cell)) {
    return `"${shown}" holds a value and its uncertainty: each belongs into a column of its own.`;
  }
  const parted = numberAndUnit.exec(cell);
  if (parted === null) return `"${shown}" is no number.`;
  const own = (parted[2] ?? '').trim();
  const whole = readWrittenNumber(own === '' ? (parted[1] ?? '') : cell, mark);
  const number = typeof whole === 'object' ? whole : readWrittenNumber(parted[1] ?? '', mark);
  if (number === 'two-ways') {
    return `"${shown}" can be read in two ways: with a decimal comma or with a thousands mark.`;
  }
  if (number === 'no-number') return `"${shown}" is no number.`;
  const ownUnit = own === '' || typeof whole === 'object' ? null : unitFor(column, own);
  if (own !== '' && typeof whole !== 'object' && ownUnit === null) {
    return `"${shown}" is no number, or "${own.slice(0, 20)}" is no unit of ${column.words}.`;
  }
  const { quantity } = column;
  const asPercent = ownUnit?.percent ?? percent;
  const asUnit = ownUnit?.unit ?? unit;
  if (asPercent) {
    return {
      quantity,
      written: withSymbol(parted[1] ?? cell, '%'),
      value: number.value / 100,
      rounding: number.rounding / 100,
      percent: true,
    };
  }
  return {
    quantity,
    ...inSI(number, asUnit),
    written: writtenOf(parted[1] ?? cell, column, asUnit),
    percent: false,
  };
}

function inSI({ value, rounding }: WrittenNumber, unit: Unit | null) {
  if (unit === null) return { value, rounding };
  return { value: toSI(value, unit), rounding: rounding * Math.abs(unit.factor) };
}

function writtenOf(number: string, { unit }: QuantityColumn, as: Unit | null): string {
  const symbol = as?.symbol ?? (unit === 'W/(m2 K)' ? 'W/(m² K)' : unit);
  return withSymbol(number, symbol === '1' ? '' : symbol);
}

function withSymbol(number: string, symbol: string): string {
  return symbol === '' ? number.trim() : `${number.trim()} ${symbol}`;
}

/** The time constant that an uncertainty of a row belongs to: through the origin, else the first that is there. */
const owners = ['origin', 'intercept', 'point'] as const;

/** Turns uncertainties in % into those of the time constant that they belong to. */
function settled(found: readonly PartValue[], line: number, faults: SheetFault[]): WrittenValue[] {
  const measured = owners
    .map((quantity) => found.find((one) => one.quantity === quantity))
    .find((one) => one !== undefined);
  const predicted = found.find(({ quantity }) => quantity === 'predicted');
  return found.flatMap(({ percent, ...value }): WrittenValue[] => {
    if (!percent) return [value];
    const owner = value.quantity.startsWith('predicted') ? predicted : measured;
    if (owner === undefined) {
      faults.push(
        fault(
          line,
          value.quantity,
          `"${value.written}" is a part of a time constant that the row does not hold.`,
          'Hand in the time constant as well.',
        ),
      );
      return [];
    }
    const size = Math.abs(owner.value);
    return [{ ...value, value: value.value * size, rounding: value.rounding * size }];
  });
}

function fault(line: number | null, column: string | null, message: string, action: string): SheetFault {
  return { line, column: column === null ? null : column.slice(0, 100), message, action };
}
