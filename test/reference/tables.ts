import { readFileSync } from 'node:fs';

/** One row of a table, by column name. */
export interface Row {
  /** The cell as it is written; an error if there is no such column. */
  text(column: string): string;
  /** The cell as a number; NaN where it is empty. */
  number(column: string): number;
}

function textOf(name: string): string {
  return readFileSync(new URL(name, import.meta.url), 'utf8');
}

/** A CSV table beside this file. Lines that start with # name the source. */
export function table(name: string): Row[] {
  const lines = textOf(name)
    .split('\n')
    .filter((line) => line !== '' && !line.startsWith('#'));
  const header = lines[0]?.split(',') ?? [];
  return lines.slice(1).map((line) => {
    const cells = line.split(',');
    const text = (column: string): string => {
      const cell = cells[header.indexOf(column)];
      if (cell === undefined) throw new Error(`${name} has no column ${column} in: ${line}`);
      return cell;
    };
    return { text, number: (column) => (text(column) === '' ? Number.NaN : Number(text(column))) };
  });
}

/** One column of a CSV table, as numbers. */
export function column(name: string, heading: string): number[] {
  return table(name).map((row) => row.number(heading));
}

/** A JSON document beside this file; its shape is the caller's claim. */
export function json<Shape>(name: string): Shape {
  return JSON.parse(textOf(name)) as Shape;
}
