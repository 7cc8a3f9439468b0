import { intervalBar, logAxisAside, logAxisBelow } from './compared-axes.ts';
import { drawMark, markOf } from './compared-marks.ts';
import { type LogAxis, logSpan, onLog, positive } from './compared-scale.ts';
import { frame, type ThemeOptions, themeOf } from './frame.ts';
import { coordinate, element, label, polyline } from './markup.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { decimalsFor, fixed, shorten } from './words.ts';

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

const margins = { left: 58, top: 58, right: 16, bottom: 50 } as const;
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
  const namesRoom = Math.min(Math.max(Math.round(0.28 * width), 110), 190);
  const panelWidth = width - margins.left - margins.right - namesRoom;
  const panelHeight = Math.min(Math.max(Math.round(0.8 * panelWidth), 260), 400);
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
    const empty = label('nothing that differs in this alone', {
      x: margins.left + panelWidth / 2,
      y: margins.top + panelHeight / 2,
      'text-anchor': 'middle',
      fill: theme.muted,
    });
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
    names(theme, shown, x, y, margins.right + namesRoom),
    label(slopeWords(shown), { x: margins.left, y: 40, fill: theme.muted, 'font-size': sizes.small }),
    label(options.quantity, { x: x.to, y: foot + 38, 'text-anchor': 'end', fill: theme.muted }),
    label('Time constant in s', {
      transform: `translate(14,${coordinate(margins.top + panelHeight / 2)}) rotate(-90)`,
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

/** Each series is named at the right, on the level of its last point or as near to it as the others allow. */
function names(theme: Theme, shown: readonly TrendSeries[], x: LogAxis, y: LogAxis, room: number): string {
  const ends = shown.map((one, i) => {
    const last = one.points.at(-1);
    return { one, i, x: onLog(x, last?.x ?? x.low), y: onLog(y, last?.measured ?? y.low) };
  });
  ends.sort((a, b) => a.y - b.y);
  const levels = spreadApart(
    ends.map((end) => end.y),
    16,
    y.to,
    y.from - 6,
  );
  return ends
    .map((end, k) => {
      const level = levels[k] ?? end.y;
      const tie = element('path', {
        d: polyline([
          [end.x + 8, end.y],
          [x.to + 6, level],
        ]),
        stroke: theme.tie,
        'stroke-width': 0.75,
      });
      const text = shorten(end.one.name, room - 12, sizes.text);
      return tie + label(text, { x: x.to + 10, y: level + 4, 'data-part': 'name' });
    })
    .join('');
}

/**
 * Levels moved apart so that neighbours keep a distance, as little as it goes; where all do not fit between the ends
 * they are spread evenly.
 *
 * @param levels in rising order
 */
function spreadApart(levels: readonly number[], gap: number, top: number, bottom: number): readonly number[] {
  const step = Math.min(gap, (bottom - top) / Math.max(levels.length - 1, 1));
  const down: number[] = [];
  for (const level of levels) down.push(Math.max(level, (down.at(-1) ?? Number.NEGATIVE_INFINITY) + step));
  let limit = bottom;
  return down
    .toReversed()
    .map((level) => {
      const kept = Math.min(level, limit);
      limit = kept - step;
      return kept;
    })
    .reverse();
}

/** What the dashed lines are. */
function slopeWords(shown: readonly TrendSeries[]): string {
  const slopes = shown.flatMap(({ expected }) => (expected === null ? [] : [expected]));
  if (slopes.length === 0) return '';
  const low = fixed(Math.min(...slopes), 2);
  const high = fixed(Math.max(...slopes), 2);
  return `dashed: the slope of theory, ${low === high ? low : `${low} to ${high}`}`;
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
