import { frameSheet, type SizeOptions, sheetOf, type ThemeOptions, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable } from './thin.ts';
import { fixed, roundTicks, shorten } from './words.ts';

/** What one cause moves time constants by: standard deviations of their logarithm. */
export interface CauseOfSpread {
  /** As `bench`, or `section or day` where the two cannot be told apart. */
  readonly name: string;
  readonly deviation: number;
  /** 95 %; null for what has none, and for an end that so few levels do not tell. */
  readonly interval: readonly [number, number | null] | null;
  /** Share of the whole variance, 0 to 1. */
  readonly share: number;
  /** How many benches, bodies and so on there were; null where it means nothing. */
  readonly levels: number | null;
  /** Whether it stands out beyond chance. */
  readonly shows: boolean;
}

const usualWidth = 760;
const top = 62;
const rowHeight = 44;

/**
 * A row a cause: by how much it moves time constants, with its 95 % interval, and its share of the variance. Causes that
 * stand out beyond chance are filled and strong.
 *
 * @returns SVG text, 760 px wide unless the options ask for another width
 */
export function causesFigure(
  causes: readonly CauseOfSpread[],
  options: ThemeOptions & SizeOptions = {},
): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const { width } = sheet;
  const shown = causes.filter(({ deviation }) => deviation >= 0 && drawable(deviation)).slice(0, 30);
  const title = 'Where the spread comes from';
  const narrow = width < 560;
  const plot = narrow ? { left: 20, right: width - 20 } : { left: 200, right: width - 96 };
  const height = rowHeight + (narrow ? 18 : 0);
  const heading =
    label(title, { x: 20, y: 26, 'font-size': sizes.title, 'font-weight': 600 }) +
    label('standard deviation of the time constant, with 95 % interval', { x: 20, y: 44, fill: theme.muted });
  if (shown.length === 0) {
    const none = label('too few recordings to tell', { x: 20, y: top + 20, fill: theme.muted });
    return frameSheet(theme, sheet, top + 50, title, 'There is nothing to draw.', heading, none);
  }
  const end = endOf(shown);
  const x = (value: number) => plot.left + (Math.min(value, end) / end) * (plot.right - plot.left);
  const foot = top + shown.length * height;
  const ticks = roundTicks(0, 100 * end, narrow ? 4 : 6);
  return frameSheet(
    theme,
    sheet,
    foot + 44,
    title,
    describe(shown),
    heading,
    ...ticks.values.map((percent) =>
      [
        element('path', {
          d: polyline([
            [x(percent / 100), top],
            [x(percent / 100), foot],
          ]),
          stroke: theme.faint,
        }),
        label(`${fixed(percent, ticks.decimals)} %`, {
          x: x(percent / 100),
          y: foot + 18,
          'text-anchor': 'middle',
          'font-size': sizes.small,
          fill: theme.muted,
        }),
      ].join(''),
    ),
    ...shown.map((one, i) => row(theme, one, top + i * height, { x, end, narrow, width, height })),
  );
}

/** The numbers behind it. */
export function causesTable(causes: readonly CauseOfSpread[]): FigureTable {
  return {
    caption: 'Where the spread of time constants comes from',
    columns: [
      { name: 'Cause', unit: null },
      { name: 'Levels', unit: null },
      { name: 'Standard deviation', unit: '%' },
      { name: 'Interval from', unit: '%' },
      { name: 'Interval to', unit: '%' },
      { name: 'Share of the variance', unit: '%' },
    ],
    rows: causes.map(({ name, levels, deviation, interval, share }) => [
      name,
      levels,
      100 * deviation,
      interval === null ? null : 100 * interval[0],
      interval === null || interval[1] === null ? null : 100 * interval[1],
      100 * share,
    ]),
  };
}

/** Few levels leave long intervals, which would make all else small: they run off the sheet. */
function endOf(causes: readonly CauseOfSpread[]): number {
  const largest = Math.max(...causes.map(({ deviation }) => deviation), 0.002);
  const ends = causes.flatMap(({ interval }) => interval?.[1] ?? []).filter(drawable);
  return Math.min(1.05 * Math.max(largest, ...ends), 4 * largest);
}

interface Place {
  readonly x: (value: number) => number;
  readonly end: number;
  readonly narrow: boolean;
  readonly width: number;
  readonly height: number;
}

function row(
  theme: Theme,
  one: CauseOfSpread,
  from: number,
  { x, end, narrow, width, height }: Place,
): string {
  const at = narrow ? from + height - 16 : from + height / 2;
  const words = narrow ? from + 20 : at + 4;
  const { name, levels, deviation, interval, share, shows } = one;
  const count = levels === null ? '' : ` (${levels})`;
  const off = interval !== null && (interval[1] === null || interval[1] > end);
  const ends = interval === null ? null : [x(interval[0]), x(interval[1] ?? end)];
  return [
    label(shorten(`${name}${count}`, narrow ? width - 130 : 170, sizes.text, shows), {
      x: 20,
      y: words,
      'font-weight': shows ? 600 : undefined,
    }),
    label(`${fixed(100 * share, 0)} % of it`, {
      x: width - 20,
      y: words,
      'text-anchor': 'end',
      fill: theme.muted,
    }),
    ends === null
      ? ''
      : element('path', {
          d: polyline([
            [ends[0] ?? 0, at],
            [ends[1] ?? 0, at],
          ]),
          stroke: shows ? theme.ink : theme.tie,
          'stroke-width': shows ? 2.2 : 1.4,
          'data-part': 'interval',
        }),
    off
      ? element('path', {
          d: polyline([
            [x(end) - 7, at - 5],
            [x(end), at],
            [x(end) - 7, at + 5],
          ]),
          fill: 'none',
          stroke: shows ? theme.ink : theme.tie,
          'stroke-width': 1.6,
          'data-part': 'goes on',
        })
      : '',
    element('circle', {
      cx: x(deviation),
      cy: at,
      r: 4.6,
      fill: shows ? theme.ink : theme.paper,
      stroke: theme.ink,
      'stroke-width': 1.5,
      'data-part': 'deviation',
    }),
  ].join('');
}

function describe(causes: readonly CauseOfSpread[]): string {
  const said = causes.map(({ name, deviation, interval, share }) => {
    const within =
      interval === null
        ? ''
        : ` (95 %: ${fixed(100 * interval[0], 1)} % to ${interval[1] === null ? 'no upper end' : `${fixed(100 * interval[1], 1)} %`})`;
    return `${name}: ${fixed(100 * deviation, 1)} %${within}, ${fixed(100 * share, 0)} % of the variance.`;
  });
  return `Standard deviations by cause. ${said.join(' ')}`;
}
