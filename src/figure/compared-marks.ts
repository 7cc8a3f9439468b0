import { element, polyline } from './markup.ts';
import type { Theme } from './theme.ts';

/** Outlines that differ at a glance and on a photocopy. */
const outlines = ['circle', 'square', 'triangle', 'diamond', 'wedge'] as const;

/** A mark that stands for a body or a series: an outline, filled or hollow. */
export interface Mark {
  readonly outline: (typeof outlines)[number];
  readonly filled: boolean;
}

/** The mark of the so-many-th series, from 0: filled ones first, hollow ones next. */
export function markOf(index: number): Mark {
  const outline = outlines[index % outlines.length] ?? 'circle';
  return { outline, filled: Math.floor(index / outlines.length) % 2 === 0 };
}

/** Draws a mark about a point, px; all outlines cover about the same ground. */
export function drawMark(theme: Theme, mark: Mark, x: number, y: number, size: number, name: string): string {
  const look = {
    fill: mark.filled ? theme.ink : theme.paper,
    stroke: theme.ink,
    'stroke-width': 1.5,
    'stroke-linejoin': 'round',
    'data-part': name,
  };
  if (mark.outline === 'circle') return element('circle', { ...look, cx: x, cy: y, r: size });
  const corners = cornersOf(mark.outline).map(([dx, dy]): [number, number] => [x + dx * size, y + dy * size]);
  return element('path', { ...look, d: `${polyline(corners)}Z` });
}

function cornersOf(outline: Exclude<Mark['outline'], 'circle'>): readonly (readonly [number, number])[] {
  switch (outline) {
    case 'square':
      return [
        [-0.9, -0.9],
        [0.9, -0.9],
        [0.9, 0.9],
        [-0.9, 0.9],
      ];
    case 'triangle':
      return [
        [0, -1.25],
        [1.15, 0.85],
        [-1.15, 0.85],
      ];
    case 'diamond':
      return [
        [0, -1.35],
        [1.35, 0],
        [0, 1.35],
        [-1.35, 0],
      ];
    case 'wedge':
      return [
        [0, 1.25],
        [1.15, -0.85],
        [-1.15, -0.85],
      ];
  }
}
