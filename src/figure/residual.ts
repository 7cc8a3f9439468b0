import * as Plot from '@observablehq/plot';
import { type FigureOptions, frame, themeOf } from './frame.ts';
import { label } from './markup.ts';
import { across, axes, axisNames, drawPanel, emptyPanel, type Panel } from './panel.ts';
import type { FigureTable } from './table.ts';
import { sizes } from './theme.ts';
import { extent, sparse, thinCurve } from './thin.ts';
import { cleanTrace, fittedTemperature, type TraceFigureData } from './trace-data.ts';
import { fixed, shorten } from './words.ts';

const width = 720;
const height = 280;
const box = { left: 62, top: 56, width: 634, height: 170 };

interface Residual {
  readonly time: number;
  /** Measured less fitted, K. */
  readonly value: number;
}

/**
 * What the fitted curve leaves over, against time: single points, and their average over a twentieth of the
 * cooling, in which a bend shows long before it shows in the points.
 *
 * @returns SVG text, 720 × 280 px
 */
export function residualFigure(data: TraceFigureData, options: FigureOptions): string {
  const theme = themeOf(options);
  const residuals = residualsOf(data);
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
    return frame(theme, width, height, title, 'There is no fit.', heading, empty);
  }
  const panel: Panel = { ...box, x, y: [-y[1], y[1]] };
  const smooth = thinCurve({ time: residuals.map((r) => r.time), value: residuals.map((r) => r.value) }, 20);
  const drawn = drawPanel(options.document, panel, [
    ...axes(theme, panel, 8, 5),
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
  return frame(
    theme,
    width,
    height,
    title,
    `Measured less fitted temperature against time. Averages over a twentieth of the cooling stay within ${fixed(largest, 3)} K.`,
    heading,
    mark,
    drawn,
    axisNames(theme, panel, 'Time in s', 'Residual in K'),
  );
}

/** The numbers behind the figure of residuals. */
export function residualTable(data: TraceFigureData): FigureTable {
  return {
    caption: `${data.name}: measured less fitted temperature`,
    columns: [
      { name: 'Time', unit: 's' },
      { name: 'Residual', unit: 'K' },
    ],
    rows: residualsOf(data).map((r) => [r.time, r.value]),
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
