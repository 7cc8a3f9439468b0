import * as Plot from '@observablehq/plot';
import { type FigureOptions, frameSheet, sheetOf, themeOf } from './frame.ts';
import { label } from './markup.ts';
import { across, type Panel, tickCount } from './panel.ts';
import { axes, axisNames, drawPanel, emptyPanel } from './panel-drawing.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable, extent, sparse, thinCurve } from './thin.ts';
import { cleanTrace, fittedTemperature, type TraceFigureData } from './trace-data.ts';
import { fixed, shorten } from './words.ts';

const usualWidth = 720;
const height = 280;

/** A block of the cooling as the fit saw it. */
export interface ResidualPoint {
  readonly time: number;
  /** Measured less fitted, K. */
  readonly residual: number;
  /** Standard uncertainty of the fitted curve, K. */
  readonly band: number;
}

/** How the figure of residuals is drawn. */
export interface ResidualFigureOptions extends FigureOptions {
  /** The blocks that were fitted, with the band of the fit; those of the figure's own curve where left out. */
  readonly points?: readonly ResidualPoint[];
}

interface Residual {
  readonly time: number;
  /** Measured less fitted, K. */
  readonly value: number;
}

/**
 * What the fitted curve leaves over, against time: single points, and their average over a twentieth of the
 * cooling, in which a bend shows long before it shows in the points.
 *
 * @returns SVG text, 720 × 280 px unless the options ask for another width
 */
export function residualFigure(data: TraceFigureData, options: ResidualFigureOptions): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const { width } = sheet;
  const box = { left: 62, top: 56, width: width - 86, height: 170 };
  const points = cleanPoints(options.points ?? []);
  const residuals =
    points.length > 1 ? points.map(({ time, residual }) => ({ time, value: residual })) : residualsOf(data);
  const x = extent(residuals.map((r) => r.time));
  const y = extent(
    residuals.map((r) => Math.abs(r.value)),
    0.08,
  );
  const title = `Residuals of ${data.name}`;
  const heading = label(shorten(`${data.name}: measured less fitted`, width - 40, sizes.title, true), {
    x: 20,
    y: 30,
    'font-size': sizes.title,
    'font-weight': 600,
  });
  if (!x || !y || residuals.length < 2) {
    const empty = emptyPanel(theme, { ...box, x: [0, 1], y: [0, 1] }, 'no fit that leaves residuals');
    return frameSheet(theme, sheet, height, title, 'There is no fit.', heading, empty);
  }
  const panel: Panel = { ...box, x, y: [-y[1], y[1]] };
  const smooth = thinCurve({ time: residuals.map((r) => r.time), value: residuals.map((r) => r.value) }, 20);
  const drawn = drawPanel(options.document, panel, [
    ...axes(theme, panel, tickCount(panel), 5),
    ...bandOf(theme, points, panel),
    Plot.link([0], { x1: x[0], x2: x[1], y1: 0, y2: 0, stroke: theme.tie, ariaDescription: 'no residual' }),
    Plot.dot(sparse(residuals, 500), {
      x: 'time',
      y: 'value',
      r: 1.5,
      stroke: theme.air,
      strokeWidth: 0.9,
      fill: 'none',
      ariaDescription: 'residuals',
    }),
    Plot.line(
      smooth.time.map((t, i): [number, number] => [t, smooth.value[i] ?? 0]),
      { stroke: theme.ink, strokeWidth: 2, ariaDescription: 'average of residuals' },
    ),
  ]);
  const window = cleanTrace(data).segments.window;
  const ends = window && window.to < x[1] ? across(panel, window.to) : null;
  const mark =
    ends === null
      ? ''
      : label('window ends', { x: ends, y: box.top - 6, 'text-anchor': 'middle', fill: theme.muted }) +
        drawPanel(options.document, panel, [
          Plot.link([0], {
            x1: window?.to ?? 0,
            x2: window?.to ?? 0,
            y1: panel.y[0],
            y2: panel.y[1],
            stroke: theme.tie,
            strokeDasharray: '6 4',
            ariaDescription: 'end of the window',
          }),
        ]);
  const largest = Math.max(...smooth.value.map(Math.abs));
  return frameSheet(
    theme,
    sheet,
    height,
    title,
    `Measured less fitted temperature against time. Averages over a twentieth of the cooling stay within ${fixed(largest, 3)} K.`,
    heading,
    mark,
    drawn,
    axisNames(theme, panel, 'Time in s', 'Residual in K'),
  );
}

/** Two standard uncertainties of the fitted curve about zero, with its edges dashed. */
function bandOf(theme: Theme, points: readonly ResidualPoint[], panel: Panel): Plot.Markish[] {
  const shown = sparse(points, 200);
  if (shown.length < 2) return [];
  const half = (p: ResidualPoint) => Math.min(2 * p.band, panel.y[1]);
  const edge = { stroke: theme.tie, strokeWidth: 0.9, strokeDasharray: '5 3' };
  return [
    Plot.areaY(shown, {
      x: 'time',
      y1: (p: ResidualPoint) => -half(p),
      y2: half,
      fill: theme.wash,
      ariaDescription: 'band of the fit',
    }),
    Plot.line(shown, { ...edge, x: 'time', y: half }),
    Plot.line(shown, { ...edge, x: 'time', y: (p: ResidualPoint) => -half(p) }),
  ];
}

function cleanPoints(points: readonly ResidualPoint[]): ResidualPoint[] {
  return points.filter((p) => drawable(p.time) && drawable(p.residual) && drawable(p.band) && p.band >= 0);
}

/**
 * The numbers behind the figure of residuals.
 *
 * @param points the blocks that were fitted, as in the figure's options
 */
export function residualTable(data: TraceFigureData, points: readonly ResidualPoint[] = []): FigureTable {
  const fitted = cleanPoints(points);
  const given = fitted.length > 1;
  return {
    caption: `${data.name}: measured less fitted temperature`,
    columns: [
      { name: 'Time', unit: 's' },
      { name: 'Residual', unit: 'K' },
      ...(given ? [{ name: 'Standard uncertainty of the fitted curve', unit: 'K' }] : []),
    ],
    rows: given
      ? fitted.map((p) => [p.time, p.residual, p.band])
      : residualsOf(data).map((r) => [r.time, r.value]),
  };
}

/** Residuals from the start of the window to the end of the cooling. */
function residualsOf(data: TraceFigureData): Residual[] {
  const { curve, fit, segments } = cleanTrace(data);
  const from = segments.window?.from ?? segments.cooling?.from;
  const to = Math.max(
    segments.cooling?.to ?? Number.NEGATIVE_INFINITY,
    segments.window?.to ?? Number.NEGATIVE_INFINITY,
  );
  if (!fit || from === undefined) return [];
  return curve.time
    .map((time, i) => ({ time, value: (curve.value[i] ?? 0) - fittedTemperature(fit, time) }))
    .filter((r) => r.time >= from && r.time <= to);
}
