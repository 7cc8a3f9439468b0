import { plainText } from './number.ts';
import type { Dialect } from './types.ts';

/**
 * Cells of a line, without quotes and without spaces around them.
 *
 * @param line without its line end
 * @param delimiter `space` splits at any run of spaces
 */
export function splitRow(line: string, delimiter: Dialect['delimiter']): string[] {
  if (delimiter === 'space') {
    const text = plainText(line);
    return text === '' ? [''] : text.split(/ +/).map(unquoted);
  }
  if (!line.includes('"')) return line.split(delimiter).map(plainText);
  return splitQuoted(line, delimiter);
}

function splitQuoted(line: string, delimiter: string): string[] {
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (const c of line) {
    if (c === '"') quoted = !quoted;
    else if (c === delimiter && !quoted) {
      cells.push(plainText(cell));
      cell = '';
    } else cell += c;
  }
  cells.push(plainText(cell));
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
