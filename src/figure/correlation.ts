import * as Plot from '@observablehq/plot';
import { type FigureOptions, frameSheet, sheetOf, themeOf } from './frame.ts';
import { label } from './markup.ts';
import { type Panel, tickCount } from './panel.ts';
import { axes, axisNames, drawPanel, emptyPanel } from './panel-drawing.ts';
import type { FigureTable } from './table.ts';
import { sizes } from './theme.ts';
import { drawable } from './thin.ts';
import { wrap } from './words.ts';

/** How far residuals that stand some blocks apart go together. */
export interface ResidualCorrelation {
  /** Blocks between the two, at least 1. */
  readonly lag: number;
  /** Correlation, −1 to 1. */
  readonly value: number;
  /** What the magnitude stays below by chance in 95 % of cases. */
  readonly limit: number;
}

const usualWidth = 720;
const height = 240;
const mostLags = 200;

/**
 * Correlation of the residuals with those some blocks later, as upright lines from zero, and the limits that
 * chance keeps to: a model that leaves nothing over has about one line in twenty outside.
 *
 * @returns SVG text, 720 × 240 px unless the options ask for another width
 */
export function correlationFigure(lags: readonly ResidualCorrelation[], options: FigureOptions): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const box = { left: 62, top: 76, width: sheet.width - 86, height: 112 };
  const title = 'Correlation of the residuals';
  const shown = cleanLags(lags);
  const said = sentence(shown);
  const heading =
    label(title, { x: 20, y: 30, 'font-size': sizes.title, 'font-weight': 600 }) +
    wrap(said, sheet.width - 40, sizes.text, 2)
      .map((line, i) => label(line, { x: 20, y: 48 + 15 * i, fill: theme.muted }))
      .join('');
  const last = shown.at(-1);
  if (last === undefined) {
    const empty = emptyPanel(theme, { ...box, x: [0, 1], y: [0, 1] }, 'too few residuals for a correlation');
    return frameSheet(theme, sheet, height, title, said, heading, empty);
  }
  const reach = Math.min(1, 1.15 * Math.max(...shown.flatMap((l) => [Math.abs(l.value), l.limit])));
  const panel: Panel = { ...box, x: [0, last.lag + 0.5], y: [-reach, reach] };
  const drawn = drawPanel(options.document, panel, [
    ...axes(theme, panel, Math.min(tickCount(panel), last.lag), 5),
    Plot.areaY(shown, {
      x: 'lag',
      y1: (l: ResidualCorrelation) => -Math.min(l.limit, reach),
      y2: (l: ResidualCorrelation) => Math.min(l.limit, reach),
      fill: theme.wash,
      stroke: theme.tie,
      strokeWidth: 0.75,
      strokeDasharray: '5 3',
      ariaDescription: 'limits of chance',
    }),
    Plot.link([0], { x1: panel.x[0], x2: panel.x[1], y1: 0, y2: 0, stroke: theme.tie }),
    Plot.link(shown, {
      x1: 'lag',
      x2: 'lag',
      y1: 0,
      y2: 'value',
      stroke: theme.air,
      strokeWidth: 1.6,
      ariaDescription: 'correlations',
    }),
    Plot.dot(shown, {
      x: 'lag',
      y: 'value',
      r: 2.6,
      stroke: theme.air,
      strokeWidth: 1.2,
      fill: (l: ResidualCorrelation) => (isOutside(l) ? theme.air : theme.paper),
      ariaDescription: 'correlations, filled outside the limits',
    }),
  ]);
  return frameSheet(
    theme,
    sheet,
    height,
    title,
    said,
    heading,
    drawn,
    axisNames(theme, panel, 'Blocks apart', 'Correlation'),
  );
}

/** The numbers behind the figure of correlations. */
export function correlationTable(lags: readonly ResidualCorrelation[]): FigureTable {
  return {
    caption: 'Correlation of the residuals',
    columns: [
      { name: 'Blocks apart', unit: null },
      { name: 'Correlation', unit: null },
      { name: 'Limit of chance, 95 %', unit: null },
    ],
    rows: cleanLags(lags).map((l) => [l.lag, l.value, l.limit]),
  };
}

function cleanLags(lags: readonly ResidualCorrelation[]): ResidualCorrelation[] {
  return lags
    .filter((l) => l.lag > 0 && l.lag < 1e6 && drawable(l.value) && Math.abs(l.value) <= 1 && l.limit > 0)
    .map((l) => ({ ...l, limit: Math.min(l.limit, 1) }))
    .toSorted((a, b) => a.lag - b.lag)
    .slice(0, mostLags);
}

function isOutside(l: ResidualCorrelation): boolean {
  return Math.abs(l.value) > l.limit;
}

function sentence(lags: readonly ResidualCorrelation[]): string {
  if (lags.length === 0) return 'There is no correlation to show.';
  const outside = lags.filter(isOutside).length;
  const expected = lags.length / 20;
  return `${outside} of ${lags.length} lie outside what chance keeps to in 95 % of cases; about ${
    expected < 1 ? '1 or none' : Math.round(expected)
  } would by chance.`;
}
