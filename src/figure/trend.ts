import { intervalBar, logAxisAside, logAxisBelow } from './compared-axes.ts';
import { drawMark, markOf } from './compared-marks.ts';
import { type Box, placeNames } from './compared-names.ts';
import { type LogAxis, logSpan, onLog, positive } from './compared-scale.ts';
import { frame, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import { emptyPanel } from './panel.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { decimalsFor, fixed, shorten, widthOf } from './words.ts';

/** Time constants of bodies alike but for one quantity. */
export interface TrendSeries {
  /** As `aluminium at 60`. */
  readonly name: string;
  /** Exponent that theory expects: the slope on logarithmic axes; null where none is known. */
  readonly expected: number | null;
  readonly points: readonly {
    /** Diameter in mm, or speed in m/s; > 0. */
    readonly x: number;
    /** s, > 0. */
    readonly measured: number;
    readonly interval: readonly [number, number];
  }[];
}

/** How a trend is drawn. */
export interface TrendOptions extends ThemeOptions {
  /** Room that there is, px; 340 to 960 are used. */
  readonly width: number;
  /** What the horizontal axis shows, with its unit: `Diameter in mm`. */
  readonly quantity: string;
}

const margins = { left: 58, top: 46, right: 16, bottom: 50 } as const;
const mostSeries = 24;

/**
 * Time constants against diameter or speed on logarithmic axes, a mark a series. Through the middle of each series
 * goes a line with the slope that theory expects: points that follow it confirm the exponent, whatever the level.
 *
 * @returns SVG text, as wide as asked for, three quarters as high up to 460 px
 */
export function trendFigure(series: readonly TrendSeries[], options: TrendOptions): string {
  const theme = themeOf(options);
  const width = Math.min(Math.max(Math.round(options.width), 340), 960);
  const panelWidth = width - margins.left - margins.right;
  const panelHeight = Math.min(Math.max(Math.round(0.72 * panelWidth), 260), 400);
  const height = margins.top + panelHeight + margins.bottom;
  const [quantity = ''] = options.quantity.split(' in ');
  const title = `Time constant against ${quantity.toLowerCase()}`;
  const heading = label(title, { x: 4, y: 22, 'font-size': sizes.title, 'font-weight': 600 });
  const shown = drawableSeries(series);
  const points = shown.flatMap((one) => one.points);
  const spanX = logSpan(
    points.map(({ x }) => x),
    1.6,
  );
  const spanY = logSpan(
    points.flatMap(({ measured, interval }) => [measured, ...interval]),
    2,
  );
  if (spanX === null || spanY === null) {
    const panel = {
      left: margins.left,
      top: margins.top,
      width: panelWidth,
      height: panelHeight,
      x: [0, 1],
      y: [0, 1],
    } as const;
    const empty = emptyPanel(theme, panel, 'nothing that differs in this alone');
    return frame(theme, width, height, title, 'There is nothing to draw.', heading, empty);
  }
  const foot = margins.top + panelHeight;
  const x: LogAxis = { low: spanX[0], high: spanX[1], from: margins.left, to: margins.left + panelWidth };
  const y: LogAxis = { low: spanY[0], high: spanY[1], from: foot, to: margins.top };
  return frame(
    theme,
    width,
    height,
    title,
    describe(shown),
    heading,
    logAxisBelow(theme, x, foot),
    logAxisAside(theme, y, margins.left),
    ...shown.map((one) => slope(theme, one, x, y)),
    ...shown.map((one, i) => marks(theme, one, i, x, y)),
    names(theme, shown, x, y),
    label(options.quantity, { x: x.to, y: foot + 38, 'text-anchor': 'end', fill: theme.muted }),
    label('Time constant in s', {
      transform: `translate(14,${margins.top + panelHeight / 2}) rotate(-90)`,
      'text-anchor': 'middle',
      fill: theme.muted,
    }),
  );
}

/** The numbers behind the figure of a trend, as given. */
export function trendTable(series: readonly TrendSeries[], quantity: string): FigureTable {
  const [name = '', unit = null] = quantity.split(' in ');
  return {
    caption: `Time constant against ${name.toLowerCase()}`,
    columns: [
      { name: 'Series', unit: null },
      { name, unit },
      { name: 'Time constant', unit: 's' },
      { name: 'Interval from', unit: 's' },
      { name: 'Interval to', unit: 's' },
      { name: 'Exponent by theory', unit: null },
    ],
    rows: series.flatMap((one) =>
      one.points.map((p) => [one.name, p.x, p.measured, ...p.interval, one.expected]),
    ),
  };
}

/** Series with at least two places on the horizontal axis, of points that can be drawn. */
function drawableSeries(series: readonly TrendSeries[]): TrendSeries[] {
  return series
    .map((one) => ({
      ...one,
      points: one.points
        .filter(({ x, measured, interval }) => [x, measured, ...interval].every(positive))
        .toSorted((a, b) => a.x - b.x),
    }))
    .filter(({ points }) => new Set(points.map(({ x }) => x)).size >= 2)
    .slice(0, mostSeries);
}

/** The slope by theory, through the mean of the logarithms, cut off where the panel ends. */
function slope(theme: Theme, { points, expected }: TrendSeries, x: LogAxis, y: LogAxis): string {
  if (expected === null || !Number.isFinite(expected)) return '';
  const mean = (values: readonly number[]) => values.reduce((sum, v) => sum + Math.log(v), 0) / values.length;
  const middleX = mean(points.map((p) => p.x));
  const middleY = mean(points.map((p) => p.measured));
  const reach = 0.35 * (Math.log(points.at(-1)?.x ?? 1) - Math.log(points[0]?.x ?? 1));
  let from = Math.max(Math.log(points[0]?.x ?? 1) - reach, Math.log(x.low));
  let to = Math.min(Math.log(points.at(-1)?.x ?? 1) + reach, Math.log(x.high));
  const tau = (at: number) => middleY + expected * (at - middleX);
  if (expected !== 0) {
    const ends = [y.low, y.high].map((end) => middleX + (Math.log(end) - middleY) / expected);
    from = Math.max(from, Math.min(...ends));
    to = Math.min(to, Math.max(...ends));
  }
  if (!(to > from)) return '';
  return element('path', {
    d: polyline(
      [from, to].map((at): [number, number] => [onLog(x, Math.exp(at)), onLog(y, Math.exp(tau(at)))]),
    ),
    stroke: theme.ink,
    'stroke-width': 1,
    'stroke-dasharray': '6 4',
    'data-part': 'expected slope',
  });
}

function marks(theme: Theme, { points }: TrendSeries, index: number, x: LogAxis, y: LogAxis): string {
  return points
    .map(({ x: at, measured, interval: [from, to] }) => {
      const px = onLog(x, at);
      return (
        intervalBar(theme.ink, 1.6, 'y', px, onLog(y, from), onLog(y, to), 4, false, 'measured interval') +
        drawMark(theme, markOf(index), px, onLog(y, measured), 4.6, 'condition')
      );
    })
    .join('');
}

/** Each series is named once, beside the one of its points that leaves most room. */
function names(theme: Theme, shown: readonly TrendSeries[], x: LogAxis, y: LogAxis): string {
  const all = shown.flatMap((one) => one.points.map((p) => ({ x: onLog(x, p.x), y: onLog(y, p.measured) })));
  const wanted = shown.map((one) => {
    const slopeWords = one.expected === null ? '' : `, slope ${fixed(one.expected, 2)} by theory`;
    const full = `${one.name}${slopeWords}`;
    const text = shorten(
      widthOf(full, sizes.text) > 0.6 * (x.to - x.from) ? one.name : full,
      0.6 * (x.to - x.from),
      sizes.text,
    );
    const places = one.points.map((p) => ({ x: onLog(x, p.x), y: onLog(y, p.measured) }));
    const at = places.toSorted((a, b) => roomAt(b, all) - roomAt(a, all))[0] ?? { x: x.from, y: y.from };
    return { ...at, text, width: widthOf(text, sizes.text) + 2, height: 15 };
  });
  const obstacles: Box[] = [
    ...all.map((p) => ({ left: p.x - 7, right: p.x + 7, top: p.y - 7, bottom: p.y + 7 })),
    ...shown.flatMap((one) => pathBoxes(one, x, y)),
  ];
  const bounds: Box = { left: x.from + 4, right: x.to, top: y.to - 8, bottom: y.from - 4 };
  const placed = placeNames(wanted, obstacles, bounds);
  return wanted
    .map((one, i) => {
      const place = placed[i];
      if (!place) return '';
      const { box, tied } = place;
      const tie = tied
        ? element('path', {
            d: polyline([
              [one.x, one.y],
              [
                Math.min(Math.max(one.x, box.left), box.right),
                Math.min(Math.max(one.y, box.top + 3), box.bottom - 3),
              ],
            ]),
            stroke: theme.tie,
            'stroke-width': 0.75,
          })
        : '';
      return tie + label(one.text, { x: box.left + 1, y: box.top + 11.5, 'data-part': 'name' });
    })
    .join('');
}

/** The way from point to point as small boxes that names keep off. */
function pathBoxes({ points }: TrendSeries, x: LogAxis, y: LogAxis): Box[] {
  const pieces = 24;
  return points.slice(1).flatMap((to, i) => {
    const from = points[i] ?? to;
    return Array.from({ length: pieces }, (_, k): Box => {
      const share = (k + 0.5) / pieces;
      const px = onLog(x, from.x) + share * (onLog(x, to.x) - onLog(x, from.x));
      const py = onLog(y, from.measured) + share * (onLog(y, to.measured) - onLog(y, from.measured));
      return { left: px - 4, right: px + 4, top: py - 3, bottom: py + 3 };
    });
  });
}

function roomAt(at: { x: number; y: number }, all: readonly { x: number; y: number }[]): number {
  return all.reduce((least, other) => {
    const away = Math.hypot(other.x - at.x, other.y - at.y);
    return away === 0 ? least : Math.min(least, away);
  }, Number.POSITIVE_INFINITY);
}

function describe(shown: readonly TrendSeries[]): string {
  return shown
    .map((one) => {
      const points = one.points
        .map(
          (p) => `${fixed(p.x, 1)}: ${fixed(p.measured, decimalsFor((p.interval[1] - p.interval[0]) / 2))} s`,
        )
        .join(', ');
      return `${one.name}: ${points}${one.expected === null ? '' : `; slope by theory ${fixed(one.expected, 2)}`}.`;
    })
    .join(' ');
}
