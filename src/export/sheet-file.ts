import type { TextTable } from '../marking/index.ts';
import { csvText } from './csv.ts';
import { textCell, workbook } from './xlsx.ts';

/** Formats of a sheet that groups fill in. */
export const sheetFormats = ['csv', 'xlsx'] as const;

/** A table of texts as comma-separated values; nothing in it is taken for a formula. */
export function textTableCsv({ columns, rows }: TextTable): string {
  return csvText({ columns: columns.map((name) => ({ name })), rows });
}

/** A table of texts as a file. In a workbook, cells without a text are left free for numbers. */
export async function sheetFile(
  table: TextTable,
  format: (typeof sheetFormats)[number],
): Promise<Uint8Array> {
  if (format === 'csv') return Buffer.from(textTableCsv(table), 'utf8');
  const { columns, rows } = table;
  return workbook([
    {
      name: 'values',
      data: [
        columns.map((name) => textCell(name, true)),
        ...rows.map((row) => row.map((cell) => (cell === '' ? null : textCell(cell)))),
      ],
      widths: columns.map((name) => (name === 'recording' ? 40 : Math.max(10, name.length))),
      head: 1,
    },
  ]);
}
