import * as Plot from '@observablehq/plot';
import {
  belowNames,
  besideNames,
  type CollapseLine,
  dashOf,
  layoutOf,
  namesOf,
  panelsHeight,
} from './collapse-names.ts';
import { type FigureOptions, frame, frameSheet, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import { across, down, type Panel, tickCount } from './panel.ts';
import { axes, axisNames, drawPanel, emptyPanel } from './panel-drawing.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable, extent, thinCurve } from './thin.ts';
import { shorten, widthOf } from './words.ts';

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

/** How far the figure reaches: three time constants, and an error fraction of 5 %. */
const reach = { x: 3, y: -3 } as const;

/** More recordings than this are one dark line; the strays are always drawn. */
const mostSeries = 400;
const mostStrays = 12;

const usualWidth = 960;
/** Departures from the line that the lower panel shows at least and at most. */
const departures = { least: 0.1, most: 1 } as const;

/** Dots are the ideal line's alone. */
const idealDash = '0.1 3.5';

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
  const height = layout.beside
    ? panelsHeight
    : panelsHeight + 34 + names.reduce((sum, name) => sum + name.height, 0);
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
  const straight = (l: CollapseLine): CollapseLine => ({
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
function linesOf(series: readonly CollapseSeries[], most: number): CollapseLine[] {
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

function drawLines(
  theme: Theme,
  plain: readonly CollapseLine[],
  strays: readonly CollapseLine[],
): Plot.Markish[] {
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

function straysInWords(count: number): string {
  if (count === 0) return 'none set apart';
  return count === 1 ? 'one to look at again' : `${count} to look at again`;
}

function describe(lines: readonly CollapseLine[]): string {
  const strays = lines.filter((l) => l.stray !== null).slice(0, mostStrays);
  const said = strays.map((l) => `${l.name}: ${l.stray}.`).join(' ');
  return `Natural logarithm of the error fraction against time divided by the time constant, with the line of slope −1; below, the departure from that line. ${lines.length - strays.length} recordings lie close to the line. ${said}`;
}
