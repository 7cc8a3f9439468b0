import { type LogAxis, logTicks, onLog } from './compared-scale.ts';
import { type Attributes, element, label, polyline } from './markup.ts';
import { sizes, type Theme } from './theme.ts';

/** A logarithmic horizontal axis below a panel, with its numbers. */
export function logAxisBelow(theme: Theme, axis: LogAxis, y: number): string {
  const line = element('path', {
    d: polyline([
      [axis.from, y],
      [axis.to, y],
    ]),
    stroke: theme.tie,
    'data-part': 'horizontal axis',
  });
  const ticks = logTicks(axis, 30).map(({ value, text }) => {
    const x = onLog(axis, value);
    const tick = element('path', {
      d: polyline([
        [x, y],
        [x, y + (text === null ? 3 : 5)],
      ]),
      stroke: theme.tie,
    });
    if (text === null) return tick;
    return (
      tick +
      label(text, { x, y: y + 17, 'text-anchor': 'middle', fill: theme.muted, 'font-size': sizes.small })
    );
  });
  return line + ticks.join('');
}

/** A logarithmic vertical axis at the left of a panel, with its numbers. */
export function logAxisAside(theme: Theme, axis: LogAxis, x: number): string {
  const line = element('path', {
    d: polyline([
      [x, axis.from],
      [x, axis.to],
    ]),
    stroke: theme.tie,
    'data-part': 'vertical axis',
  });
  const ticks = logTicks(axis, 18).map(({ value, text }) => {
    const y = onLog(axis, value);
    const tick = element('path', {
      d: polyline([
        [x - (text === null ? 3 : 5), y],
        [x, y],
      ]),
      stroke: theme.tie,
    });
    if (text === null) return tick;
    return (
      tick +
      label(text, { x: x - 8, y: y + 4, 'text-anchor': 'end', fill: theme.muted, 'font-size': sizes.small })
    );
  });
  return line + ticks.join('');
}

/** An interval as a level or upright line with its ends; an end that is open has a point instead. */
export function intervalBar(
  stroke: string,
  thickness: number,
  along: 'x' | 'y',
  at: number,
  from: number,
  to: number,
  half: number,
  open = false,
  name?: string,
): string {
  const point = (a: number, b: number): [number, number] => (along === 'x' ? [a, b] : [b, a]);
  const way = Math.sign(to - from) || 1;
  const end = open
    ? polyline([point(to - way * 6, at - half - 1), point(to, at), point(to - way * 6, at + half + 1)])
    : polyline([point(to, at - half), point(to, at + half)]);
  return element('path', {
    d:
      polyline([point(from, at), point(to, at)]) +
      polyline([point(from, at - half), point(from, at + half)]) +
      end,
    stroke,
    'stroke-width': thickness,
    fill: 'none',
    'data-part': name,
  });
}

/** Attributes of a name that lies over lines: its letters keep a rim of paper. */
export function halo(theme: Theme): Attributes {
  return { stroke: theme.paper, 'stroke-width': 3, 'stroke-linejoin': 'round', 'paint-order': 'stroke' };
}
