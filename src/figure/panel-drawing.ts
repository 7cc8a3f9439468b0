import * as Plot from '@observablehq/plot';
import { element, label, serializeChildren } from './markup.ts';
import type { Panel } from './panel.ts';
import { sizes, type Theme } from './theme.ts';
import { fixed, roundTicks } from './words.ts';

/** Draws marks on a panel. Marks outside the panel's spans are the caller's to leave out: nothing is clipped. */
export function drawPanel(document: Document, panel: Panel, marks: readonly Plot.Markish[]): string {
  const plot = Plot.plot({
    document,
    width: panel.width,
    height: panel.height,
    margin: 0,
    x: { type: 'linear', domain: [...panel.x], range: [0, panel.width], axis: null },
    y: { type: 'linear', domain: [...panel.y], range: [panel.height, 0], axis: null },
    marks: [...marks],
  });
  return element(
    'g',
    { transform: `translate(${panel.left},${panel.top})`, 'text-anchor': 'middle', 'font-size': sizes.small },
    serializeChildren(plot),
  );
}

/** Ticks and numbers along the bottom and the left, without frames or grids. */
export function axes(theme: Theme, panel: Panel, xCount: number, yCount: number): Plot.Markish[] {
  const x = roundTicks(panel.x[0], panel.x[1], xCount);
  const y = roundTicks(panel.y[0], panel.y[1], yCount);
  const shared = { color: theme.muted, tickSize: 4, tickPadding: 4, label: null, fontSize: sizes.small };
  return [
    Plot.axisX([...x.values], {
      ...shared,
      anchor: 'bottom',
      stroke: theme.tie,
      tickFormat: (v: number) => fixed(v, x.decimals),
    }),
    Plot.axisY([...y.values], {
      ...shared,
      anchor: 'left',
      stroke: theme.tie,
      tickFormat: (v: number) => fixed(v, y.decimals),
    }),
    Plot.link([0], {
      x1: panel.x[0],
      x2: panel.x[1],
      y1: panel.y[0],
      y2: panel.y[0],
      stroke: theme.tie,
      ariaDescription: 'horizontal axis',
    }),
  ];
}

/** Names of the axes: the vertical one stands along its axis, the horizontal one ends below its right end. */
export function axisNames(theme: Theme, panel: Panel, x: string, y: string): string {
  const middle = panel.top + panel.height / 2;
  return (
    label(y, {
      transform: `translate(${panel.left - 42},${middle}) rotate(-90)`,
      'text-anchor': 'middle',
      fill: theme.muted,
    }) +
    label(x, {
      x: panel.left + panel.width,
      y: panel.top + panel.height + 32,
      'text-anchor': 'end',
      fill: theme.muted,
    })
  );
}

/** A line of text in the middle of an empty panel. */
export function emptyPanel(theme: Theme, panel: Panel, words: string): string {
  return (
    element('rect', {
      x: panel.left,
      y: panel.top,
      width: panel.width,
      height: panel.height,
      fill: 'none',
      stroke: theme.tie,
      'stroke-dasharray': '2 4',
    }) +
    label(words, {
      x: panel.left + panel.width / 2,
      y: panel.top + panel.height / 2 + 4,
      'text-anchor': 'middle',
      fill: theme.muted,
    })
  );
}
