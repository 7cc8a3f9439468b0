import type { ComparedOptions } from './compared.ts';
import { intervalBar, logAxisBelow } from './compared-axes.ts';
import {
  bandOf,
  type ComparedCondition,
  type MarkedCondition,
  markedConditions,
  verdictWords,
} from './compared-data.ts';
import { drawMark } from './compared-marks.ts';
import { type LogAxis, logSpan, onLog } from './compared-scale.ts';
import { frame, themeOf } from './frame.ts';
import { element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';
import { fixed, shorten } from './words.ts';

const top = 74;
const title = 'Measured over predicted';

interface Layout {
  readonly width: number;
  readonly axis: LogAxis;
  readonly rowHeight: number;
  /** Whether names stand above their bars, as there is no room beside them. */
  readonly narrow: boolean;
}

/**
 * Measured over predicted time constant, a row a condition: what the figure on logarithmic axes shows too small.
 * The box is what the prediction allows, the strong line the 95 % interval of the measured value alone.
 *
 * @returns SVG text, as wide as asked for up to 1100 px
 */
export function comparedRatioFigure(
  conditions: readonly ComparedCondition[],
  options: ComparedOptions,
): string {
  const theme = themeOf(options);
  const width = Math.min(Math.max(Math.round(options.width), 340), 1100);
  const points = markedConditions(conditions);
  const narrow = width < 620;
  const rowHeight = narrow ? 44 : 32;
  const foot = top + Math.max(points.length, 1) * rowHeight;
  const height = foot + 46;
  const heading = label(title, { x: 4, y: 22, 'font-size': sizes.title, 'font-weight': 600 });
  const [below, above] = bandOf(options.accuracy ?? 0);
  const span = logSpan([...points.flatMap(ratiosOf), 1 / 1.4, 1.4, below, above], 1.5);
  if (points.length === 0 || span === null) {
    const none = label('no condition is both measured and predicted', {
      x: 4,
      y: top + 20,
      fill: theme.muted,
    });
    return frame(theme, width, height, title, 'There is nothing to draw.', heading, none);
  }
  const axis: LogAxis = {
    low: span[0],
    high: span[1],
    from: narrow ? 14 : 190,
    to: width - (narrow ? 18 : 140),
  };
  const layout: Layout = { width, axis, rowHeight, narrow };
  const one = onLog(axis, 1);
  return frame(
    theme,
    width,
    height,
    title,
    points.map(sentence).join(' '),
    heading,
    key(theme, narrow ? 14 : 190),
    ...points.map((point, i) => row(theme, point, layout, top + i * rowHeight)),
    element('path', {
      d: polyline([
        [one, top - 4],
        [one, foot],
      ]),
      stroke: theme.ink,
      'stroke-width': 1,
      'data-part': 'equality',
    }),
    ...points.map((point, i) => marks(theme, point, layout, top + i * rowHeight)),
    logAxisBelow(theme, axis, foot),
    label('Measured over predicted', { x: axis.to, y: foot + 36, 'text-anchor': 'end', fill: theme.muted }),
  );
}

/** What box and line stand for, said by a specimen of each. */
function key(theme: Theme, x: number): string {
  const text = { y: 51, fill: theme.muted, 'font-size': sizes.small };
  return (
    element('rect', {
      x,
      y: 41,
      width: 26,
      height: 12,
      fill: theme.wash,
      stroke: theme.tie,
      'stroke-width': 0.75,
    }) +
    label('prediction, 95 %', { ...text, x: x + 32 }) +
    intervalBar(theme.ink, 2.4, 'x', 47, x + 136, x + 162, 4) +
    label('measured, 95 %', { ...text, x: x + 168 })
  );
}

function ratiosOf({ measuredInterval, predictedInterval, predicted }: MarkedCondition): number[] {
  return [...measuredInterval, ...predictedInterval].flatMap((end) =>
    end === null ? [] : [end / predicted],
  );
}

function levelOf(layout: Layout, y: number): number {
  return layout.narrow ? y + 31 : y + layout.rowHeight / 2;
}

function row(theme: Theme, one: MarkedCondition, layout: Layout, y: number): string {
  const { axis, narrow, width } = layout;
  const level = levelOf(layout, y);
  const disagrees = one.verdict === 'disagrees';
  const [low, high] = one.predictedInterval;
  const from = onLog(axis, low / one.predicted);
  const to = high === null ? axis.to : onLog(axis, high / one.predicted);
  const ratio = fixed(one.measured / one.predicted, 2);
  const words = narrow ? `${ratio}, ${verdictWords[one.verdict]}` : verdictWords[one.verdict];
  const textLevel = narrow ? y + 14 : level + 4;
  const weight = disagrees ? 600 : undefined;
  return (
    element('rect', {
      x: from,
      y: level - 9,
      width: Math.max(to - from, 1),
      height: 18,
      fill: theme.wash,
      stroke: theme.tie,
      'stroke-width': 0.75,
      // An interval without an upper end is drawn open.
      'stroke-dasharray': high === null ? '2 3' : undefined,
      'data-part': 'predicted interval',
    }) +
    drawMark(theme, one.mark, 12, textLevel - 4, 4.4, 'mark') +
    label(shorten(one.name, narrow ? width - 190 : 156, sizes.text, disagrees), {
      x: 24,
      y: textLevel,
      'font-weight': weight,
    }) +
    label(narrow ? words : ratio, {
      x: narrow ? width - 10 : axis.to + 14,
      y: textLevel,
      'text-anchor': narrow ? 'end' : 'start',
      'font-weight': weight,
      fill: disagrees ? theme.heat : theme.ink,
    }) +
    (narrow
      ? ''
      : label(words, {
          x: axis.to + 46,
          y: textLevel,
          'font-size': sizes.small,
          'font-weight': weight,
          fill: disagrees ? theme.heat : theme.muted,
        }))
  );
}

function marks(theme: Theme, one: MarkedCondition, layout: Layout, y: number): string {
  const { axis } = layout;
  const level = levelOf(layout, y);
  const [from, to] = one.measuredInterval;
  const place = (value: number) => onLog(axis, value / one.predicted);
  return (
    intervalBar(theme.ink, 2.4, 'x', level, place(from), place(to), 5, false, 'measured interval') +
    drawMark(theme, one.mark, place(one.measured), level, 4.6, 'condition')
  );
}

function sentence(one: MarkedCondition): string {
  const [from, to] = one.measuredInterval.map((end) => fixed(end / one.predicted, 2));
  const ratio = fixed(one.measured / one.predicted, 2);
  return `${one.name}: ${ratio}, measured interval ${from} to ${to}, ${verdictWords[one.verdict]}.`;
}
