/**
 * Breaks a text into lines at blanks; no-break spaces hold together and come out as blanks. Words longer than a
 * line stay whole.
 *
 * @param width most characters of a line
 */
function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/[ \t\n]+/).filter((part) => part !== '')) {
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  if (line !== '') lines.push(line);
  return lines.map((whole) => whole.replaceAll('\u00a0', ' '));
}

/** A number and its unit stay on one line. */
function bindUnits(text: string): string {
  return text
    .replace(/(\d) (?=(?:%|°C|m?K|k?Hz|m?s|mm|min|m?V)(?![A-Za-z]))/g, '$1\u00a0')
    .replace(/± (?=\d)/g, '±\u00a0');
}

/** A labelled paragraph: the label in the margin, the text beside it, wrapped to 80 columns. */
export function entry(label: string, text: string, margin = 13): string[] {
  const lines = wrap(bindUnits(text), 80 - margin);
  return lines.map((line, i) => `${(i === 0 ? `  ${label}` : '').padEnd(margin)}${line}`);
}
