import type { Remark, Span } from '../remark/index.ts';
import { errorFractionPanel } from './error-fraction.ts';
import { type FigureOptions, frame, themeOf } from './frame.ts';
import { type MarginNote, marginNotes } from './margin.ts';
import { element, label, polyline } from './markup.ts';
import { across, acrossWithin, down, emptyPanel, type Panel } from './panel.ts';
import { temperaturePanel } from './temperature.ts';
import { sizes, type Theme } from './theme.ts';
import { extent } from './thin.ts';
import { type CleanTrace, cleanSpan, cleanTrace, type TraceFigureData } from './trace-data.ts';
import { fixed, shorten, wrap } from './words.ts';

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
  const left = acrossWithin(from, window.from);
  const right = acrossWithin(from, window.to);
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
