import * as Plot from '@observablehq/plot';
import { element, label, polyline } from './markup.ts';
import { across, down, type Panel, type PanelBox, tickCount } from './panel.ts';
import { axes, axisNames, drawPanel, emptyPanel } from './panel-drawing.ts';
import { sizes, type Theme } from './theme.ts';
import { extent, sparse } from './thin.ts';
import type { CleanTrace, ErrorPoint } from './trace-data.ts';
import { decimalsFor, fixed, widthOf } from './words.ts';

/** Error fraction after one time constant: 1/e. */
const oneTimeConstant = Math.exp(-1);

/** Most points of the error fraction that are drawn. */
const mostPoints = 160;

/** What the panel shows of a recording, and where. */
interface ErrorFractionArea {
  readonly panel: Panel;
  readonly measured: readonly ErrorPoint[];
  readonly fitted: readonly ErrorPoint[];
}

/** The scales of ln of the error fraction over the window; null where there is nothing to draw. */
export function errorFractionArea(clean: CleanTrace, box: PanelBox): ErrorFractionArea | null {
  const [upper, lower] = clean.limits;
  const window = clean.segments.window;
  const length = window ? window.to - window.from : (extent(clean.points.map((p) => p.time))?.[1] ?? 0);
  const inside = clean.points.filter((p) => p.time <= length * 1.0001);
  const measured = inside.filter((p) => p.errorFraction > 0);
  const fitted = inside.filter((p) => p.fitted > 0);
  if (!(length > 0) || measured.length < 2) return null;
  const top = Math.log(upper);
  const foot = Math.log(lower);
  const room = top - foot;
  const reach = extent(measured.map((p) => Math.log(p.errorFraction))) ?? [foot, top];
  const y: [number, number] = [
    Math.max(Math.min(foot, reach[0]) - 0.08 * room, foot - 0.5 * room),
    Math.min(Math.max(top, reach[1]) + 0.08 * room, top + 0.5 * room),
  ];
  return { panel: { ...box, x: [0, length], y }, measured, fitted };
}

/**
 * ln of the error fraction against time from the start of the window: points, fit, the straight line of the
 * time constant with the slopes that its 95 % interval allows, the limits of the window and the 36.8 % point.
 *
 * @returns the markup, and the panel where there is something to draw
 */
export function errorFractionPanel(
  document: Document,
  theme: Theme,
  clean: CleanTrace,
  box: PanelBox,
): { readonly markup: string; readonly panel: Panel | null } {
  const area = errorFractionArea(clean, box);
  if (area === null) {
    return {
      markup: emptyPanel(
        theme,
        { ...box, x: [0, 1], y: [0, 1] },
        'no cooling from which an error fraction follows',
      ),
      panel: null,
    };
  }
  const { panel, measured, fitted } = area;
  const { y } = panel;
  const [upper, lower] = clean.limits;
  const within = (g: number) => Math.log(g) >= y[0] && Math.log(g) <= y[1];
  const start = openingOf(fitted[0], clean) ?? Math.log(upper);
  const marks: Plot.Markish[] = [
    ...axes(theme, panel, tickCount(panel), 5),
    ...levels(theme, panel, [upper, oneTimeConstant, lower]),
    ...slopes(theme, clean, panel, start),
    Plot.dot(
      sparse(measured, mostPoints).filter((p) => within(p.errorFraction)),
      {
        x: 'time',
        y: (p: ErrorPoint) => Math.log(p.errorFraction),
        r: 2.2,
        stroke: theme.air,
        strokeWidth: 1,
        fill: 'none',
        ariaDescription: 'measured error fraction',
      },
    ),
    Plot.line(
      sparse(fitted, mostPoints).filter((p) => within(p.fitted)),
      {
        x: 'time',
        y: (p: ErrorPoint) => Math.log(p.fitted),
        stroke: theme.ink,
        strokeWidth: 1.6,
        strokeDasharray: '5 4',
        strokeLinecap: 'butt',
        ariaDescription: 'fitted error fraction',
      },
    ),
  ];
  const markup = element(
    'g',
    { 'data-part': 'error fraction' },
    drawPanel(document, panel, marks),
    levelNames(theme, panel, upper, lower),
    crossing(theme, panel, fitted),
    slopeName(theme, clean, panel, start),
    axisNames(theme, panel, 'Time from the start of the window in s', 'ln of error fraction'),
  );
  return { markup, panel };
}

/** ln of the fitted error fraction at time 0, carried back where the fit starts later; null without a fit. */
function openingOf(first: ErrorPoint | undefined, { timeConstant }: CleanTrace): number | null {
  if (first === undefined) return null;
  return Math.log(first.fitted) + (timeConstant === null ? 0 : first.time / timeConstant.value);
}

function levels(theme: Theme, panel: Panel, fractions: readonly number[]): Plot.Markish[] {
  return fractions.map((fraction) =>
    Plot.link([0], {
      x1: panel.x[0],
      x2: panel.x[1],
      y1: Math.log(fraction),
      y2: Math.log(fraction),
      stroke: theme.tie,
      strokeWidth: 0.75,
      strokeDasharray: fraction === oneTimeConstant ? '1 3' : '6 4',
      ariaDescription: `error fraction ${fixed(fraction, 3)}`,
    }),
  );
}

/** The straight line of the time constant, and the fan of slopes within its 95 % interval. */
function slopes(theme: Theme, clean: CleanTrace, panel: Panel, start: number): Plot.Markish[] {
  const tc = clean.timeConstant;
  if (!tc) return [];
  const at = (tau: number) => (share: number) => Math.max(start - (share * panel.x[1]) / tau, panel.y[0]);
  const shares = Array.from({ length: 41 }, (_, k) => k / 40);
  const x = (share: number) => share * panel.x[1];
  // The line ends where it leaves the panel.
  const end = Math.min(1, ((start - panel.y[0]) * tc.value) / panel.x[1]);
  return [
    Plot.areaY(shares, {
      x,
      y1: at(tc.interval[0]),
      y2: at(tc.interval[1]),
      fill: theme.muted,
      fillOpacity: 0.3,
      ariaDescription: 'slopes within the 95 % interval',
    }),
    Plot.link([0], {
      x1: 0,
      y1: start,
      x2: end * panel.x[1],
      y2: at(tc.value)(end),
      stroke: theme.ink,
      strokeWidth: 0.8,
      ariaDescription: 'straight line of the time constant',
    }),
  ];
}

function levelNames(theme: Theme, panel: Panel, upper: number, lower: number): string {
  const right = panel.left + panel.width - 4;
  const name = (words: string, fraction: number, left: boolean) =>
    label(words, {
      x: left ? panel.left + 5 : right,
      y: down(panel, Math.log(fraction)) - 5,
      'text-anchor': left ? 'start' : 'end',
      fill: theme.muted,
    });
  const middle =
    upper > oneTimeConstant && lower < oneTimeConstant
      ? name('error fraction 0.368', oneTimeConstant, false)
      : '';
  return (
    name(`window opens at ${upper}`, upper, false) + middle + name(`window closes at ${lower}`, lower, true)
  );
}

/** A ring where the fit passes the 36.8 % point. */
function crossing(theme: Theme, panel: Panel, fitted: readonly ErrorPoint[]): string {
  const next = fitted.findIndex((p) => p.fitted <= oneTimeConstant);
  const before = fitted[next - 1];
  const after = fitted[next];
  if (!before || !after) return '';
  const share = (before.fitted - oneTimeConstant) / (before.fitted - after.fitted || 1);
  const x = across(panel, before.time + share * (after.time - before.time));
  const y = down(panel, -1);
  return (
    element('circle', {
      cx: x,
      cy: y,
      r: 5.5,
      fill: theme.paper,
      stroke: theme.ink,
      'stroke-width': 1.8,
      'data-part': '36.8 % point',
    }) + element('circle', { cx: x, cy: y, r: 1.4, fill: theme.ink })
  );
}

/** The slope in words, below the line, where the panel is empty. */
function slopeName(theme: Theme, clean: CleanTrace, panel: Panel, start: number): string {
  const tc = clean.timeConstant;
  if (!tc) return '';
  // One figure of the half-width, as a slope is read off and not computed with.
  const decimals = Math.max(decimalsFor((tc.interval[1] - tc.interval[0]) / 2) - 1, 0);
  const share = Math.min(0.3, (0.4 * (start - panel.y[0]) * tc.value) / panel.x[1]);
  const x = across(panel, share * panel.x[1]);
  const y = down(panel, start - (share * panel.x[1]) / tc.value);
  const words = `slope \u22121/(${fixed(tc.value, decimals)} s)`;
  const end = Math.max(x - 10, panel.left + 4 + widthOf(words, sizes.text));
  const tie = polyline([
    [x - 1, y + 3],
    [x - 12, y + 30],
  ]);
  return (
    element('path', { d: tie, stroke: theme.ink, 'stroke-width': 0.75 }) +
    label(words, { x: end, y: y + 42, 'text-anchor': 'end' })
  );
}
