import { element, label, polyline } from './markup.ts';
import type { Panel, PanelBox } from './panel.ts';
import { across, down } from './panel.ts';
import { sizes, type Theme } from './theme.ts';
import { shorten, wrap } from './words.ts';

/** A series of the collapse as it is drawn: points (t / time constant, ln of error fraction). */
export interface CollapseLine {
  readonly name: string;
  readonly stray: string | null;
  readonly points: readonly (readonly [number, number])[];
}

/** Height of the collapse without names below it, px. */
export const panelsHeight = 612;
/** Narrower figures name their strays below the panels, not beside them, px. */
const besideFrom = 760;

/** Where the parts of the figure stand, px. */
export interface Layout {
  readonly upper: PanelBox;
  readonly lower: PanelBox;
  readonly beside: boolean;
  readonly labelLeft: number;
  readonly labelWidth: number;
}

/** Names beside the panels where the figure is wide enough, else below. */
export function layoutOf(width: number): Layout {
  const beside = width >= besideFrom;
  const across = beside ? width - 326 : width - 62 - 18;
  return {
    upper: { left: 62, top: 70, width: across, height: 320 },
    lower: { left: 62, top: 446, width: across, height: 110 },
    beside,
    labelLeft: beside ? width - 232 : 20,
    labelWidth: beside ? 212 : width - 40,
  };
}

/** One dash a stray, in turn. */
const dashes = ['8 3', '18 3 4 3', '10 3 2 3', '4 4', '14 4', '6 2 2 2 2 2'] as const;

/** The dash of a stray, by its place among the strays. */
export function dashOf(index: number): string {
  return dashes[index % dashes.length] ?? '8 3';
}

/** Height of a line of a stray's name and reason, px. */
const lineHeight = 14.5;

/** A stray's name and reason, where its line ends, and how high its words are, px. */
interface StrayName {
  readonly index: number;
  readonly name: string;
  readonly why: readonly string[];
  readonly x: number;
  readonly y: number;
  readonly height: number;
}

/** The names of strays, cut to the room that they have. */
export function namesOf(
  strays: readonly CollapseLine[],
  panel: Panel,
  { beside, labelWidth }: Layout,
): StrayName[] {
  return strays.map((stray, index) => {
    const [x, y] = stray.points.at(-1) ?? [0, 0];
    const room = beside ? labelWidth : labelWidth - 70;
    const name = shorten(stray.name, room, sizes.text, true);
    const why = wrap(stray.stray ?? '', room, sizes.text, 2);
    const height = lineHeight * ((beside ? 2 : 1) + why.length) + (beside ? 0 : 6);
    return { index, name, why, x: across(panel, x), y: down(panel, y), height };
  });
}

/** Names in the margin, each at the height where its line ends, tied to it, with a piece of its dash. */
export function besideNames(
  theme: Theme,
  names: readonly StrayName[],
  { labelLeft }: Layout,
  height: number,
): string {
  const items = names.map((name) => ({ ...name, top: 0 })).toSorted((a, b) => a.y - b.y);
  let next = 58;
  for (const item of items) {
    item.top = Math.max(next, item.y - 12);
    next = item.top + item.height;
  }
  // Moved down one after the other, they move back up together by half of what the last one was moved.
  const last = items.at(-1);
  const back = last ? Math.min((last.top - last.y + 12) / 2, (items[0]?.top ?? 58) - 58) : 0;
  for (const item of items) item.top -= Math.max(back, 0);
  let limit = height - 8;
  for (const item of items.toReversed()) {
    item.top = Math.min(item.top, limit - item.height);
    limit = item.top;
  }
  return items
    .map((item) => {
      const tie = element('path', {
        d: polyline([
          [item.x + 3, item.y],
          [labelLeft - 22, item.top + 8],
          [labelLeft - 6, item.top + 8],
        ]),
        fill: 'none',
        stroke: theme.tie,
        'stroke-width': 0.75,
      });
      const dash = specimen(theme, item.index, labelLeft, item.top + 8);
      return tie + dash + words(theme, item, labelLeft, item.top + 25);
    })
    .join('');
}

/** Names below the panels, a piece of its dash before each. */
export function belowNames(theme: Theme, names: readonly StrayName[], { labelLeft }: Layout): string {
  let top = panelsHeight + 26;
  return names
    .map((item) => {
      const at = top;
      top += item.height;
      return specimen(theme, item.index, labelLeft, at + 10) + words(theme, item, labelLeft + 70, at + 14);
    })
    .join('');
}

function specimen(theme: Theme, index: number, x: number, y: number): string {
  return element('path', {
    d: polyline([
      [x, y],
      [x + 56, y],
    ]),
    stroke: theme.ink,
    'stroke-width': 1.8,
    'stroke-dasharray': dashOf(index),
  });
}

function words(theme: Theme, { name, why }: StrayName, x: number, y: number): string {
  const reasons = why.map((text, i) => label(text, { x, y: y + lineHeight * (i + 1), fill: theme.muted }));
  return label(name, { x, y, 'font-weight': 600 }) + reasons.join('');
}
