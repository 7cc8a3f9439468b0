import * as Plot from '@observablehq/plot';
import type { Span } from '../remark/index.ts';
import { element, label, polyline } from './markup.ts';
import { across, acrossWithin, down, type Panel, tickCount } from './panel.ts';
import { axes, axisNames, drawPanel } from './panel-drawing.ts';
import { colourOf, hatch, ruler, type Stretch } from './ruler.ts';
import { sizes, type Theme } from './theme.ts';
import { type CleanTrace, fittedTemperature, segmentAt } from './trace-data.ts';
import { decimalsFor, fixed, widthOf } from './words.ts';

/**
 * Temperature against time: readings in the line of their part, the fitted curve, ambient, hot tail, peak, the
 * moment when the heat went off, and the parts named above.
 */
export function temperaturePanel(document: Document, theme: Theme, clean: CleanTrace, panel: Panel): string {
  const { segments, ambient } = clean;
  const marks: Plot.Markish[] = [...axes(theme, panel, tickCount(panel), 5)];
  if (ambient && isWithin(panel.y, ambient.value)) {
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
  parts.push(
    ambientName(theme, clean, panel),
    fittedName(theme, clean, panel),
    ...events(theme, clean, panel),
  );
  parts.push(rulers(theme, clean, panel), axisNames(theme, panel, 'Time in s', 'Temperature in °C'));
  return element('g', { 'data-part': 'temperature' }, ...parts);
}

function isWithin([low, high]: readonly [number, number], value: number): boolean {
  return value >= low && value <= high;
}

/** Panels below this width, px, have room for the ambient but not for its uncertainty. */
const narrow = 420;

/** Most single readings that are marked as such. */
const mostRaw = 600;

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
  if (clean.raw && curve.time.length <= mostRaw) marks.push(readings(theme, clean));
  return marks;
}

function readings(theme: Theme, { curve }: CleanTrace): Plot.Markish {
  return Plot.dot(
    curve.time.map((t, i): [number, number] => [t, curve.value[i] ?? 0]),
    { r: 2, stroke: theme.ink, strokeWidth: 0.9, fill: theme.paper, ariaDescription: 'single readings' },
  );
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

function fitSpan({ segments: { window, cooling }, view }: CleanTrace): Span | null {
  const whole = window ? { from: window.from, to: Math.max(window.to, cooling?.to ?? window.to) } : cooling;
  if (!whole || !view) return whole;
  const part = { from: Math.max(whole.from, view.from), to: Math.min(whole.to, view.to) };
  return part.to > part.from ? part : null;
}

function fittedName(theme: Theme, clean: CleanTrace, panel: Panel): string {
  const span = fitSpan(clean);
  if (!clean.fit || !span) return '';
  const t = span.from + 0.3 * (span.to - span.from);
  const x = acrossWithin(panel, t);
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

/** The ambient in words below its line, at the end that lies clear of the moment when the heat went off. */
function ambientName(theme: Theme, clean: CleanTrace, panel: Panel): string {
  const { ambient, segments } = clean;
  if (!ambient || !isWithin(panel.y, ambient.value)) return '';
  const decimals = decimalsFor(ambient.u);
  const u = ambient.u > 0 ? `, standard uncertainty ${fixed(ambient.u, decimals)} K` : '';
  const level = `ambient ${fixed(ambient.value, Math.min(decimals, 3))} °C`;
  const words = panel.width < narrow ? level : level + u;
  const off = segments.hotTail?.to ?? segments.heatOff ?? panel.x[0];
  const right = panel.left + panel.width - 2;
  const fits = right - acrossWithin(panel, off) > widthOf(words, sizes.text) + 6;
  return label(words, {
    x: fits ? right : panel.left + 4,
    y: down(panel, ambient.value) + 15,
    'text-anchor': fits ? 'end' : 'start',
    fill: theme.muted,
  });
}

function hotTail(theme: Theme, span: Span | null, panel: Panel): string {
  if (!span || !isSeen(span, panel)) return '';
  const left = acrossWithin(panel, span.from);
  const right = Math.max(acrossWithin(panel, span.to), left + 1);
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
        y: y - 9,
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
    span && isSeen(span, panel)
      ? [
          {
            name,
            kind,
            from: acrossWithin(panel, span.from),
            to: acrossWithin(panel, span.to),
            goesOn: clean.view ? [span.from < panel.x[0], span.to > panel.x[1]] : [false, false],
          },
        ]
      : [];
  const parts = [
    ...stretch('baseline', segments.baseline, 'still'),
    ...stretch('heating', segments.heating, 'heat'),
    ...stretch('hot tail', segments.hotTail, 'tail'),
    ...stretch('clean cooling', segments.cooling, 'air'),
  ];
  const right = panel.left + panel.width;
  const long = `window, error fraction ${limits[0]} to ${limits[1]}`;
  const name = widthOf(long, sizes.text, true) * 2 > panel.width ? 'window' : long;
  const window = stretch(name, segments.window, 'window');
  return (
    ruler(theme, parts, panel.top - 31, panel.left, right) +
    ruler(theme, window, panel.top - 4, panel.left, right)
  );
}

/** Whether any of a stretch lies in the time that the panel shows. */
function isSeen(span: Span, panel: Panel): boolean {
  return span.to >= panel.x[0] && span.from <= panel.x[1];
}
