import { type FigureTable, lightTheme, offscreenDocument, type Theme } from '../figure/index.ts';
import type { DocumentFigure, DocumentTable, Text } from './document.ts';

/** Ink on white paper. */
export const paperTheme: Theme = { ...lightTheme, paper: '#ffffff' };

let shared: Document | null = null;

/** The document in which all figures of a process are drawn. */
export function drawingBoard(): Document {
  shared ??= offscreenDocument();
  return shared;
}

/**
 * A drawing as part of a document, with the description that it carries itself.
 *
 * @param svg of the figure room
 */
export function drawing(
  svg: string,
  caption: Text | null,
  table: FigureTable | null,
  width = 1,
): DocumentFigure {
  return { svg, alt: descriptionOf(svg), caption, width, table: table === null ? null : behind(table) };
}

/** Numbers behind a figure as a table of the document; at most so many rows that a page bears them. */
function behind({ caption, columns, rows }: FigureTable): DocumentTable {
  const shown = rows.slice(0, mostRows);
  return {
    caption: rows.length > mostRows ? `${caption} (the first ${mostRows} of ${rows.length} rows)` : caption,
    columns: columns.map(({ name, unit }, i) => ({
      title: unit === null ? name : `${name} / ${unit}`,
      align: shown.some((row) => typeof row[i] === 'string') ? 'start' : 'decimal',
    })),
    rows: shown.map((row) => row.map((cell) => written(cell))),
  };
}

const mostRows = 500;

function written(cell: string | number | null): string {
  if (cell === null) return '';
  if (typeof cell === 'string') return cell;
  return Number.isInteger(cell) ? String(cell) : String(Number(cell.toPrecision(6))).replace('-', '−');
}

/** What a figure says of itself, without its markup. */
function descriptionOf(svg: string): string {
  const taken = ['title', 'desc'].map((name) => new RegExp(`<${name}[^>]*>([^<]*)</${name}>`).exec(svg)?.[1]);
  const text = taken.filter((part) => part !== undefined).join('. ');
  return text
    .replace(/&#(\d+);/g, (_, code: string) => String.fromCodePoint(Number(code)))
    .replace(/&(lt|gt|quot|amp);/g, (_, name: string) => entities[name] ?? '');
}

const entities: Readonly<Record<string, string>> = { lt: '<', gt: '>', quot: '"', amp: '&' };
