/** First line of a page that is made: whoever opens it shall not change it there. */
const madeBy = '<!-- Made by `npm run docs` from the source: change that, not this page. -->';

/** A cell of a table: one line, without what would end it. */
function cell(text: string): string {
  return text
    .replaceAll(/\s*\n\s*/g, ' ')
    .replaceAll('|', '\\|')
    .trim();
}

/** A table with its heading; cells may hold Markdown. */
export function table(heading: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.map(cell).join(' | ')} |`;
  return [line(heading), line(heading.map(() => '---')), ...rows.map(line)].join('\n');
}

/** Text in the type of programs, whatever backticks it holds. */
export function code(text: string): string {
  return text.includes('`') ? `\`\` ${text} \`\`` : `\`${text}\``;
}

/** A block in the type of programs. */
export function block(text: string, language = 'text'): string {
  return `\`\`\`${language}\n${text.trimEnd()}\n\`\`\``;
}

/** A page from its parts, with a blank line between them. */
export function page(parts: readonly string[]): string {
  return `${[madeBy, ...parts].join('\n\n')}\n`;
}

/** The anchor that a heading gets on the pages of the usual hosts: small letters, hyphens for blanks. */
export function anchorOf(heading: string): string {
  return heading
    .replaceAll(/[`*]/g, '')
    .replaceAll(/\[([^\]]*)\]\([^)]*\)/g, '$1')
    .trim()
    .toLowerCase()
    .replaceAll(/[^\p{L}\p{N}\s_-]/gu, '')
    .replaceAll(/\s/g, '-');
}
