import * as Plot from '@observablehq/plot';
import type { Remark, Span } from '../remark/index.ts';
import { errorFractionPanel } from './error-fraction.ts';
import { type FigureOptions, frame, themeOf } from './frame.ts';
import { type MarginNote, marginNotes } from './margin.ts';
import { element, label, polyline } from './markup.ts';
import { across, axes, axisNames, down, drawPanel, emptyPanel, type Panel } from './panel.ts';
import { colourOf, hatch, ruler, type Stretch } from './ruler.ts';
import { sizes, type Theme } from './theme.ts';
import { extent } from './thin.ts';
import {
  type CleanTrace,
  cleanSpan,
  cleanTrace,
  fittedTemperature,
  segmentAt,
  type TraceFigureData,
} from './trace-data.ts';
import { decimalsFor, fixed, shorten, wrap } from './words.ts';

const width = 960;
const height = 712;
const margin = { left: 728, width: 212, top: 120, bottom: 696 };
const upper = { left: 62, top: 130, width: 634, height: 250 };
const lower = { left: 62, top: 462, width: 634, height: 200 };

/** Remarks that are about the shape of the cooling, and so stand beside the lower panel. */
const aboutShape: ReadonlySet<string> = new Set(['not-first-order', 'adequacy-untested']);

/**
 * The figure of one recording: temperature against time with its parts named, below it ln of the error
 * fraction in the window, and beside both the remarks, each tied to its place.
 *
 * Parts that are missing are left out, and an empty panel says what is missing. Names and texts may hold
 * anything. The same data give the same bytes.
 *
 * @returns SVG text, 960 × 712 px
 */
export function traceFigure(data: TraceFigureData, options: FigureOptions): string {
  const theme = themeOf(options);
  const clean = cleanTrace(data);
  const x = timeSpan(clean);
  const y = extent(temperatures(clean));
  const panel: Panel | null =
    x && y ? { ...upper, x, y: [y[0] - 0.14 * (y[1] - y[0]), y[1] + 0.14 * (y[1] - y[0])] } : null;
  const below = errorFractionPanel(options.document, theme, clean, lower);
  const top = panel
    ? temperaturePanel(options.document, theme, clean, panel)
    : emptyPanel(theme, { ...upper, x: [0, 1], y: [0, 1] }, 'no readings that can be drawn');
  const notes = panel ? data.remarks.map((r, i) => place(r, i, clean, panel, below.panel)) : [];
  return frame(
    theme,
    width,
    height,
    `Recording ${data.name}`,
    describe(data, clean),
    heading(theme, data),
    panel ? funnel(theme, clean.segments.window, panel, below.panel) : '',
    top,
    below.markup,
    marginNotes(theme, notes, margin),
  );
}

function heading(theme: Theme, data: TraceFigureData): string {
  const room = margin.left - upper.left - 60;
  const verdict = wrap(data.verdict, margin.width, sizes.title, 4, true);
  return (
    label(shorten(data.name, room, sizes.title), {
      x: 20,
      y: 27,
      'font-size': sizes.title,
      fill: theme.muted,
    }) +
    label(shorten(data.headline, room, sizes.headline, true), {
      x: 20,
      y: 54,
      'font-size': sizes.headline,
      'font-weight': 600,
    }) +
    verdict
      .map((line, i) =>
        label(line, { x: margin.left, y: 27 + 18 * i, 'font-size': sizes.title, 'font-weight': 600 }),
      )
      .join('')
  );
}

/** The window widens from its place in the upper panel to the whole width of the lower one. */
function funnel(theme: Theme, window: Span | null, from: Panel, to: Panel | null): string {
  if (!window) return '';
  const left = clamp(across(from, window.from), from);
  const right = clamp(across(from, window.to), from);
  const foot = from.top + from.height;
  const shade = element('rect', {
    x: left,
    y: from.top,
    width: right - left,
    height: from.height,
    fill: theme.wash,
    'data-part': 'window',
  });
  if (!to) return shade;
  const sides: [number, number][] = [
    [left, foot],
    [right, foot],
    [to.left + to.width, to.top],
    [to.left + to.width, to.top + to.height],
    [to.left, to.top + to.height],
    [to.left, to.top],
  ];
  return shade + element('path', { d: `${polyline(sides)}Z`, fill: theme.wash });
}

function temperaturePanel(document: Document, theme: Theme, clean: CleanTrace, panel: Panel): string {
  const { segments, ambient } = clean;
  const marks: Plot.Markish[] = [...axes(theme, panel, 8, 5)];
  if (ambient) {
    marks.push(
      Plot.link([0], {
        x1: panel.x[0],
        x2: panel.x[1],
        y1: ambient.value,
        y2: ambient.value,
        stroke: theme.tie,
        strokeDasharray: '10 3 2 3',
        ariaDescription: 'ambient',
      }),
    );
  }
  marks.push(...measured(theme, clean), ...fitted(theme, clean, panel));
  const parts = [hotTail(theme, segments.hotTail, panel), drawPanel(document, panel, marks)];
  if (ambient) parts.push(ambientName(theme, ambient, panel));
  parts.push(fittedName(theme, clean, panel), ...events(theme, clean, panel));
  parts.push(rulers(theme, clean, panel), axisNames(theme, panel, 'Time in s', 'Temperature in °C'));
  return element('g', { 'data-part': 'temperature' }, ...parts);
}

/** The cooling is drawn wide and pale, so that the fitted curve is seen within it. */
const lineWidths = { still: 1.3, heat: 2.2, tail: 2.2, air: 4.5, window: 4.5 } as const;

/** The readings, each part in the line of its kind, over the reach of the readings behind each point. */
function measured(theme: Theme, clean: CleanTrace): Plot.Markish[] {
  const { curve, segments } = clean;
  const marks: Plot.Markish[] = [];
  let from = 0;
  for (let i = 1; i <= curve.time.length; i++) {
    const kind = kindAt(clean, curve.time[from] ?? 0);
    if (i < curve.time.length && kindAt(clean, curve.time[i] ?? 0) === kind) continue;
    // Neighbouring parts share a point, so that the line has no breaks.
    const run = Array.from({ length: Math.min(i + 1, curve.time.length) - from }, (_, k) => from + k);
    const time = (k: number) => curve.time[k] ?? 0;
    const stroke = colourOf(theme, kind);
    marks.push(
      Plot.areaY(run, {
        x: time,
        y1: (k: number) => curve.low[k] ?? 0,
        y2: (k: number) => curve.high[k] ?? 0,
        fill: stroke,
        fillOpacity: 0.22,
      }),
      Plot.line(run, {
        x: time,
        y: (k: number) => curve.value[k] ?? 0,
        stroke,
        strokeWidth: lineWidths[kind],
        strokeOpacity: kind === 'air' ? 0.5 : 1,
        ...(kind === 'heat' || kind === 'tail' ? { strokeDasharray: '7 2.5', strokeLinecap: 'butt' } : {}),
        ariaDescription: `measured, ${segmentAt(segments, time(from)) ?? 'other'}`,
      }),
    );
    from = i;
  }
  return marks;
}

function kindAt(clean: CleanTrace, time: number): Stretch['kind'] {
  switch (segmentAt(clean.segments, time)) {
    case 'window':
    case 'cooling':
      return 'air';
    case 'heating':
      return 'heat';
    case 'hot tail':
      return 'tail';
    default:
      return 'still';
  }
}

/** The fitted curve over the window and on to the end of the cooling. */
function fitted(theme: Theme, clean: CleanTrace, panel: Panel): Plot.Markish[] {
  const span = fitSpan(clean);
  const fit = clean.fit;
  if (!fit || !span) return [];
  const times = Array.from({ length: 121 }, (_, k) => span.from + ((span.to - span.from) * k) / 120);
  const points = times
    .map((t): [number, number] => [t, fittedTemperature(fit, t)])
    .filter(([t, v]) => v >= panel.y[0] && v <= panel.y[1] && t >= panel.x[0] && t <= panel.x[1]);
  return [
    Plot.line(points, {
      stroke: theme.ink,
      strokeWidth: 1.6,
      strokeDasharray: '5 4',
      strokeLinecap: 'butt',
      ariaDescription: 'fitted curve',
    }),
  ];
}

function fitSpan(clean: CleanTrace): Span | null {
  const { window, cooling } = clean.segments;
  if (!window) return cooling;
  return { from: window.from, to: Math.max(window.to, cooling?.to ?? window.to) };
}

function fittedName(theme: Theme, clean: CleanTrace, panel: Panel): string {
  const span = fitSpan(clean);
  if (!clean.fit || !span) return '';
  const t = span.from + 0.3 * (span.to - span.from);
  const x = clamp(across(panel, t), panel);
  const y = down(panel, fittedTemperature(clean.fit, t));
  if (y < panel.top + 20 || y > panel.top + panel.height || x > panel.left + panel.width - 110) return '';
  return (
    element('path', {
      d: polyline([
        [x + 2, y - 2],
        [x + 16, y - 14],
      ]),
      stroke: theme.ink,
      'stroke-width': 0.75,
    }) + label('fitted curve', { x: x + 19, y: y - 13 })
  );
}

function ambientName(theme: Theme, ambient: { value: number; u: number }, panel: Panel): string {
  const decimals = decimalsFor(ambient.u);
  const u = ambient.u > 0 ? `, standard uncertainty ${fixed(ambient.u, decimals)} K` : '';
  return label(`ambient ${fixed(ambient.value, Math.min(decimals, 3))} °C${u}`, {
    x: panel.left + panel.width - 2,
    y: down(panel, ambient.value) + 15,
    'text-anchor': 'end',
    fill: theme.muted,
  });
}

function hotTail(theme: Theme, span: Span | null, panel: Panel): string {
  if (!span) return '';
  const left = clamp(across(panel, span.from), panel);
  const right = Math.max(clamp(across(panel, span.to), panel), left + 1);
  return element('path', {
    d:
      hatch(left, panel.top, right - left, panel.height, 5) ||
      polyline([
        [left, panel.top],
        [left, panel.top + panel.height],
      ]),
    stroke: theme.heat,
    'stroke-width': 0.8,
    'stroke-opacity': 0.75,
    fill: 'none',
    'data-part': 'hot tail',
  });
}

/** The moment when the heat went off, and the peak. */
function events(theme: Theme, clean: CleanTrace, panel: Panel): string[] {
  const { heatOff, peak } = clean.segments;
  const parts: string[] = [];
  if (heatOff !== null && heatOff >= panel.x[0] && heatOff <= panel.x[1]) {
    const x = across(panel, heatOff);
    const foot = panel.top + panel.height;
    parts.push(
      element('path', {
        d: polyline([
          [x, panel.top],
          [x, foot],
        ]),
        stroke: theme.heat,
        'stroke-dasharray': '1 3',
        'data-part': 'heat off',
      }),
      label('heat off', {
        x: x > panel.left + 60 ? x - 5 : x + 5,
        y: foot - 6,
        'text-anchor': x > panel.left + 60 ? 'end' : 'start',
        fill: theme.heat,
      }),
    );
  }
  if (peak && peak.time >= panel.x[0] && peak.time <= panel.x[1]) {
    const x = across(panel, peak.time);
    const y = down(panel, peak.temperature);
    if (y < panel.top || y > panel.top + panel.height) return parts;
    const toLeft = x > panel.left + 90;
    parts.push(
      element('path', {
        d: `${polyline([
          [x, y - 3],
          [x - 4, y - 10],
          [x + 4, y - 10],
        ])}Z`,
        fill: theme.heat,
      }),
      label(`peak ${fixed(peak.temperature, 1)} °C`, {
        x: toLeft ? x - 8 : x + 8,
        y: y - 3,
        'text-anchor': toLeft ? 'end' : 'start',
        fill: theme.heat,
      }),
    );
  }
  return parts;
}

function rulers(theme: Theme, clean: CleanTrace, panel: Panel): string {
  const { segments, limits } = clean;
  const stretch = (name: string, span: Span | null, kind: Stretch['kind']): Stretch[] =>
    span
      ? [
          {
            name,
            kind,
            from: clamp(across(panel, span.from), panel),
            to: clamp(across(panel, span.to), panel),
          },
        ]
      : [];
  const parts = [
    ...stretch('baseline', segments.baseline, 'still'),
    ...stretch('heating', segments.heating, 'heat'),
    ...stretch('hot tail', segments.hotTail, 'tail'),
    ...stretch('clean cooling', segments.cooling, 'air'),
  ];
  const window = stretch(`window, error fraction ${limits[0]} to ${limits[1]}`, segments.window, 'window');
  const right = panel.left + panel.width;
  return (
    ruler(theme, parts, panel.top - 31, panel.left, right) +
    ruler(theme, window, panel.top - 4, panel.left, right)
  );
}

/** Time from the recording's start, even if the first point drawn stands for a stretch after it. */
function timeSpan(clean: CleanTrace): readonly [number, number] | null {
  const x = extent(clean.curve.time);
  return x && x[0] > 0 && x[0] < 0.01 * x[1] ? [0, x[1]] : x;
}

/** Where a remark belongs: in the middle of what it is about, a little aside for each one before it. */
function place(
  remark: Remark,
  index: number,
  clean: CleanTrace,
  panel: Panel,
  shape: Panel | null,
): MarginNote {
  const span = cleanSpan(remark.at);
  if (!span || span.to < panel.x[0] || span.from > panel.x[1])
    return { remark, place: null, level: null, zone: 2 };
  const share = [0.5, 0.35, 0.65, 0.25, 0.75][index % 5] ?? 0.5;
  const window = clean.segments.window;
  if (shape && window && aboutShape.has(remark.code)) {
    const at = shape.x[0] + (shape.x[1] - shape.x[0]) * (0.5 + share / 3);
    const points = clean.points;
    const near = points.find((p) => p.time >= at) ?? points.at(-1);
    const y = near ? clampDown(down(shape, Math.log(near.fitted)), shape) : shape.top;
    return { remark, place: [across(shape, at), y], level: y, zone: 1 };
  }
  const from = Math.max(span.from, panel.x[0]);
  const to = Math.min(span.to, panel.x[1]);
  const t = from + share * (to - from);
  const y = down(panel, valueAt(clean, t));
  const beforePeak = t <= (clean.segments.peak?.time ?? clean.segments.heatOff ?? panel.x[0]);
  return { remark, place: [across(panel, t), y], level: beforePeak ? panel.top + 7 : y, zone: 0 };
}

function valueAt(clean: CleanTrace, time: number): number {
  const { curve } = clean;
  const i = curve.time.findIndex((t) => t >= time);
  return curve.value[i === -1 ? curve.value.length - 1 : i] ?? 0;
}

function temperatures(clean: CleanTrace): number[] {
  return [...clean.curve.low, ...clean.curve.high, ...(clean.ambient ? [clean.ambient.value] : [])];
}

function clamp(x: number, panel: Panel): number {
  return Math.min(Math.max(x, panel.left), panel.left + panel.width);
}

function clampDown(y: number, panel: Panel): number {
  return Math.min(Math.max(y, panel.top), panel.top + panel.height);
}

function describe(data: TraceFigureData, clean: CleanTrace): string {
  const s = clean.segments;
  const parts: string[] = [];
  const say = (name: string, span: Span | null) =>
    span
      ? parts.push(`${name} ${fixed(span.from, 1)} s to ${fixed(span.to, 1)} s`)
      : parts.push(`no ${name}`);
  say('baseline', s.baseline);
  say('heating', s.heating);
  say('hot tail', s.hotTail);
  say('clean cooling', s.cooling);
  say('window', s.window);
  const said = data.remarks.map((r) => `${r.message} ${r.action}`).join(' ');
  return `${data.headline}. ${data.verdict}. Upper panel: temperature against time; ${parts.join(', ')}. Lower panel: natural logarithm of the error fraction against time from the start of the window, with the fit and a straight line. ${said}`;
}
