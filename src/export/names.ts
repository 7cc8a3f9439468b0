/** A list of names that cannot be read. */
export class NamesError extends Error {
  override readonly name = 'NamesError';
  readonly mend = 'Give a CSV file with a group code and a name on every line, as A1,"Ada, Ben and Cleo".';
}

/** Largest list, characters. */
const longest = 1_000_000;
/** A cell with the comma or end of line that follows it: quoted with doubled quotation marks inside, or plain. */
const cell = /(?:"([^"]*(?:""[^"]*)*)"|([^",\r\n]*))(,|\r\n|\n|\r|$)/y;

/**
 * Names by group code from comma-separated values (RFC 4180): code and name, further columns are passed over. A first
 * line `code,name` is a header.
 *
 * @param text of the file, with or without a byte order mark
 * @throws NamesError where it is no such list, or a code stands twice
 */
export function readNames(text: string): Map<string, string> {
  if (text.length > longest) throw new NamesError('The list of names is longer than a million characters.');
  const lines = linesOf(text.replace(/^\uFEFF/, ''));
  const names = new Map<string, string>();
  lines.forEach((cells, place) => {
    const [code, name] = cells.map((one) => one.trim());
    if (code === undefined || (code === '' && cells.length === 1)) return;
    if (place === 0 && code.toLowerCase() === 'code') return;
    if (code === '' || name === undefined || name === '') {
      throw new NamesError(`Line ${place + 1} of the list of names does not hold a code and a name.`);
    }
    if (names.has(code)) {
      throw new NamesError(
        `The list of names has the code ${code.slice(0, 100)} twice, again on line ${place + 1}.`,
      );
    }
    names.set(code, name);
  });
  if (names.size === 0) throw new NamesError('The list of names holds no name.');
  return names;
}

function linesOf(text: string): string[][] {
  const lines: string[][] = [];
  let line: string[] = [];
  cell.lastIndex = 0;
  while (cell.lastIndex < text.length) {
    const found = cell.exec(text);
    if (found === null) {
      throw new NamesError(
        `Line ${lines.length + 1} of the list of names has a quotation mark that is not closed, or text behind one.`,
      );
    }
    const [, quoted, plain, end] = found;
    line.push(quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'));
    if (end === ',') continue;
    lines.push(line);
    line = [];
  }
  if (line.length > 0) lines.push(line);
  return lines;
}
