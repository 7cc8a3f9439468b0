import { element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';
import type { FigureRemark } from './trace-data.ts';
import { wrap } from './words.ts';

/** A remark and the place in the figure that it is about, px; null if it is about the whole recording. */
export interface MarginNote {
  readonly remark: FigureRemark;
  readonly place: readonly [number, number] | null;
  /** The height at which it wants to stand, px; the next free one where null. */
  readonly level: number | null;
  /** Notes of a lower zone stand above those of a higher one. */
  readonly zone: number;
}

/** The column beside the figure, px. */
export interface MarginColumn {
  readonly left: number;
  readonly width: number;
  readonly top: number;
  readonly bottom: number;
}

const lineHeight = 14.5;
const gap = 12;

interface LaidNote {
  readonly note: MarginNote;
  readonly message: readonly string[];
  readonly action: readonly string[];
  readonly height: number;
  top: number;
}

/**
 * Remarks in the margin, each as near to the height of its place as the others allow, tied to it by a thin
 * line that runs level out of the margin and then straight to the place. Within a zone, notes keep the order of the places
 * from left to right, so that the lines of a cooling curve do not cross.
 *
 * @returns markup; remarks that find no room are counted in a last line
 */
export function marginNotes(theme: Theme, notes: readonly MarginNote[], column: MarginColumn): string {
  const all = notes
    .toSorted((a, b) => a.zone - b.zone || (a.place?.[0] ?? 0) - (b.place?.[0] ?? 0))
    .map((note) => layOut(note, column.width, notes.length <= few));

  let used = 0;
  const shown: LaidNote[] = [];
  for (const laid of all) {
    const room = column.bottom - column.top - (shown.length + 1 < all.length ? lineHeight : 0);
    if (used + laid.height > room) break;
    used += laid.height + gap;
    shown.push(laid);
  }
  settle(shown, column);

  const parts = shown.flatMap((laid) => [tie(theme, laid, column.left), write(theme, laid, column.left)]);
  const left = all.length - shown.length;
  if (left > 0) {
    parts.push(
      label(`${left} more remark${left === 1 ? '' : 's'}: see the list.`, {
        x: column.left,
        y: column.bottom,
        fill: theme.muted,
      }),
    );
  }
  return element('g', { 'data-part': 'margin' }, ...parts);
}

/** A small ring with a number in it, at the place that a remark is about. */
export function numberedPlaces(theme: Theme, notes: readonly MarginNote[]): string {
  const marks = notes.map(({ place }, i) => {
    if (place === null) return '';
    const [x, y] = place;
    return (
      element('circle', { cx: x, cy: y, r: 8, fill: theme.paper, stroke: theme.ink, 'data-part': 'number' }) +
      label(String(i + 1), {
        x,
        y: y + 4,
        'text-anchor': 'middle',
        'font-size': sizes.small,
        'font-weight': 600,
      })
    );
  });
  return element('g', { 'data-part': 'numbers' }, ...marks);
}

/** Remarks with their numbers, one below the other. */
export function notesBelow(
  theme: Theme,
  notes: readonly MarginNote[],
  { left, width, top }: Pick<MarginColumn, 'left' | 'width' | 'top'>,
): { readonly markup: string; readonly height: number } {
  let next = top;
  const parts = notes.slice(0, mostBelow).map((note, i) => {
    const laid = { ...layOut(note, width - indent, true), top: next };
    next += laid.height + gap;
    return (
      label(String(i + 1), { x: left, y: laid.top + lineHeight * 0.9, 'font-weight': 600 }) +
      write(theme, laid, left + indent)
    );
  });
  return { markup: element('g', { 'data-part': 'margin' }, ...parts), height: next - top };
}

/** Room for the numbers of remarks, px, and how many are written below a figure. */
const indent = 22;
const mostBelow = 40;

/** So many remarks have room for every word; more are cut to a few lines each. */
const few = 3;

function layOut(note: MarginNote, width: number, whole: boolean): LaidNote {
  const { severity, message, action } = note.remark;
  const said = wrap(message, width, sizes.text, whole ? 12 : 6, severity === 'repeat');
  const todo = wrap(action, width, sizes.text, whole ? 8 : 4);
  return { note, message: said, action: todo, height: (said.length + todo.length) * lineHeight, top: 0 };
}

/** Moves notes down from where they want to be until none overlaps, then up until the last one fits. */
function settle(notes: readonly LaidNote[], column: MarginColumn): void {
  let next = column.top;
  for (const laid of notes) {
    laid.top = Math.max(next, (laid.note.level ?? next) - lineHeight * 0.65);
    next = laid.top + laid.height + gap;
  }
  let limit = column.bottom;
  for (const laid of notes.toReversed()) {
    laid.top = Math.max(Math.min(laid.top, limit - laid.height), column.top);
    limit = laid.top - gap;
  }
}

function tie(theme: Theme, laid: LaidNote, left: number): string {
  if (laid.note.place === null) return '';
  const [x, y] = laid.note.place;
  const level = laid.top + lineHeight * 0.65;
  return (
    element('path', {
      d: polyline([
        [left - 6, level],
        [x, level],
        [x, y],
      ]),
      fill: 'none',
      stroke: theme.tie,
      'stroke-width': 0.75,
      'data-part': 'tie',
    }) + element('circle', { cx: x, cy: y, r: 2.6, fill: theme.paper, stroke: theme.tie, 'stroke-width': 1 })
  );
}

function write(theme: Theme, laid: LaidNote, left: number): string {
  const weight = laid.note.remark.severity === 'repeat' ? 600 : undefined;
  const at = (line: number) => laid.top + lineHeight * (line + 0.9);
  const said = laid.message.map((text, i) => label(text, { x: left, y: at(i), 'font-weight': weight }));
  const todo = laid.action.map((text, i) =>
    label(text, { x: left, y: at(laid.message.length + i), fill: theme.muted }),
  );
  return element('g', { 'data-remark': laid.note.remark.code }, ...said, ...todo);
}
