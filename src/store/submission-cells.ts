import { readSheet } from 'read-excel-file/node';
import {
  type CellRows,
  cellsOfText,
  mostColumns,
  mostRows,
  type NoSheet,
  tooManyRows,
} from '../marking/index.ts';
import { workbookTrouble } from './workbook-check.ts';

/** Most bytes of a sheet that is handed in. */
export const largestSheet = 5_000_000;

/**
 * The cells of a sheet as it was handed in: a workbook by its first bytes, else text.
 *
 * @param bytes of the file
 */
export async function sheetCells(bytes: Uint8Array): Promise<CellRows | NoSheet> {
  const isZip = bytes[0] === 0x50 && bytes[1] === 0x4b;
  if (isZip) return workbookCells(bytes);
  if (bytes[0] === 0xd0 && bytes[1] === 0xcf) {
    return { message: 'This is a workbook of an old or a protected kind.', action: asCsv };
  }
  if (startsWith(bytes, '%PDF')) return { message: 'This is a PDF document.', action: asCsv };
  return cellsOfText(bytes);
}

const asCsv = 'Save the sheet as CSV or XLSX, and hand that in.';

function startsWith(bytes: Uint8Array, text: string): boolean {
  return [...text].every((one, i) => bytes[i] === one.charCodeAt(0));
}

async function workbookCells(bytes: Uint8Array): Promise<CellRows | NoSheet> {
  const trouble = workbookTrouble(bytes);
  if (trouble !== null) return { message: `The workbook cannot be used: it ${trouble}.`, action: asCsv };
  const found = await readSheet<StoredNumber>(Buffer.from(bytes), 1, {
    parseNumber: (text) => ({ stored: text }),
  }).catch((error: unknown) => {
    if (error instanceof Error) return null;
    throw error;
  });
  if (found === null) return { message: 'The workbook cannot be read.', action: asCsv };
  const rows = found.map((row, i) => {
    const cells = row.slice(0, mostColumns).map(shownCell);
    const stored = new Set(row.flatMap((cell, at) => (isStored(cell) ? [at] : [])));
    return { line: i + 1, cells, stored };
  });
  const filled = rows.filter(({ cells }) => cells.some((cell) => cell !== ''));
  return filled.length > mostRows + 1 ? tooManyRows : { rows: filled };
}

/** A number as the workbook stores it. */
interface StoredNumber {
  readonly stored: string;
}

function isStored(cell: unknown): cell is StoredNumber {
  return typeof cell === 'object' && cell !== null && 'stored' in cell;
}

/** Binary rounding in the last digits is nothing that a person wrote. */
function shownCell(cell: unknown): string {
  if (isStored(cell)) return String(Number(Number(cell.stored).toPrecision(12)));
  if (typeof cell === 'string') return cell.trim();
  if (cell instanceof Date) return 'a date';
  return typeof cell === 'boolean' ? String(cell) : '';
}
