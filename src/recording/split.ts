import { keyboardText } from './number.ts';
import type { Dialect } from './types.ts';

/**
 * What stands between a line and its cells: nothing; decimal commas between commas, so that two cells are one
 * number; or the frame of a serial monitor, as in `10:12:31.123 -> T=22.00 C`.
 */
export type RowForm = 'plain' | 'pairs' | 'framed';

/** How rows are parted into cells. */
export interface RowStyle {
  readonly delimiter: Dialect['delimiter'];
  readonly form: RowForm;
}

/** Cells of a line of the table or of its header. */
export function rowCells(line: string, { delimiter, form }: RowStyle): string[] {
  if (form === 'pairs') return pairedCells(line);
  if (form === 'framed') return framedCells(line, delimiter).map(({ cell }) => cell);
  return splitRow(line, delimiter);
}

/** `0,05,20,95` is 0,05 and 20,95; a row that does not come out even is one cell, which is no number. */
function pairedCells(line: string): string[] {
  const cells = splitRow(line, ',');
  if (!/^\s*[-+\d]/.test(line)) return cells;
  const paired = cells.length % 2 === 0 && cells.every((cell, i) => (i % 2 === 0 ? whole : tail).test(cell));
  if (!paired) return [line];
  return cells.flatMap((cell, i) => (i % 2 === 0 ? [`${cell},${cells[i + 1] ?? ''}`] : []));
}

const whole = /^[-+]?\d+$/;
const tail = /^\d+(?:[eE][-+]?\d+)?$/;

/** Time of day that a serial monitor puts in front of a line, and its arrow. */
export const monitorStamp = /^\s*(\d{1,2}:\d{2}:\d{2}(?:[.,]\d{1,9})?)\s*->\s*/;
const label = /^([A-Za-z_°][^=:,;\t]{0,39}?)\s*[=:]\s*(?=[-+]?[.,]?\d)/;

/** Cells without the monitor's arrow and without the `name=` in front of their numbers, and these names. */
export function framedCells(
  line: string,
  delimiter: Dialect['delimiter'],
): { readonly cell: string; readonly name: string }[] {
  const stamp = monitorStamp.exec(line);
  const rest = stamp === null ? line : line.slice(stamp[0].length);
  const cells = splitRow(rest, delimiter).map((cell) => {
    const found = label.exec(cell);
    return found === null ? { cell, name: '' } : { cell: cell.slice(found[0].length), name: found[1] ?? '' };
  });
  return stamp === null ? cells : [{ cell: stamp[1] ?? '', name: '' }, ...cells];
}

/**
 * Cells of a line, without quotes and without spaces around them.
 *
 * @param line without its line end
 * @param delimiter `space` splits at any run of spaces
 */
export function splitRow(line: string, delimiter: Dialect['delimiter']): string[] {
  if (delimiter === 'space') {
    const text = keyboardText(line);
    return text === '' ? [''] : text.split(/ +/).map(unquoted);
  }
  if (!line.includes('"')) return line.split(delimiter).map(keyboardText);
  return splitQuoted(line, delimiter);
}

function splitQuoted(line: string, delimiter: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (const c of line) {
    if (c === '"') quoted = !quoted;
    else if (c === delimiter && !quoted) {
      cells.push(keyboardText(cell));
      cell = '';
    } else cell += c;
  }
  cells.push(keyboardText(cell));
  return cells;
}

function unquoted(cell: string): string {
  return cell.startsWith('"') && cell.endsWith('"') && cell.length > 1 ? cell.slice(1, -1).trim() : cell;
}

/** Text of a comment line without its mark; null where the line is no comment. */
export function commentText(line: string): string | null {
  const match = /^\s*(?:#+|%+|\/\/+|!|rem\b|\*(?=\s))\s?(.*)$/i.exec(line);
  return match === null ? null : (match[1] ?? '');
}
