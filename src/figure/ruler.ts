import { element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';
import { widthOf } from './words.ts';

/** A named stretch above a panel, in px. */
export interface Stretch {
  readonly name: string;
  readonly from: number;
  readonly to: number;
  readonly kind: 'still' | 'heat' | 'tail' | 'air' | 'window';
  /** Whether it goes on beyond its first and its last end as drawn, where the view cuts it. */
  readonly goesOn: readonly [boolean, boolean];
}

/** How each kind of stretch is drawn: a line of its own, so that colour only repeats what the line says. */
const lines = {
  still: { dash: undefined, width: 1.2 },
  heat: { dash: '7 3', width: 2 },
  tail: { dash: '1.5 2', width: 5 },
  air: { dash: undefined, width: 2.4 },
  window: { dash: undefined, width: 5 },
} as const;

/** The colour of a kind of stretch. */
export function colourOf(theme: Theme, kind: Stretch['kind']): string {
  if (kind === 'heat' || kind === 'tail') return theme.heat;
  return kind === 'still' ? theme.muted : theme.air;
}

/**
 * Stretches as measuring lines with their names above, on one level; a name that is wider than its stretch is
 * lifted to a level above and tied by a thin line; that of a window stands beside it.
 *
 * @param y the level of the lines, px
 * @param left where names may begin, px
 * @param right where names must end, px
 */
export function ruler(
  theme: Theme,
  stretches: readonly Stretch[],
  y: number,
  left: number,
  right: number,
): string {
  const parts: string[] = [];
  let liftedUntil = left;
  for (const s of stretches) {
    const colour = colourOf(theme, s.kind);
    const line = lines[s.kind];
    const to = Math.max(s.to, s.from + 1);
    parts.push(
      element('path', {
        d: polyline([
          [s.from, y],
          [to, y],
        ]),
        stroke: colour,
        'stroke-width': line.width,
        'stroke-dasharray': line.dash,
        'data-part': `${s.name} line`,
      }),
      ends(s, to, y, colour),
    );
    const width = widthOf(s.name, sizes.text, s.kind === 'window');
    const middle = (s.from + to) / 2;
    const text = { fill: colour, 'font-weight': s.kind === 'window' ? 600 : undefined };
    if (width + 4 <= to - s.from) {
      parts.push(label(s.name, { ...text, x: middle, y: y - 8, 'text-anchor': 'middle' }));
      continue;
    }
    if (s.kind === 'window') {
      // The window stands on a level of its own, close above the panel: its name goes beside it.
      const fits = to + 8 + width <= right;
      parts.push(
        label(s.name, {
          ...text,
          x: fits ? to + 8 : s.from - 8,
          y: y + 4,
          'text-anchor': fits ? 'start' : 'end',
        }),
      );
      continue;
    }
    const start = Math.max(Math.min(Math.max(liftedUntil, middle + 5), right - width), left);
    liftedUntil = start + width + 8;
    parts.push(
      element('path', {
        // A name that had to give way is tied below those before it, not through them.
        d: polyline(
          start > middle + 5
            ? [
                [middle, y - 3],
                [middle, y - 10],
                [start - 1, y - 20],
              ]
            : [
                [middle, y - 3],
                [middle, y - 26],
                [start - 2, y - 26],
              ],
        ),
        fill: 'none',
        stroke: theme.tie,
        'stroke-width': 0.75,
      }),
      label(s.name, { ...text, x: start, y: y - 22 }),
    );
  }
  return element('g', { 'data-part': 'segments' }, ...parts);
}

/** Short lines across the ends that are in view. */
function ends(s: Stretch, to: number, y: number, stroke: string): string {
  const d = [s.from, to]
    .filter((_, i) => s.goesOn[i] !== true)
    .map((x) =>
      polyline([
        [x, y - 4],
        [x, y + 4],
      ]),
    )
    .join('');
  return d === '' ? '' : element('path', { d, stroke, 'stroke-width': 1 });
}

/** Diagonal lines that fill a rectangle, as one path: a hatching that needs no pattern and no name. */
export function hatch(x: number, y: number, width: number, height: number, spacing: number): string {
  const parts: string[] = [];
  for (let offset = spacing; offset < width + height; offset += spacing) {
    // The line runs from the top or right edge down to the left or bottom edge.
    const from: [number, number] = offset <= width ? [x + offset, y] : [x + width, y + offset - width];
    const to: [number, number] = offset <= height ? [x, y + offset] : [x + offset - height, y + height];
    parts.push(polyline([from, to]));
  }
  return parts.join('');
}
