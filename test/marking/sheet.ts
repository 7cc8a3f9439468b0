import { cellsOfText, type ReadSheet, readSheet } from '../../src/marking/index.ts';

/** A sheet from its text. */
export function sheetOf(text: string): ReadSheet {
  return sheetOfBytes(new TextEncoder().encode(text));
}

export function sheetOfBytes(bytes: Uint8Array): ReadSheet {
  const cells = cellsOfText(bytes);
  if (!('rows' in cells)) throw new Error(cells.message);
  return readSheet(cells);
}

/** Values of a row by quantity, SI. */
export function valuesOf(sheet: ReadSheet, row = 0): Record<string, number> {
  return Object.fromEntries(
    (sheet.rows[row]?.values ?? []).map(({ quantity, value }) => [quantity, Number(value.toPrecision(10))]),
  );
}
