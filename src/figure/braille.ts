import { drawable, extent, thinCurve } from './thin.ts';
import { fixed, plain, roundTicks } from './words.ts';

/** Bits of the dots of a braille cell (U+2800), by column and row: Unicode 15, chapter 21.1. */
const dots = [
  [0x01, 0x02, 0x04, 0x40],
  [0x08, 0x10, 0x20, 0x80],
] as const;

/** Widest text that fits a terminal. */
const widest = 80;

/** A curve for a terminal. */
export interface BrailleChart {
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** Characters, numbers of the axis included; 20 to 80. */
  readonly width: number;
  /** Lines of dots, 2 to 40; the axis comes below. */
  readonly height: number;
  readonly xLabel: string;
  readonly yLabel: string;
  /** Stretches of x to be named in a line below the axis. */
  readonly spans?: readonly { readonly from: number; readonly to: number; readonly name: string }[];
}

/**
 * A plot for the terminal in braille dots, two across and four down a character.
 *
 * @returns lines of at most 80 characters: the name of the vertical axis, the dots with round numbers beside
 *   them, the axis, its numbers, the named stretches, the name of the horizontal axis; one line that says so
 *   where there is nothing to draw
 */
export function brailleChart(chart: BrailleChart): string[] {
  const width = within(chart.width, 20, widest);
  const height = within(chart.height, 2, 40);
  const x = extent(finite(chart.x));
  const y = extent(finite(chart.y));
  if (!x || !y) return ['nothing to draw'];
  const yTicks = roundTicks(y[0], y[1], Math.max(2, Math.floor(height / 3)));
  const numbers = yTicks.values.map((v) => fixed(v, yTicks.decimals));
  const gutter = Math.min(Math.max(...numbers.map((n) => n.length)), 10) + 1;
  const columns = width - gutter - 1;
  const rows = dotRows(chart.x, chart.y, x, y, columns, height);
  const side = new Map<number, string>();
  yTicks.values.forEach((v, i) => {
    const row = Math.min(Math.floor(((y[1] - v) / (y[1] - y[0])) * height), height - 1);
    side.set(row, (numbers[i] ?? '').slice(0, gutter - 1));
  });
  const lines = rows.map((row, i) => {
    const number = side.get(i);
    return `${(number ?? '').padStart(gutter - 1)} ${number === undefined ? '│' : '┤'}${row}`;
  });
  const below = axisLines(x, columns, gutter);
  const spans = spanLines(chart.spans ?? [], x, columns, gutter);
  return [
    plain(chart.yLabel, width),
    ...lines,
    ...below,
    ...spans,
    plain(chart.xLabel, width).padStart(width),
  ].map((line) => line.trimEnd());
}

/**
 * A curve in one line of braille dots, without numbers.
 *
 * @param columns characters, 4 to 80
 */
export function brailleStrip(x: ArrayLike<number>, y: ArrayLike<number>, columns: number): string {
  const xs = extent(finite(x));
  const ys = extent(finite(y));
  if (!xs || !ys) return '';
  return dotRows(x, y, xs, ys, within(columns, 4, widest), 1)[0] ?? '';
}

/** The curve as lines of braille characters: neighbouring points are joined. */
function dotRows(
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
  x: readonly [number, number],
  y: readonly [number, number],
  columns: number,
  rows: number,
): string[] {
  const cells = Array.from({ length: rows }, () => new Uint8Array(columns));
  const across = 2 * columns - 1;
  const down = 4 * rows - 1;
  const put = (px: number, py: number) => {
    const cell = cells[py >> 2];
    const column = px >> 1;
    if (cell) cell[column] = (cell[column] ?? 0) | (dots[px % 2 === 0 ? 0 : 1][py % 4] ?? 0);
  };
  const curve = thinCurve({ time: xs, value: ys }, across + 1);
  let last: readonly [number, number] | null = null;
  curve.time.forEach((t, i) => {
    const px = Math.round(((t - x[0]) / (x[1] - x[0])) * across);
    const py = Math.round(((y[1] - (curve.value[i] ?? 0)) / (y[1] - y[0])) * down);
    const [fromX, fromY] = last ?? [px, py];
    const steps = Math.max(Math.abs(px - fromX), Math.abs(py - fromY), 1);
    for (let k = 0; k <= steps; k++) {
      put(Math.round(fromX + ((px - fromX) * k) / steps), Math.round(fromY + ((py - fromY) * k) / steps));
    }
    last = [px, py];
  });
  return cells.map((cell) => String.fromCharCode(...Array.from(cell, (bits) => 0x2800 + bits)));
}

/** The axis with its ticks, and the numbers below them. */
function axisLines(x: readonly [number, number], columns: number, gutter: number): string[] {
  const ticks = roundTicks(x[0], x[1], Math.max(2, Math.floor(columns / 10)));
  const rule = Array.from({ length: columns }, () => '─');
  const numbers = Array.from({ length: gutter + 1 + columns }, () => ' ');
  let free = 0;
  for (const value of ticks.values) {
    const column = columnOf(value, x, columns);
    rule[column] = '┬';
    const text = fixed(value, ticks.decimals);
    const start = Math.min(gutter + 1 + column - (text.length >> 1), numbers.length - text.length);
    if (start < free) continue;
    numbers.splice(start, text.length, ...text);
    free = start + text.length + 1;
  }
  return [`${' '.repeat(gutter)}└${rule.join('')}`, numbers.join('')];
}

/** Names of stretches between their ends; names that are wider than their stretch begin below its middle. */
function spanLines(
  spans: readonly { readonly from: number; readonly to: number; readonly name: string }[],
  x: readonly [number, number],
  columns: number,
  gutter: number,
): string[] {
  const line = Array.from({ length: columns }, () => ' ');
  const below = Array.from({ length: columns }, () => ' ');
  let free = 0;
  for (const span of spans) {
    if (!drawable(span.from) || !drawable(span.to) || span.to < x[0] || span.from > x[1]) continue;
    const from = columnOf(Math.max(span.from, x[0]), x, columns);
    const to = columnOf(Math.min(span.to, x[1]), x, columns);
    const name = Array.from(plain(span.name, 40));
    for (let k = from + 1; k < to; k++) line[k] = '╌';
    line[to] = '┤';
    line[from] = to === from ? '│' : '├';
    if (to - from - 1 >= name.length + 2) {
      const start = from + 1 + ((to - from - 1 - name.length) >> 1);
      line.splice(start - 1, name.length + 2, ' ', ...name, ' ');
      continue;
    }
    const start = Math.max(Math.min((from + to) >> 1, columns - name.length - 2), free);
    if (start + name.length + 2 > columns) continue;
    below.splice(start, name.length + 2, '└', ' ', ...name);
    free = start + name.length + 3;
  }
  const indent = ' '.repeat(gutter + 1);
  return [line, below].map((letters) => indent + letters.join('')).filter((text) => text.trim() !== '');
}

function columnOf(value: number, x: readonly [number, number], columns: number): number {
  return Math.round((((value - x[0]) / (x[1] - x[0])) * (2 * columns - 1) - 0.5) / 2);
}

function within(value: number, low: number, high: number): number {
  return Number.isFinite(value) ? Math.min(Math.max(Math.round(value), low), high) : high;
}

function* finite(values: ArrayLike<number>): Generator<number> {
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (drawable(value)) yield value;
  }
}
