import { decimalsBehind, padded } from './decimal.ts';
import type { Block, DocumentTable, Inline, Paper, Report, Text } from './document.ts';
import { quotedText, typstMath } from './math.ts';
import { remarkWords } from './remark-words.ts';

/** A document as the typesetter takes it. */
export interface TypstSource {
  readonly main: string;
  /** Drawings and pictures by the names that `main` calls them. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** How close a document is set. */
interface Closeness {
  readonly margin: string;
  readonly letters: string;
  /** Above and below the text of a cell. */
  readonly inset: string;
  /** Of a row that is written into by hand. */
  readonly handRow: string;
  readonly paragraphs: string;
  /** Above and below a heading. */
  readonly headings: readonly [string, string];
}

const usualCloseness: Closeness = {
  margin: '(x: 22mm, top: 20mm, bottom: 22mm)',
  letters: '10pt',
  inset: '3.4pt',
  handRow: '8mm',
  paragraphs: '0.95em',
  headings: ['1.5em', '0.7em'],
};

const roomy: Closeness = {
  margin: '(x: 15mm, top: 12mm, bottom: 14mm)',
  letters: '8.6pt',
  inset: '2.6pt',
  handRow: '8mm',
  paragraphs: '0.7em',
  headings: ['1.1em', '0.55em'],
};

/** From the most room to the least that can be read and written into. */
const denseCloseness: readonly [Closeness, ...Closeness[]] = [
  roomy,
  { ...roomy, inset: '2.2pt', handRow: '7mm', paragraphs: '0.6em' },
  { ...roomy, letters: '8.2pt', inset: '1.8pt', handRow: '6.2mm', paragraphs: '0.55em' },
  {
    margin: '(x: 12mm, top: 9mm, bottom: 12mm)',
    letters: '7.8pt',
    inset: '1.4pt',
    handRow: '5.4mm',
    paragraphs: '0.5em',
    headings: ['0.9em', '0.45em'],
  },
  {
    margin: '(x: 12mm, top: 9mm, bottom: 12mm)',
    letters: '7.4pt',
    inset: '1.2pt',
    handRow: '4.6mm',
    paragraphs: '0.45em',
    headings: ['0.75em', '0.4em'],
  },
];

/** How many steps there are from the most room to the least. */
export function closenessSteps({ density }: Report): number {
  return density === 'dense' ? denseCloseness.length : 1;
}

/**
 * A document as source of the typesetter. Every text goes in as a quoted string, in which nothing has a meaning, so
 * that whatever stands in a name, a note or a path is shown and never carried out.
 *
 * @param step of a dense document: 0 for the most room
 * @throws RangeError, Error where a formula cannot be set
 */
export function typstSource(report: Report, paper: Paper, step = 0): TypstSource {
  const close = report.density === 'dense' ? (denseCloseness[step] ?? denseCloseness[0]) : usualCloseness;
  const files = new Map<string, Uint8Array>();
  const body = report.blocks.map((block) => blockSource(block, files, close)).join('\n\n');
  return { main: `${preamble(report, paper, close)}\n\n${body}\n`, files };
}

function preamble({ title, subtitle, foot, density }: Report, paper: Paper, close: Closeness): string {
  const dense = density === 'dense';
  return `#set document(title: ${quotedText(title)}, date: none)
#set page(paper: ${quotedText(paper)}, margin: ${close.margin}, footer: context {
  set text(size: 7.5pt, fill: luma(35%))
  grid(columns: (1fr, auto), column-gutter: 8mm, [#${quotedText(foot)}],
    [#counter(page).display("1 / 1", both: true)])
})
#set text(font: "Atkinson Hyperlegible Next", size: ${close.letters}, lang: "en", number-width: "tabular", hyphenate: false)
#set par(leading: 0.62em, spacing: ${close.paragraphs})
#set table(stroke: (x, y) => (bottom: if y == 0 { 0.7pt } else { 0.25pt + luma(70%) }), inset: (x: 4pt, y: ${close.inset}))
#show table.cell.where(y: 0): set text(weight: "semibold")
#show heading: set block(above: ${close.headings[0]}, below: ${close.headings[1]}, sticky: true)
#show heading.where(level: 1): set text(size: ${dense ? '11pt' : '14pt'})
#show heading.where(level: 2): set text(size: ${dense ? '9.6pt' : '11.5pt'})
#show heading.where(level: 3): set text(size: ${dense ? '8.8pt' : '10pt'})
#show figure.caption: set text(size: 0.88em)
#show figure.caption: set align(left)
#show figure.where(kind: table): set align(left)
#show figure.where(kind: table): set block(breakable: true)
#show figure: set block(above: 1.1em, below: 1.1em)
#show raw: set text(font: "Atkinson Hyperlegible Next", size: 1em / 0.8)
#show math.equation: set text(size: 1.06em)
#show title: set text(size: ${dense ? '13pt' : '17pt'})
#show title: set block(above: 0em, below: ${dense ? '0.4em' : '0.6em'})
#title()
${subtitle === null ? '' : `#block(below: 1em, text(fill: luma(30%), ${quotedText(subtitle)}))`}`;
}

function blockSource(block: Block, files: Map<string, Uint8Array>, close: Closeness): string {
  switch (block.kind) {
    case 'heading':
      return `#heading(level: ${block.level}, ${quotedText(block.text)})`;
    case 'paragraph':
      return `#par[${textSource(block.text)}]`;
    case 'list':
      return `#${block.ordered ? 'enum' : 'list'}(${block.items.map((item) => `[${textSource(item)}]`).join(', ')},)`;
    case 'facts':
      return `#grid(columns: (auto, 1fr), column-gutter: 5mm, row-gutter: 0.62em, ${block.rows
        .map(([name, value]) => `text(fill: luma(30%), ${quotedText(name)}), [${textSource(value)}]`)
        .join(', ')})`;
    case 'table':
      return tableSource(block.table, close);
    case 'figure': {
      const name = `/figure-${files.size + 1}.svg`;
      files.set(name, new TextEncoder().encode(block.figure.svg));
      return imageSource(name, block.figure);
    }
    case 'picture': {
      const { picture } = block;
      const name = `/picture-${files.size + 1}.${picture.type === 'image/png' ? 'png' : 'jpg'}`;
      files.set(name, picture.bytes);
      return imageSource(name, picture);
    }
    case 'formula': {
      const set = `#math.equation(block: true, alt: ${quotedText(block.plain)}, $ ${typstMath(block.tex)} $)`;
      return block.source === null
        ? set
        : `${set}\n#block(above: 0.5em)[#text(size: 0.82em, fill: luma(35%), ${quotedText(block.source)})]`;
    }
    case 'remark':
      return `#block(inset: (left: 3mm), stroke: (left: ${block.severity === 'repeat' ? '1.6pt' : '0.7pt'}), width: 100%)[#strong(${quotedText(remarkWords(block.number, block.severity))})#${quotedText(bound(block.message))}${
        block.action === null ? '' : ` #emph(${quotedText(` ${block.action}`)})`
      }]`;
    case 'caution':
      return `#block(inset: 3mm, stroke: 0.7pt, width: 100%)[#strong("Take care. ")${textSource(block.text)}]`;
    case 'notes':
      return '';
    case 'page-break':
      return '#pagebreak(weak: true)';
  }
}

function imageSource(
  name: string,
  { alt, caption, width }: { readonly alt: string; readonly caption: Text | null; readonly width: number },
): string {
  const image = `image(${quotedText(name)}, width: ${Math.round(width * 100)}%, alt: ${quotedText(alt)})`;
  const set = caption === null ? '' : `, caption: [${textSource(caption)}]`;
  return `#figure(${image}, alt: ${quotedText(alt)}, numbering: none${set})`;
}

function tableSource({ caption, columns, rows, byHand }: DocumentTable, close: Closeness): string {
  const widths = columns.map(({ share }) => (share === undefined ? 'auto' : `${share}fr`)).join(', ');
  const aligns = columns
    .map(({ align }) => `${align === 'start' ? 'left' : 'right'}${byHand === true ? ' + horizon' : ''}`)
    .join(', ');
  const behind = columns.map(({ align }, i) =>
    align === 'decimal' ? decimalsBehind(rows.map((row) => row[i] ?? '')) : null,
  );
  const cells = rows.flatMap((row) =>
    columns.map((_, i) => {
      const text = row[i] ?? '';
      const most = behind[i] ?? null;
      const hidden = most === null ? '' : padded(text, most);
      return `[${textSource(text)}${hidden === '' ? '' : `#hide(${quotedText(hidden)})`}]`;
    }),
  );
  const head = columns.map(({ title }) => `[#${quotedText(title)}]`).join(', ');
  const height = byHand === true ? `, rows: (auto, ${rows.map(() => close.handRow).join(', ')})` : '';
  const whole = rows.length <= mostRowsTogether;
  const table = `table(columns: (${widths},), align: (${aligns},)${height}, table.header(${head}), ${cells.join(', ')})`;
  const set =
    caption === null
      ? table
      : `figure(kind: table, numbering: none, ${table}, caption: figure.caption(position: top, ${quotedText(bound(caption))}))`;
  return whole ? `#block(breakable: false, ${set})` : `#${set}`;
}

/** Shorter tables are not torn between pages. */
const mostRowsTogether = 12;

/** A percent sign stays with its number. */
function bound(text: string): string {
  return text.replace(/(\d) (?=%)/g, '$1\u00a0');
}

function textSource(text: Text): string {
  return (typeof text === 'string' ? [text] : text).map(inlineSource).join('');
}

function inlineSource(inline: Inline): string {
  if (typeof inline === 'string') return `#${quotedText(bound(inline))}`;
  switch (inline.kind) {
    case 'strong':
      return `#strong(${quotedText(inline.text)})`;
    case 'emphasis':
      return `#emph(${quotedText(inline.text)})`;
    case 'code':
      return `#raw(${quotedText(inline.text)})`;
    case 'math':
      return `#math.equation(alt: ${quotedText(inline.plain)}, $${typstMath(inline.tex)}$)`;
  }
}
