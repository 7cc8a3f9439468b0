import writeExcelFile, { type Row, type SheetData } from 'write-excel-file/node';
import type { Cell } from './columns.ts';
import { plainText, type ResultsTable } from './table.ts';
import type { ExportOrigin } from './types.ts';
import { withoutTimes } from './zip-times.ts';

/** Most characters in a cell of a spreadsheet are 32 767. */
const longest = 32_000;

/** A sheet of a workbook. */
export interface Sheet {
  readonly name: string;
  readonly data: SheetData;
  /** Widths of columns in characters. */
  readonly widths: readonly number[];
  /** Rows that stay in sight. */
  readonly head: number;
}

/** A workbook of these sheets; the same sheets give the same bytes. */
export async function workbook(sheets: readonly Sheet[]): Promise<Uint8Array> {
  const written = writeExcelFile(
    sheets.map(({ name, data, widths, head }) => ({
      sheet: name,
      data,
      columns: widths.map((width) => ({ width })),
      stickyRowsCount: head,
    })),
  );
  return withoutTimes(await written.toBuffer());
}

/** A cell with a text that is never taken for a formula. */
export function textCell(text: string, bold = false): Row[number] {
  const cell = { type: String, value: plainText(text.slice(0, longest)) };
  return bold ? { ...cell, fontWeight: 'bold' } : cell;
}

/** Results as a workbook: the table, and a sheet that says what every column means. */
export async function resultsWorkbook(table: ResultsTable, origin: ExportOrigin): Promise<Uint8Array> {
  const { columns, rows } = table;
  const head = (names: readonly string[]) => names.map((name) => textCell(name, true));
  return workbook([
    {
      name: 'results',
      data: [head(columns.map(({ name }) => name)), ...rows.map((row) => row.map(sheetCell))],
      widths: columns.map(({ name, type }) => (name === 'recording' ? 36 : type === 'string' ? 14 : 12)),
      head: 1,
    },
    {
      name: 'columns',
      data: [
        head(['column', 'unit', 'meaning', 'taken from']),
        ...columns.map(({ name, unit, meaning, source }) =>
          [name, unit ?? '', meaning, source].map((text) => textCell(text)),
        ),
        [],
        [textCell('course'), null, textCell(origin.course)],
        [textCell('Emberline'), null, textCell(origin.version)],
        [textCell('SHA-256 of experiment.yaml'), null, textCell(origin.experimentHash)],
      ],
      widths: [26, 8, 90, 36],
      head: 1,
    },
  ]);
}

function sheetCell(cell: Cell): Row[number] {
  return typeof cell === 'string' ? textCell(cell) : cell;
}
