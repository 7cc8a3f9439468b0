import type { Column } from './columns.ts';
import type { UnitMeaning } from './units.ts';

/** The first rows as they were understood, for errors that ask for a choice. */
export function shownRows(columns: readonly Column[], firstLine: number): string {
  const lines = [`The first rows as understood (numbers from line ${firstLine}):`];
  for (const column of columns.slice(0, 24)) {
    const name = column.name === '' ? 'no name' : `"${column.name.slice(0, 40)}"`;
    const kind = { number: 'numbers', clock: 'dates or times', text: 'text', blank: 'empty' }[column.kind];
    const sample = column.sample.map((cell) => cell.slice(0, 24)).join(' | ');
    lines.push(`  column ${column.index + 1}: ${name}, ${unitText(column.unit)}, ${kind}: ${sample}`);
  }
  if (columns.length > 24) lines.push(`  and ${columns.length - 24} more columns`);
  return lines.join('\n');
}

function unitText(unit: UnitMeaning | null): string {
  if (unit === null) return 'no unit';
  return unit.kind === 'other' ? 'another unit' : unit.unit;
}

/** What a column is called in messages. */
export function columnName(column: Pick<Column, 'index' | 'name'>): string {
  return column.name === '' ? `column ${column.index + 1}` : column.name;
}
