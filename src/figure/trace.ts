import type { Span } from '../remark/index.ts';
import { errorFractionPanel } from './error-fraction.ts';
import { type FigureOptions, frameSheet, themeOf } from './frame.ts';
import { marginNotes, notesBelow, numberedPlaces } from './margin.ts';
import { element, label, polyline } from './markup.ts';
import { acrossWithin, type Panel } from './panel.ts';
import { emptyPanel } from './panel-drawing.ts';
import { temperaturePanel } from './temperature.ts';
import { sizes, type Theme } from './theme.ts';
import type { CleanTrace, TraceFigureData } from './trace-data.ts';
import { planTrace, type TraceHeading, type TraceShape } from './trace-layout.ts';
import { fixed, shorten } from './words.ts';

/** How the figure of a recording is drawn. */
export interface TraceFigureOptions extends FigureOptions, TraceShape {}

/**
 * The figure of one recording: temperature against time with its parts named, below it ln of the error
 * fraction in the window, and beside both the remarks, each tied to its place.
 *
 * Parts that are missing are left out, and an empty panel says what is missing. Names and texts may hold
 * anything. The same data and options give the same bytes.
 *
 * @returns SVG text, 960 × 712 px unless the options ask for another size
 */
export function traceFigure(data: TraceFigureData, options: TraceFigureOptions): string {
  const theme = themeOf(options);
  const plan = planTrace(data, options);
  const { upper, notes, margin } = plan;
  const below = errorFractionPanel(options.document, theme, plan.whole, plan.lowerBox);
  const top = upper
    ? temperaturePanel(options.document, theme, plan.seen, upper)
    : emptyPanel(theme, { ...plan.upperBox, x: [0, 1], y: [0, 1] }, 'no readings that can be drawn');
  const list =
    plan.notesAre === 'below' ? notesBelow(theme, notes, { ...margin, top: plan.height }) : nothingBelow;
  return frameSheet(
    theme,
    plan.sheet,
    plan.height + list.height,
    `Recording ${data.name}`,
    describe(data, plan.whole),
    plan.heading ? heading(theme, data, plan.heading) : '',
    upper ? funnel(theme, plan.whole.segments.window, upper, below.panel) : '',
    top,
    below.markup,
    plan.notesAre === 'margin' ? marginNotes(theme, notes, margin) : numberedPlaces(theme, notes),
    list.markup,
  );
}

const nothingBelow = { markup: '', height: 0 } as const;

function heading(theme: Theme, data: TraceFigureData, room: TraceHeading): string {
  const [x, y] = room.verdictAt;
  return (
    label(shorten(data.name, room.width, sizes.title), {
      x: 20,
      y: 27,
      'font-size': sizes.title,
      fill: theme.muted,
    }) +
    room.headline
      .map((line, i) =>
        label(line, { x: 20, y: 54 + 25 * i, 'font-size': sizes.headline, 'font-weight': 600 }),
      )
      .join('') +
    room.verdict
      .map((line, i) => label(line, { x, y: y + 18 * i, 'font-size': sizes.title, 'font-weight': 600 }))
      .join('')
  );
}

/** The window widens from its place in the upper panel to the whole width of the lower one. */
function funnel(theme: Theme, window: Span | null, from: Panel, to: Panel | null): string {
  if (!window || window.to < from.x[0] || window.from > from.x[1]) return '';
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
