import { halo, intervalBar, logAxisAside, logAxisBelow } from './compared-axes.ts';
import {
  bandOf,
  type ComparedCondition,
  type MarkedCondition,
  markedConditions,
  verdictWords,
} from './compared-data.ts';
import { drawMark } from './compared-marks.ts';
import { type Box, placeNames } from './compared-names.ts';
import { type LogAxis, logSpan, onLog } from './compared-scale.ts';
import { frame, type ThemeOptions, themeOf } from './frame.ts';
import { coordinate, element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';
import { decimalsFor, fixed, shorten, widthOf } from './words.ts';

/** How the figures of measured and predicted time constants are drawn. */
export interface ComparedOptions extends ThemeOptions {
  /** Room that there is, px; 340 to 1900 are used. */
  readonly width: number;
  /** How far the correlation may be off in h, as a part of it; null draws no band. */
  readonly accuracy: number | null;
}

/** Widest square that is drawn, px: larger it only pushes the words off the screen. */
const widestSquare = 720;
const margins = { left: 58, top: 46, right: 14, bottom: 50 } as const;
const title = 'Measured against predicted time constants';

/**
 * Measured against predicted time constants on logarithmic axes of one scale: a mark a condition with both 95 %
 * intervals as a cross, the line on which both are equal, and the band of the correlation about it. Bodies differ
 * by the outline of their marks; every condition is named beside its mark.
 *
 * @returns SVG text, as wide as asked for, about as high as wide up to 820 px
 */
export function comparedFigure(conditions: readonly ComparedCondition[], options: ComparedOptions): string {
  const theme = themeOf(options);
  const width = Math.min(Math.max(Math.round(options.width), 340), 1900);
  const side = Math.min(width - margins.left - margins.right, widestSquare);
  const height = margins.top + side + margins.bottom;
  const left = margins.left;
  const top = margins.top;
  const points = markedConditions(conditions);
  const heading = label(title, { x: 4, y: 22, 'font-size': sizes.title, 'font-weight': 600 });
  const span = logSpan(points.flatMap(reachOf), 3);
  if (span === null) {
    const empty = label('no condition is both measured and predicted', {
      x: left + side / 2,
      y: top + side / 2,
      'text-anchor': 'middle',
      fill: theme.muted,
    });
    return frame(theme, width, height, title, 'There is nothing to draw.', heading, empty);
  }
  const [low, high] = span;
  const x: LogAxis = { low, high, from: left, to: left + side };
  const y: LogAxis = { low, high, from: top + side, to: top };
  return frame(
    theme,
    width,
    height,
    title,
    describe(points, options.accuracy),
    options.accuracy === null ? '' : band(theme, x, y, options.accuracy),
    heading,
    logAxisBelow(theme, x, top + side),
    logAxisAside(theme, y, left),
    equality(theme, x, y),
    ...points.map((point) => cross(theme, point, x, y)),
    ...points.map((point) => {
      return drawMark(
        theme,
        point.mark,
        onLog(x, point.predicted),
        onLog(y, point.measured),
        4.6,
        'condition',
      );
    }),
    lineNames(theme, points, x, y, options.accuracy),
    names(theme, points, x, y, width),
    label('Predicted in s', { x: left + side, y: top + side + 38, 'text-anchor': 'end', fill: theme.muted }),
    label('Measured in s', {
      transform: `translate(14,${coordinate(top + side / 2)}) rotate(-90)`,
      'text-anchor': 'middle',
      fill: theme.muted,
    }),
  );
}

function reachOf({ measured, predicted, measuredInterval, predictedInterval }: MarkedCondition): number[] {
  return [measured, predicted, ...measuredInterval, ...predictedInterval.filter((end) => end !== null)];
}

/** The strip about the line of equality, cut off at the edges of the panel. */
function band(theme: Theme, x: LogAxis, y: LogAxis, accuracy: number): string {
  const [below, above] = bandOf(Math.min(Math.max(accuracy, 0), 0.98));
  const { low, high } = x;
  const at = (predicted: number, measured: number): [number, number] => [
    onLog(x, predicted),
    onLog(y, measured),
  ];
  const corners: [number, number][] = [
    at(low, low * above),
    at(high / above, high),
    at(high, high),
    at(high, high * below),
    at(low / below, low),
    at(low, low),
  ];
  const edge = (from: [number, number], to: [number, number]) =>
    element('path', {
      d: polyline([from, to]),
      stroke: theme.tie,
      'stroke-width': 0.75,
      'stroke-dasharray': '2 3',
    });
  return (
    element('path', { d: `${polyline(corners)}Z`, fill: theme.wash, 'data-part': 'band' }) +
    edge(at(low, low * above), at(high / above, high)) +
    edge(at(low / below, low), at(high, high * below))
  );
}

function equality(theme: Theme, x: LogAxis, y: LogAxis): string {
  return element('path', {
    d: polyline([
      [x.from, y.from],
      [x.to, y.to],
    ]),
    stroke: theme.ink,
    'stroke-width': 1,
    'data-part': 'equality',
  });
}

/** The measured interval upright and strong, the predicted one level and fine. */
function cross(theme: Theme, one: MarkedCondition, x: LogAxis, y: LogAxis): string {
  const [from, to] = one.measuredInterval;
  const [low, high] = one.predictedInterval;
  const px = onLog(x, one.predicted);
  const py = onLog(y, one.measured);
  const open = high === null;
  return (
    intervalBar(
      theme.tie,
      1,
      'x',
      py,
      onLog(x, low),
      open ? x.to : onLog(x, high),
      3,
      open,
      'predicted interval',
    ) + intervalBar(theme.ink, 2, 'y', px, onLog(y, from), onLog(y, to), 3, false, 'measured interval')
  );
}

/** Names along the line of equality and the edge of its band, where no condition is near. */
function lineNames(
  theme: Theme,
  points: readonly MarkedCondition[],
  x: LogAxis,
  y: LogAxis,
  accuracy: number | null,
): string {
  const share = emptiest(points, x, y);
  const at = (factor: number): [number, number] => {
    const predicted = x.low * (x.high / x.low) ** share;
    return [onLog(x, predicted), onLog(y, predicted * factor)];
  };
  const along = (text: string, [px, py]: [number, number], lift: number) =>
    label(text, {
      transform: `translate(${coordinate(px - lift * 0.7)},${coordinate(py - lift * 0.7)}) rotate(-45)`,
      'text-anchor': 'middle',
      'font-size': sizes.small,
      fill: theme.muted,
      ...halo(theme),
    });
  const equal = along('equal', at(1), 4);
  if (accuracy === null || !(accuracy > 0 && accuracy < 0.98)) return equal;
  const [, above] = bandOf(accuracy);
  return equal + along(`±${fixed(100 * accuracy, 0)} % in h`, at(above), 5);
}

/** How far along the diagonal the conditions leave most room, as a share of it. */
function emptiest(points: readonly MarkedCondition[], x: LogAxis, y: LogAxis): number {
  let best = { share: 0.5, room: -1 };
  for (let share = 0.14; share < 0.87; share += 0.04) {
    const value = x.low * (x.high / x.low) ** share;
    const room = points.reduce((least, one) => {
      const away = Math.hypot(
        onLog(x, one.predicted) - onLog(x, value),
        onLog(y, one.measured) - onLog(y, value),
      );
      return Math.min(least, away);
    }, Number.POSITIVE_INFINITY);
    if (room > best.room) best = { share, room };
  }
  return best.share;
}

function names(
  theme: Theme,
  points: readonly MarkedCondition[],
  x: LogAxis,
  y: LogAxis,
  width: number,
): string {
  const longest = width < 560 ? 130 : 220;
  const wanted = points.map((one) => {
    const words = one.verdict === 'disagrees' ? `${one.name}, ${verdictWords.disagrees}` : one.name;
    const bold = one.verdict === 'disagrees';
    const text = shorten(words, longest, sizes.text, bold);
    return {
      x: onLog(x, one.predicted),
      y: onLog(y, one.measured),
      width: widthOf(text, sizes.text, bold) + 2,
      height: 15,
      text,
      bold,
    };
  });
  const bounds: Box = { left: x.from + 4, top: y.to - 8, right: width - 4, bottom: y.from - 4 };
  const placed = placeNames(wanted, obstaclesOf(points, x, y), bounds);
  const missing = placed.filter((one) => one === null).length;
  const texts = wanted.map((one, i) => {
    const place = placed[i];
    if (!place) return '';
    const { box } = place;
    const tie = place.tied
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
    return (
      tie +
      label(one.text, {
        x: box.left + 1,
        y: box.top + 11.5,
        'font-weight': one.bold ? 600 : undefined,
        fill: one.bold ? theme.heat : theme.ink,
        ...halo(theme),
        'data-part': 'name',
      })
    );
  });
  const rest =
    missing === 0
      ? ''
      : label(`${missing} without a name: see the table`, {
          x: x.from,
          y: y.from + 38,
          fill: theme.muted,
          'font-size': sizes.small,
        });
  return texts.join('') + rest;
}

/** Marks, the arms of the crosses, and the line of equality in short pieces. */
function obstaclesOf(points: readonly MarkedCondition[], x: LogAxis, y: LogAxis): Box[] {
  const boxes = points.flatMap((one): Box[] => {
    const px = onLog(x, one.predicted);
    const py = onLog(y, one.measured);
    const [from, to] = one.measuredInterval;
    const [low, high] = one.predictedInterval;
    return [
      { left: px - 7, top: py - 7, right: px + 7, bottom: py + 7 },
      { left: px - 4, top: onLog(y, to) - 1, right: px + 4, bottom: onLog(y, from) + 1 },
      { left: onLog(x, low), top: py - 2, right: high === null ? x.to : onLog(x, high), bottom: py + 2 },
    ];
  });
  const pieces = 60;
  for (let i = 0; i < pieces; i += 1) {
    const px = x.from + (i / pieces) * (x.to - x.from);
    const py = y.from + (i / pieces) * (y.to - y.from);
    const step = (x.to - x.from) / pieces;
    boxes.push({ left: px, top: py - step, right: px + step, bottom: py });
  }
  return boxes;
}

function describe(points: readonly MarkedCondition[], accuracy: number | null): string {
  const said = points.map((one) => {
    const [from, to] = one.measuredInterval;
    const d = decimalsFor((to - from) / 2);
    const ratio = fixed(one.measured / one.predicted, 2);
    return `${one.name}: measured ${fixed(one.measured, d)} s, ${ratio} times the predicted one, ${verdictWords[one.verdict]}.`;
  });
  const [below, above] = bandOf(accuracy ?? 0);
  const band =
    accuracy === null
      ? ''
      : `The band is ±${fixed(100 * accuracy, 0)} % in h, ${fixed(100 * (below - 1), 0)} % to +${fixed(100 * (above - 1), 0)} % in the time constant.`;
  return `Logarithmic axes of one scale with the line of equality. ${band} ${said.join(' ')}`;
}
