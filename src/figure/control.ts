import * as Plot from '@observablehq/plot';
import { followedKind, type RigChart } from '../class/index.ts';
import { controlRows, dayOf } from './control-data.ts';
import { type FigureOptions, frameSheet, sheetOf, themeOf } from './frame.ts';
import { element, label } from './markup.ts';
import { across, down, type Panel } from './panel.ts';
import { axisNames, drawPanel, emptyPanel } from './panel-drawing.ts';
import { sizes, type Theme } from './theme.ts';
import { fixed, roundTicks, shorten, widthOf, wrap } from './words.ts';

const usualWidth = 720;
const height = 284;

/**
 * A control chart: single values in their order with limits at three standard deviations, filled where they lie
 * outside, the moving average with its own limits, a rule where it changed, and the terms above. Limits from few values
 * have a wider dash and are called provisional.
 *
 * @returns SVG text, 720 × 284 px unless the options ask for another width
 */
export function controlFigure(chart: RigChart, options: FigureOptions): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const about = followedKind(chart.kind);
  const title = titleOf(chart);
  const box = { left: 62, top: 84, width: sheet.width - 62 - 96, height: 140 };
  const heading =
    label(shorten(title, sheet.width - 24, sizes.title, true), {
      x: 12,
      y: 22,
      'font-size': sizes.title,
      'font-weight': 600,
    }) +
    wrap(chart.finding, sheet.width - 24, sizes.text, 2)
      .map((line, i) => label(line, { x: 12, y: 40 + 15 * i, fill: theme.muted }))
      .join('');
  const rows = controlRows(chart);
  if (rows.length === 0) {
    const empty = emptyPanel(theme, { ...box, x: [0, 1], y: [0, 1] }, 'nothing was kept yet');
    return frameSheet(theme, sheet, height, title, chart.sentence, heading, empty);
  }
  const panel: Panel = { ...box, x: [0.5, rows.length + 0.5], y: spanOf(rows, chart, about.factor) };
  // The ground of the moving average lies below the limits, and the values above them.
  const ground = drawPanel(options.document, panel, averageGround(theme, rows));
  const drawn = drawPanel(options.document, panel, [...averageLine(theme, rows), ...valueMarks(theme, rows)]);
  const name = about.unit === '' ? (chart.kind === 'reference' ? 'Ratio' : 'Value') : `In ${about.unit}`;
  return frameSheet(
    theme,
    sheet,
    height,
    title,
    chart.sentence,
    heading,
    ground,
    limitLines(theme, panel, chart, about.factor),
    termMarks(theme, panel, rows),
    changeRule(theme, panel, chart),
    drawn,
    valueAxis(theme, panel),
    dayAxis(theme, panel, rows),
    axisNames(theme, panel, 'In order of time', name),
  );
}

type Rows = ReturnType<typeof controlRows>;

function titleOf({ bench, kind, subject }: RigChart): string {
  const thing = followedKind(kind).name;
  return [bench, subject, thing].filter((one) => one !== null).join(', ');
}

function spanOf(rows: Rows, { limits }: RigChart, factor: number): readonly [number, number] {
  const ends = limits === null ? [] : [limits.lower / factor, limits.upper / factor];
  const values = [...rows.map(({ value }) => value), ...ends];
  const [low, high] = [Math.min(...values), Math.max(...values)];
  const spare = high > low ? 0.08 * (high - low) : Math.max(0.01 * Math.abs(high), 1e-6);
  return [low - spare, high + spare];
}

function averagesOf(rows: Rows) {
  return rows.flatMap((row) => (row.average === null ? [] : [{ number: row.number, ...row.average }]));
}

function averageGround(theme: Theme, rows: Rows): Plot.Markish[] {
  return [
    Plot.areaY(averagesOf(rows), {
      x: 'number',
      y1: 'low',
      y2: 'high',
      fill: theme.wash,
      ariaDescription: 'limits of the moving average',
    }),
  ];
}

function averageLine(theme: Theme, rows: Rows): Plot.Markish[] {
  return [
    Plot.line(averagesOf(rows), {
      x: 'number',
      y: 'mean',
      stroke: theme.air,
      strokeWidth: 2,
      strokeDasharray: '7 3',
      ariaDescription: 'moving average',
    }),
  ];
}

function valueMarks(theme: Theme, rows: Rows): Plot.Markish[] {
  return [
    Plot.line(rows, {
      x: 'number',
      y: 'value',
      stroke: theme.tie,
      strokeWidth: 1,
      ariaDescription: 'values',
    }),
    Plot.dot(rows, {
      x: 'number',
      y: 'value',
      r: 3.2,
      stroke: theme.ink,
      strokeWidth: 1.3,
      fill: (row: Rows[number]) => (row.outside ? theme.heat : theme.paper),
      symbol: (row: Rows[number]) => (row.outside ? 'diamond' : 'circle'),
      ariaDescription: 'values, filled diamonds outside the limits',
    }),
  ];
}

function limitLines(theme: Theme, panel: Panel, { limits, provisional }: RigChart, factor: number): string {
  if (limits === null) return '';
  const line = (value: number, dash: string | undefined, words: readonly string[]) => {
    const y = down(panel, value / factor);
    return (
      element('line', {
        x1: panel.left,
        x2: panel.left + panel.width,
        y1: y,
        y2: y,
        stroke: theme.ink,
        'stroke-width': 1,
        ...(dash === undefined ? {} : { 'stroke-dasharray': dash }),
      }) +
      words
        .map((text, i) =>
          label(text, {
            x: panel.left + panel.width + 6,
            y: y + 4 + 12 * i,
            'font-size': sizes.small,
            fill: theme.muted,
          }),
        )
        .join('')
    );
  };
  const dash = provisional ? '2 6' : '6 3';
  return (
    line(limits.upper, dash, provisional ? ['upper limit,', 'provisional'] : ['upper limit']) +
    line(limits.centre, undefined, ['middle']) +
    line(limits.lower, dash, ['lower limit'])
  );
}

/** The name of each term above its points, and a faint rule where the next one begins. */
function termMarks(theme: Theme, panel: Panel, rows: Rows): string {
  const runs: { term: string; from: number; to: number }[] = [];
  for (const { term, number } of rows) {
    const last = runs.at(-1);
    if (last?.term === term) last.to = number;
    else runs.push({ term, from: number, to: number });
  }
  return runs
    .map(({ term, from, to }) => {
      const left = across(panel, from - 0.5);
      const room = across(panel, to + 0.5) - left;
      const rule =
        from === 1
          ? ''
          : element('line', {
              x1: left,
              x2: left,
              y1: panel.top - 8,
              y2: panel.top + panel.height,
              stroke: theme.faint,
            });
      const name =
        room < 24
          ? ''
          : label(shorten(term, room - 6, sizes.small), {
              x: left + 4,
              y: panel.top - 4,
              'font-size': sizes.small,
              fill: theme.muted,
            });
      return rule + name;
    })
    .join('');
}

function changeRule(theme: Theme, panel: Panel, { change, points }: RigChart): string {
  if (change === null || change.kind === 'drift' || points.length === 0) return '';
  const x = across(panel, change.index + 0.5);
  const words = `${change.kind} ${dayOf(change.at)}`;
  const over = x + 4 + widthOf(words, sizes.small) > panel.left + panel.width;
  return (
    element('line', {
      x1: x,
      x2: x,
      y1: panel.top,
      y2: panel.top + panel.height,
      stroke: theme.heat,
      'stroke-width': 1.4,
      'stroke-dasharray': '3 2',
    }) +
    label(words, {
      x: over ? x - 4 : x + 4,
      y: panel.top + panel.height - 6,
      'font-size': sizes.small,
      fill: theme.heat,
      'text-anchor': over ? 'end' : 'start',
    })
  );
}

function valueAxis(theme: Theme, panel: Panel): string {
  const { values, decimals } = roundTicks(panel.y[0], panel.y[1], 4);
  const base = panel.top + panel.height;
  const marks = values.map((value) => {
    const y = down(panel, value);
    return (
      element('line', { x1: panel.left - 4, x2: panel.left, y1: y, y2: y, stroke: theme.tie }) +
      label(fixed(value, decimals), {
        x: panel.left - 8,
        y: y + 4,
        'text-anchor': 'end',
        'font-size': sizes.small,
        fill: theme.muted,
      })
    );
  });
  const line = { x1: panel.left, x2: panel.left + panel.width, y1: base, y2: base, stroke: theme.tie };
  return element('line', line) + marks.join('');
}

/** Days below the points, as many as have room; always the first and the last. */
function dayAxis(theme: Theme, panel: Panel, rows: Rows): string {
  const room = widthOf('2026-10-05', sizes.small) + 12;
  const every = Math.max(1, Math.ceil((room * rows.length) / panel.width));
  const last = rows.length - 1;
  return rows
    .filter((_, i) => i === last || (i % every === 0 && last - i >= every))
    .map(({ number, day }) =>
      label(day, {
        x: across(panel, number),
        y: panel.top + panel.height + 16,
        'text-anchor': 'middle',
        'font-size': sizes.small,
        fill: theme.muted,
      }),
    )
    .join('');
}
