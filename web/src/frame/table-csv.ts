import type { FigureTable } from '../../../src/figure/index.ts';

/**
 * A table as CSV (RFC 4180): commas, lines ended by CR LF, texts in quotes where they need them. A text that a
 * spreadsheet would take for a formula gets an apostrophe before it.
 */
export function csvOf(table: FigureTable): string {
  const head = table.columns.map(({ name, unit }) => (unit === null ? name : `${name} (${unit})`));
  const lines = [head, ...table.rows].map((row) => row.map(field).join(','));
  return `${lines.join('\r\n')}\r\n`;
}

function field(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const safe = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
