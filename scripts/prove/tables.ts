import type { Average, Rate } from './rates.ts';

/** Rows of cells as a Markdown table; columns of numbers are set to the right. */
export function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell) => cell.replaceAll('|', '\\|')).join(' | ')} |`;
  const numbers = (column: number) => rows.every((row) => /^[−–\d][\d.]*($| \()/.test(row[column] ?? ''));
  const rule = heads.map((_, i) => (numbers(i) ? '---:' : '---'));
  return [line(heads), line(rule), ...rows.map(line)].join('\n');
}

/** A rate in percent. */
export function percent(rate: number, digits = 1): string {
  return Number.isFinite(rate) ? (100 * rate).toFixed(digits) : '–';
}

/** `95.0 (93.1–96.4)`, in percent. */
export function percentWithin({ value, low, high }: Rate | Average, digits = 1): string {
  if (!Number.isFinite(value)) return '–';
  const ends = [low, high].map((x) => percent(x, digits));
  return `${percent(value, digits)} (${ends.join(' to ')})`;
}

/** `0.02 (−0.05 to 0.09)`. */
export function numberWithin({ value, low, high }: Average, digits = 2): string {
  if (!Number.isFinite(value)) return '–';
  return `${signed(value, digits)} (${signed(low, digits)} to ${signed(high, digits)})`;
}

export function signed(x: number, digits: number): string {
  return x.toFixed(digits).replace('-', '−');
}
