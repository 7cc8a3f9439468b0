import * as Plot from '@observablehq/plot';
import { type FigureOptions, frame, frameSheet, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import {
  across,
  axes,
  axisNames,
  down,
  drawPanel,
  emptyPanel,
  type Panel,
  type PanelBox,
  tickCount,
} from './panel.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable, extent, thinCurve } from './thin.ts';
import { shorten, widthOf, wrap } from './words.ts';

/** One recording on the scale of its own time constant. */
export interface CollapseSeries {
  readonly name: string;
  /** Its time constant, s, > 0. */
  readonly timeConstant: number;
  /** Time from the moment at which its fitted error fraction is 1, s. */
  readonly time: ArrayLike<number>;
  /** Error fraction, best as block means. */
  readonly errorFraction: ArrayLike<number>;
  /** Why the recording is set apart, in words: 'bent late: ambient'; null if it is not. */
  readonly stray: string | null;
}

/** A series as it is drawn: points (t / time constant, ln of error fraction). */
interface Line {
  readonly name: string;
  readonly stray: string | null;
  readonly points: readonly (readonly [number, number])[];
}

/** How far the figure reaches: three time constants, and an error fraction of 5 %. */
const reach = { x: 3, y: -3 } as const;

/** More recordings than this are one dark line; the strays are always drawn. */
const mostSeries = 400;
const mostStrays = 12;

const usualWidth = 960;
const panelsHeight = 612;
/** Narrower figures name their strays below the panels, not beside them, px. */
const besideFrom = 760;

/** Where the parts of the figure stand, px. */
interface Layout {
  readonly upper: PanelBox;
  readonly lower: PanelBox;
  readonly beside: boolean;
  readonly labelLeft: number;
  readonly labelWidth: number;
}

function layoutOf(width: number): Layout {
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

/** Departures from the line that the lower panel shows at least and at most. */
const departures = { least: 0.1, most: 1 } as const;

/** Dots are the ideal line's alone. */
const idealDash = '0.1 3.5';

/** One dash a stray, in turn. */
const dashes = ['8 3', '18 3 4 3', '10 3 2 3', '4 4', '14 4', '6 2 2 2 2 2'] as const;

/**
 * The collapse: ln of the error fraction against time divided by each recording's own time constant, where
 * every first-order recording falls on one line of slope −1; below it, the departure from that line on a
 * scale of its own. Recordings set apart have a dash of their own and are named in the margin, or below where the
 * figure is narrow.
 *
 * @returns SVG text, 960 × 612 px unless the options ask for another width; higher where strays are named below
 */
export function collapseFigure(series: readonly CollapseSeries[], options: FigureOptions): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const { width } = sheet;
  const layout = layoutOf(width);
  const lines = linesOf(series, 120);
  const strays = lines.filter((l) => l.stray !== null).slice(0, mostStrays);
  const plain = lines.filter((l) => l.stray === null).slice(0, mostSeries);
  const count = `${lines.length} recording${lines.length === 1 ? '' : 's'}`;
  const title = `${count} on the scale of their own time constants`;
  const panel: Panel = { ...layout.upper, x: [0, reach.x], y: [reach.y, 0.15] };
  const names = namesOf(strays, panel, layout);
  const height = layout.beside ? panelsHeight : panelsHeight + 34 + sum(names.map((name) => name.height));
  const strong = { 'font-size': sizes.title, 'font-weight': 600 };
  const wide = `${count}, each on the scale of its own time constant`;
  const room = layout.beside ? layout.labelLeft - 40 : width - 40;
  const fits = widthOf(wide, sizes.title, true) <= room;
  const heading =
    label(shorten(fits ? wide : `${count}, time by own time constant`, room, sizes.title, true), {
      x: 20,
      y: 32,
      ...strong,
    }) +
    label(straysInWords(strays.length), {
      x: layout.labelLeft,
      y: layout.beside ? 32 : panelsHeight + 18,
      ...strong,
    });
  if (lines.length === 0) {
    const empty = emptyPanel(theme, panel, 'no recordings with a time constant');
    return frameSheet(theme, sheet, height, title, 'There is nothing to draw.', heading, empty);
  }
  const straight = (l: Line): Line => ({
    ...l,
    points: l.points
      .map(([x, y]): [number, number] => [x, y + x])
      .filter(([, d]) => Math.abs(d) <= departures.most),
  });
  const level = { plain: plain.map(straight), strays: strays.map(straight) };
  const largest = extent(
    [...level.plain, ...level.strays].flatMap((l) => l.points.map(([, d]) => Math.abs(d))),
  );
  const half = 1.08 * Math.max(largest?.[1] ?? 0, departures.least);
  const away: Panel = { ...layout.lower, x: [0, reach.x], y: [-half, half] };
  const end = -reach.y;
  const top = drawPanel(options.document, panel, [
    ...axes(theme, panel, tickCount(panel), 6),
    ...drawLines(theme, plain, strays),
    idealLine(theme, 0, 0, end, -end),
  ]);
  const bottom = drawPanel(options.document, away, [
    ...axes(theme, away, tickCount(away), 4),
    ...drawLines(theme, level.plain, level.strays),
    idealLine(theme, 0, 0, reach.x, 0),
  ]);
  const x = 'Time divided by the time constant';
  return frameSheet(
    theme,
    sheet,
    height,
    title,
    describe(lines),
    heading,
    top,
    idealName(panel),
    axisNames(theme, panel, x, 'ln of error fraction'),
    bottom,
    axisNames(theme, away, x, 'Departure'),
    layout.beside ? besideNames(theme, names, layout, height) : belowNames(theme, names, layout),
  );
}

/** The numbers behind the collapse, one row a point. */
export function collapseTable(series: readonly CollapseSeries[]): FigureTable {
  return {
    caption: 'ln of the error fraction against time divided by the time constant',
    columns: [
      { name: 'Recording', unit: null },
      { name: 'Set apart', unit: null },
      { name: 'Time divided by the time constant', unit: null },
      { name: 'ln of error fraction', unit: null },
    ],
    rows: linesOf(series, 60).flatMap((l) => l.points.map(([x, y]) => [l.name, l.stray, x, y])),
  };
}

/**
 * The small form of the collapse for one cell of a grid: the line of slope −1 and the recording's own trace.
 *
 * @returns SVG text, 120 × 28 px; with the line alone where the recording has nothing to draw
 */
export function strip(series: CollapseSeries, options: ThemeOptions = {}): string {
  const theme = themeOf(options);
  const line = linesOf([series], 60)[0];
  const x = (v: number) => 3 + (v / 2.6) * 114;
  const y = (v: number) => 3 + (-v / 2.6) * 22;
  const inside = (line?.points ?? []).filter(([px, py]) => px <= 2.6 && py >= -2.6 && py <= 0.1);
  return frame(
    theme,
    120,
    28,
    `Straightness of ${series.name}`,
    series.stray ?? (inside.length > 1 ? 'Close to the line of slope −1.' : 'Nothing to draw.'),
    element('path', {
      d: polyline([
        [x(0), y(0)],
        [x(2.6), y(-2.6)],
      ]),
      stroke: theme.tie,
      'stroke-width': 1,
      'data-part': 'ideal',
    }),
    inside.length > 1
      ? element('path', {
          d: polyline(inside.map(([px, py]): [number, number] => [x(px), y(py)])),
          fill: 'none',
          stroke: series.stray === null ? theme.air : theme.ink,
          'stroke-width': series.stray === null ? 1.6 : 2,
          'stroke-dasharray': series.stray === null ? undefined : '5 2.5',
          'data-part': 'trace',
        })
      : '',
  );
}

/** Series on their own scale, without what cannot be drawn or lies outside the figure. */
function linesOf(series: readonly CollapseSeries[], most: number): Line[] {
  return series.flatMap((s) => {
    if (!(s.timeConstant > 0) || !drawable(s.timeConstant)) return [];
    const time: number[] = [];
    const fraction: number[] = [];
    for (let i = 0; i < s.time.length; i++) {
      const x = (s.time[i] ?? Number.NaN) / s.timeConstant;
      const g = s.errorFraction[i] ?? Number.NaN;
      if (!(x >= 0 && x <= reach.x && Number.isFinite(g))) continue;
      time.push(x);
      fraction.push(g);
    }
    // Averages are taken before the logarithm, which would stretch the noise of small fractions.
    const thin = thinCurve({ time, value: fraction }, most);
    const points = thin.time
      .map((x, i): [number, number] => [x, Math.log(thin.value[i] ?? 0)])
      .filter(([, y]) => y >= reach.y && y <= 0.15);
    return points.length > 1 ? [{ name: s.name, stray: s.stray, points }] : [];
  });
}

function drawLines(theme: Theme, plain: readonly Line[], strays: readonly Line[]): Plot.Markish[] {
  return [
    ...plain.map((l) =>
      Plot.line([...l.points], {
        stroke: theme.air,
        strokeWidth: 1,
        strokeOpacity: plain.length > 8 ? 0.45 : 0.8,
        ariaDescription: 'recording',
      }),
    ),
    ...strays.map((l, i) =>
      Plot.line([...l.points], {
        stroke: theme.ink,
        strokeWidth: 1.8,
        strokeLinecap: 'butt',
        strokeDasharray: dashOf(i),
        ariaDescription: 'stray',
      }),
    ),
  ];
}

function dashOf(index: number): string {
  return dashes[index % dashes.length] ?? '8 3';
}

function idealLine(theme: Theme, x1: number, y1: number, x2: number, y2: number): Plot.Markish {
  return Plot.link([0], {
    x1,
    y1,
    x2,
    y2,
    stroke: theme.ink,
    strokeWidth: 1.8,
    strokeDasharray: idealDash,
    strokeLinecap: 'round',
    ariaDescription: 'ideal',
  });
}

function idealName(panel: Panel): string {
  const words = { 'text-anchor': 'end', x: across(panel, 1.2) - 8, y: down(panel, -1.2) + 16 };
  return label('one exponential: slope \u22121', words);
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

function namesOf(strays: readonly Line[], panel: Panel, { beside, labelWidth }: Layout): StrayName[] {
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
function besideNames(
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
function belowNames(theme: Theme, names: readonly StrayName[], { labelLeft }: Layout): string {
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

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function straysInWords(count: number): string {
  if (count === 0) return 'none set apart';
  return count === 1 ? 'one to look at again' : `${count} to look at again`;
}

function describe(lines: readonly Line[]): string {
  const strays = lines.filter((l) => l.stray !== null).slice(0, mostStrays);
  const said = strays.map((l) => `${l.name}: ${l.stray}.`).join(' ');
  return `Natural logarithm of the error fraction against time divided by the time constant, with the line of slope −1; below, the departure from that line. ${lines.length - strays.length} recordings lie close to the line. ${said}`;
}
