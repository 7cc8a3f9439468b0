import type { ClassroomValue, Estimate, EstimateMethod } from '../decay/index.ts';
import { type FigureOptions, frameSheet, sheetOf, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import { across, type Panel } from './panel.ts';
import { axes, drawPanel } from './panel-drawing.ts';
import type { FigureTable } from './table.ts';
import { sizes, type Theme } from './theme.ts';
import { drawable, extent } from './thin.ts';
import { decimalsFor, fixed } from './words.ts';

const usualWidth = 760;
const top = 66;

/** Where the columns of the figure stand, px. */
interface Columns {
  readonly width: number;
  readonly rowHeight: number;
  readonly plot: { readonly left: number; readonly width: number };
  /** Where the decimal marks of the values stand, and the end of the intervals. */
  readonly decimalMark: number;
  /** The line of a row's words, and that of its bar, px below the row's top; the same where there is room. */
  readonly words: number;
  readonly bar: number;
  /** The same for what a classroom prints. */
  readonly below: { readonly words: number; readonly bar: number };
}

/** Names, bars and numbers side by side; on narrow sheets the bar goes below its words. */
function columnsFor(width: number): Columns {
  if (width >= 620) {
    return {
      width,
      rowHeight: 52,
      plot: { left: 214, width: width - 444 },
      decimalMark: width - 176,
      words: 19,
      bar: 19,
      below: { words: 38, bar: 38 },
    };
  }
  return {
    width,
    rowHeight: 92,
    plot: { left: 28, width: width - 56 },
    decimalMark: width - 150,
    words: 16,
    bar: 34,
    below: { words: 58, bar: 74 },
  };
}

const names: Readonly<Record<EstimateMethod, string>> = {
  'point-36.8': '36.8 % point',
  'log-linear-origin': 'ln fit through the start',
  'log-linear-intercept': 'ln fit, free intercept',
  'exponential-fit': 'exponential fit',
};

/** The name of a method in words. */
export function methodName(method: EstimateMethod): string {
  return names[method];
}

/**
 * One row an estimate with its 95 % interval; the reported one set apart, and thin beneath each the interval
 * that a classroom would print, which shows how small it claims to be.
 *
 * @param reported the method whose value is the time constant reported; null if none is
 * @returns SVG text, 760 px wide unless the options ask for another width
 */
export function intervalFigure(
  estimates: readonly Estimate[],
  reported: EstimateMethod | null,
  options: FigureOptions,
): string {
  const theme = themeOf(options);
  const sheet = sheetOf(options, usualWidth);
  const columns = columnsFor(sheet.width);
  const { rowHeight, plot, decimalMark } = columns;
  const rows = estimates.filter((e) => drawable(e.value) && e.interval.every(drawable)).slice(0, 20);
  const height = top + Math.max(rows.length, 1) * rowHeight + 58;
  const heading =
    label('Estimates of the time constant', { x: 20, y: 30, 'font-size': sizes.title, 'font-weight': 600 }) +
    label('in s, with 95 % interval', {
      x: columns.bar === columns.words ? decimalMark - 34 : 20,
      y: columns.bar === columns.words ? 30 : 48,
      fill: theme.muted,
    });
  const span = extent(rows.flatMap(reachOf), 0.06);
  if (!span) {
    const none = label('no estimate', { x: 20, y: top + 20, fill: theme.muted });
    return frameSheet(theme, sheet, height, 'Estimates of the time constant', 'No estimate.', heading, none);
  }
  const panel: Panel = { ...plot, top, height: rows.length * rowHeight, x: span, y: [0, 1] };
  const chosen = rows.find((e) => e.method === reported);
  const foot = top + rows.length * rowHeight;
  const frameLines = axes(theme, panel, 5, 1).slice(0, 1);
  return frameSheet(
    theme,
    sheet,
    height,
    'Estimates of the time constant',
    describe(rows, reported),
    chosen ? band(theme, chosen, panel, columns, rows.indexOf(chosen)) : '',
    heading,
    drawPanel(options.document, panel, frameLines),
    element('path', {
      d: polyline([
        [plot.left, foot],
        [plot.left + plot.width, foot],
      ]),
      stroke: theme.tie,
    }),
    ...rows.map((e, i) => row(theme, e, e === chosen, panel, columns, top + i * rowHeight)),
    label('Time constant in s', {
      x: plot.left + plot.width,
      y: foot + 32,
      'text-anchor': 'end',
      fill: theme.muted,
    }),
  );
}

/** The numbers behind the figure of estimates. */
export function intervalTable(estimates: readonly Estimate[], reported: EstimateMethod | null): FigureTable {
  return {
    caption: 'Estimates of the time constant with 95 % intervals',
    columns: [
      { name: 'Method', unit: null },
      { name: 'Reported', unit: null },
      { name: 'Time constant', unit: 's' },
      { name: 'Standard uncertainty', unit: 's' },
      { name: 'Interval from', unit: 's' },
      { name: 'Interval to', unit: 's' },
      { name: 'As a classroom prints it', unit: 's' },
      { name: 'Classroom interval from', unit: 's' },
      { name: 'Classroom interval to', unit: 's' },
    ],
    rows: estimates.map((e) => [
      methodName(e.method),
      e.method === reported ? 'reported' : null,
      e.value,
      e.standardUncertainty,
      ...e.interval,
      e.classroom?.value ?? null,
      e.classroom?.interval?.[0] ?? null,
      e.classroom?.interval?.[1] ?? null,
    ]),
  };
}

function reachOf(e: Estimate): number[] {
  const room = e.classroom;
  return [e.value, ...e.interval, ...(room ? [room.value, ...(room.interval ?? [])] : [])].filter(drawable);
}

function band(theme: Theme, chosen: Estimate, panel: Panel, columns: Columns, index: number): string {
  // On narrow sheets the lines would run through the words.
  const ends = columns.bar === columns.words ? chosen.interval.map((v) => across(panel, v)) : [];
  const lines = ends.map((x) =>
    element('path', {
      d: polyline([
        [x, panel.top],
        [x, panel.top + panel.height],
      ]),
      stroke: theme.tie,
      'stroke-width': 0.75,
      'stroke-dasharray': '2 3',
    }),
  );
  const ground = element('rect', {
    x: 10,
    y: panel.top + index * columns.rowHeight,
    width: columns.width - 20,
    height: columns.rowHeight,
    fill: theme.raised,
    'data-part': 'reported',
  });
  return ground + lines.join('');
}

function row(theme: Theme, e: Estimate, chosen: boolean, panel: Panel, columns: Columns, y: number): string {
  const words = y + columns.words + 4;
  const level = y + columns.bar;
  const weight = chosen ? 600 : undefined;
  const decimals = decimalsFor((e.interval[1] - e.interval[0]) / 2);
  const parts = [
    label(chosen ? `${methodName(e.method)}, reported` : methodName(e.method), {
      x: 20,
      y: words,
      'font-weight': weight,
    }),
    bar(
      across(panel, e.interval[0]),
      across(panel, e.interval[1]),
      level,
      chosen ? 6 : 4.5,
      theme.ink,
      chosen ? 3.2 : 1.8,
    ),
    element('circle', {
      cx: across(panel, e.value),
      cy: level,
      r: chosen ? 5.5 : 4,
      fill: chosen ? theme.ink : theme.paper,
      stroke: theme.ink,
      'stroke-width': 1.6,
      'data-part': 'estimate',
    }),
    onMark(fixed(e.value, decimals), columns.decimalMark, words, { 'font-weight': weight }),
    label(`${fixed(e.interval[0], decimals)} to ${fixed(e.interval[1], decimals)}`, {
      x: columns.width - 20,
      y: words,
      'text-anchor': 'end',
      'font-weight': weight,
    }),
  ];
  const room = e.classroom;
  if (room && drawable(room.value)) parts.push(classroom(theme, room, decimals + 1, panel, columns, y));
  return element('g', { 'data-row': e.method }, ...parts);
}

/**
 * What a classroom would print: the ends of its interval as two upright lines, which often fall into one, or a
 * hollow mark where it prints no interval.
 */
function classroom(
  theme: Theme,
  room: ClassroomValue,
  decimals: number,
  panel: Panel,
  columns: Columns,
  top: number,
): string {
  const words = top + columns.below.words + 4;
  const y = top + columns.below.bar;
  const text = { 'font-size': sizes.small, fill: theme.muted };
  const name = label('as a classroom prints it', { ...text, x: 20, y: words });
  const value = onMark(fixed(room.value, decimals), columns.decimalMark, words, text);
  if (!room.interval?.every(drawable)) {
    const mark = element('circle', {
      cx: across(panel, room.value),
      cy: y,
      r: 3,
      fill: theme.paper,
      stroke: theme.muted,
      'data-part': 'classroom',
    });
    return name + mark + value;
  }
  const [from, to] = room.interval;
  return (
    name +
    bar(across(panel, from), across(panel, to), y, 5, theme.muted, 1) +
    value +
    label(`${fixed(from, decimals)} to ${fixed(to, decimals)}`, {
      ...text,
      x: columns.width - 20,
      y: words,
      'text-anchor': 'end',
    })
  );
}

/** An interval: a level line with its ends. */
function bar(from: number, to: number, y: number, half: number, stroke: string, thickness: number): string {
  const d =
    polyline([
      [from, y],
      [to, y],
    ]) +
    [from, to]
      .map((x) =>
        polyline([
          [x, y - half],
          [x, y + half],
        ]),
      )
      .join('');
  return element('path', { d, stroke, 'stroke-width': thickness, fill: 'none' });
}

/** A number aligned on its decimal mark. */
function onMark(
  text: string,
  decimalMark: number,
  y: number,
  attributes: Readonly<Record<string, string | number | undefined>>,
): string {
  const [whole = '', decimals] = text.split('.');
  return (
    label(whole, { ...attributes, x: decimalMark, y, 'text-anchor': 'end' }) +
    (decimals === undefined ? '' : label(`.${decimals}`, { ...attributes, x: decimalMark, y }))
  );
}

function describe(rows: readonly Estimate[], reported: EstimateMethod | null): string {
  return rows
    .map((e) => {
      const d = decimalsFor((e.interval[1] - e.interval[0]) / 2);
      const mark = e.method === reported ? ', reported' : '';
      return `${methodName(e.method)}${mark}: ${fixed(e.value, d)} s, 95 % interval ${fixed(e.interval[0], d)} s to ${fixed(e.interval[1], d)} s.`;
    })
    .join(' ');
}
