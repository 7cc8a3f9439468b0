/** A text with places to be filled in that cannot be used as it is. */
export class TemplateError extends Error {
  override readonly name = 'TemplateError';
  /** Name of the file. */
  readonly file: string;
  /** From 1. */
  readonly line: number;
  readonly mend: string;

  constructor(file: string, line: number, what: string, mend: string) {
    super(`${file}, line ${line}: ${what}; ${mend}`);
    this.file = file;
    this.line = line;
    this.mend = mend;
  }
}

/** A text with places to be filled in, taken apart. */
export interface Template {
  readonly parts: readonly TemplatePart[];
}

type TemplatePart = { readonly text: string } | { readonly place: string };

const place = /\\\{|\{([^{}\n]{0,60})\}/g;

/**
 * Takes a text apart: `{name}` is a place to be filled in, `\{` a brace.
 *
 * @param file its name, for the message
 * @param known names of places
 * @throws TemplateError where it holds a place that nobody fills
 */
export function parseTemplate(text: string, file: string, known: readonly string[]): Template {
  const parts: TemplatePart[] = [];
  let at = 0;
  for (const found of text.matchAll(place)) {
    const before = text.slice(at, found.index);
    const name = found[1];
    at = found.index + found[0].length;
    if (name === undefined) {
      parts.push({ text: `${before}{` });
      continue;
    }
    const asked = name.trim();
    if (!known.includes(asked)) {
      const line = text.slice(0, found.index).split('\n').length;
      throw new TemplateError(
        file,
        line,
        `there is no {${asked}} here`,
        `write one of ${known.map((one) => `{${one}}`).join(', ')}, or \\{ for a brace`,
      );
    }
    parts.push({ text: before }, { place: asked });
  }
  parts.push({ text: text.slice(at) });
  return { parts };
}

/**
 * Fills a template in. Lines that hold nothing but places without a text are left out.
 *
 * @param values by name; what is missing is empty
 */
export function fillTemplate({ parts }: Template, values: Readonly<Record<string, string>>): string {
  const lines: { text: string; places: boolean; filled: boolean }[] = [];
  let line = { text: '', places: false, filled: false };
  for (const part of parts) {
    if ('place' in part) {
      const value = values[part.place] ?? '';
      line.places = true;
      if (value !== '') line.filled = true;
      line.text += value;
      continue;
    }
    const [first = '', ...rest] = part.text.split('\n');
    line.text += first;
    if (first.trim() !== '') line.filled = true;
    for (const next of rest) {
      lines.push(line);
      line = { text: next, places: false, filled: next.trim() !== '' };
    }
  }
  lines.push(line);
  return lines
    .filter(({ places, filled }) => !places || filled)
    .map(({ text }) => text)
    .join('\n')
    .replace(/\n{3,}/g, '\n\n');
}

/** A text from elsewhere as plain words within Markdown: nothing in it makes a link, a heading, a list or HTML. */
export function asPlainMarkdown(text: string): string {
  return text
    .replace(/[\p{Cc}\u2028\u2029]+/gu, ' ')
    .replace(/[\\`*[\]<>~&|]/g, '\\$&')
    .replace(/(?<![\p{L}\p{N}])_|_(?![\p{L}\p{N}])/gu, '\\_')
    .replace(/^(\s*)(\d+)([.)])(?=\s|$)/, '$1$2\\$3')
    .replace(/^(\s*)([-+=#])/, '$1\\$2');
}
