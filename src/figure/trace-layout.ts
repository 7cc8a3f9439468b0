import type { Span } from '../remark/index.ts';
import { errorFractionArea } from './error-fraction.ts';
import { type Sheet, type SizeOptions, sheetOf } from './frame.ts';
import type { MarginColumn, MarginNote } from './margin.ts';
import { across, down, type Panel, type PanelBox } from './panel.ts';
import { sizes } from './theme.ts';
import { extent } from './thin.ts';
import {
  type CleanTrace,
  type CloseReadings,
  cleanSpan,
  cleanTrace,
  type FigureRemark,
  type TraceFigureData,
  viewTrace,
} from './trace-data.ts';
import { wrap } from './words.ts';

/** What of a recording is shown, and how it is set out. */
export interface TraceShape extends SizeOptions {
  /** The stretch of time in the upper panel, s from the first sample; the whole recording where left out. */
  readonly view?: Span | null;
  /** Readings for that stretch, closer together than those of the whole recording. */
  readonly readings?: CloseReadings | null;
  /**
   * Where the remarks stand: in the margin, each tied to its place; below, with numbers at their places; or
   * only the numbers, and the words are left to the page. In the margin where there is room for it.
   */
  readonly notes?: 'margin' | 'below' | 'numbers';
  /** Whether name, result and verdict stand above; they do where this is left out. */
  readonly heading?: boolean;
}

/** Where things stand in the figure of a recording, px as shown. */
export interface TraceLayout {
  readonly width: number;
  readonly height: number;
  /** Temperature, °C, against time from the first sample, s; null where nothing can be drawn. */
  readonly upper: Panel | null;
  /** ln of the error fraction against time from the start of the window, s. */
  readonly lower: Panel | null;
  /** The place of each remark, in their order; null for those without. */
  readonly places: readonly (readonly [number, number] | null)[];
}

/** Everything about the figure that is decided before it is drawn, px before the scale. */
export interface TracePlan {
  readonly sheet: Sheet;
  readonly height: number;
  readonly whole: CleanTrace;
  /** What is in view. */
  readonly seen: CleanTrace;
  readonly upperBox: PanelBox;
  readonly lowerBox: PanelBox;
  readonly upper: Panel | null;
  readonly lower: Panel | null;
  readonly heading: TraceHeading | null;
  readonly notes: readonly MarginNote[];
  readonly notesAre: 'margin' | 'below' | 'numbers';
  readonly margin: MarginColumn;
}

/** Room for the heading: the verdict stands in the margin or below the result. */
export interface TraceHeading {
  readonly width: number;
  readonly headline: readonly string[];
  readonly verdict: readonly string[];
  readonly verdictAt: readonly [number, number];
}

/** Remarks that are about the shape of the cooling, and so stand beside the lower panel. */
const aboutShape: ReadonlySet<string> = new Set(['not-first-order', 'adequacy-untested']);

const usualWidth = 960;
/** From this width on there is room for a margin, px. */
const marginFrom = 820;
/** Left of the panels: numbers and name of the vertical axis, px. */
const axisRoom = 62;
/** Above the upper panel: two levels of named stretches, px. */
const rulerRoom = 70;
/** Between the panels: axis, its name, and room for the window to widen, px. */
const between = 82;

/**
 * Where the panels of `traceFigure` stand and what they span, for the same data and shape: the ground for
 * handles that are laid over the figure.
 */
export function traceLayout(data: TraceFigureData, shape: TraceShape = {}): TraceLayout {
  const plan = planTrace(data, shape);
  const { scale } = plan.sheet;
  return {
    width: plan.sheet.width * scale,
    height: plan.height * scale,
    upper: scaled(plan.upper, scale),
    lower: scaled(plan.lower, scale),
    places: plan.notes.map(({ place }) => (place === null ? null : [place[0] * scale, place[1] * scale])),
  };
}

function scaled(panel: Panel | null, scale: number): Panel | null {
  if (panel === null) return null;
  const { left, top, width, height } = panel;
  return { ...panel, left: left * scale, top: top * scale, width: width * scale, height: height * scale };
}

/** Sets out the figure; notes below are not yet counted in its height. */
export function planTrace(data: TraceFigureData, shape: TraceShape): TracePlan {
  const sheet = sheetOf(shape, usualWidth);
  const { width } = sheet;
  const notesAre = shape.notes ?? (width >= marginFrom ? 'margin' : 'below');
  const beside = notesAre === 'margin';
  const marginWidth = beside ? Math.min(Math.max(212 + 0.25 * (width - usualWidth), 190), 320) : 0;
  const left = width < 480 ? axisRoom - 8 : axisRoom;
  const panelWidth = beside ? width - left - marginWidth - 52 : width - left - 14;
  const heading = shape.heading === false ? null : headingOf(data, width, beside ? marginWidth : null);
  const top =
    rulerRoom +
    (heading === null ? 0 : beside ? 60 : heading.verdictAt[1] + 18 * heading.verdict.length - 12);
  const tall = Math.min(Math.max(width / usualWidth, 0.88), 1.4);
  const upperBox = { left, top, width: panelWidth, height: Math.round(250 * tall) };
  const lowerBox = {
    left,
    top: top + upperBox.height + between,
    width: panelWidth,
    height: Math.round(200 * tall),
  };
  const height = lowerBox.top + lowerBox.height + 50;
  const whole = cleanTrace(data);
  const seen = viewTrace(whole, shape.view ?? null, shape.readings ?? null);
  const upper = upperPanel(seen, upperBox);
  const lower = errorFractionArea(whole, lowerBox)?.panel ?? null;
  return {
    sheet,
    height,
    whole,
    seen,
    upperBox,
    lowerBox,
    upper,
    lower,
    heading,
    notes: upper === null ? [] : data.remarks.map((r, i) => place(r, i, seen, upper, lower)),
    notesAre,
    margin: {
      left: beside ? width - marginWidth - 20 : 20,
      width: beside ? marginWidth : width - 40,
      top: beside ? top - 10 - (heading === null ? 46 : 0) : height,
      bottom: height - 16,
    },
  };
}

function headingOf(data: TraceFigureData, width: number, margin: number | null): TraceHeading {
  if (margin !== null) {
    const room = width - margin - 20 - axisRoom - 60;
    return {
      width: room,
      headline: wrap(data.headline, room, sizes.headline, 1, true),
      verdict: wrap(data.verdict, margin, sizes.title, 4, true),
      verdictAt: [width - margin - 20, 27],
    };
  }
  const headline = wrap(data.headline, width - 40, sizes.headline, 3, true);
  return {
    width: width - 40,
    headline,
    verdict: wrap(data.verdict, width - 40, sizes.title, 4, true),
    verdictAt: [20, 54 + 25 * headline.length],
  };
}

function upperPanel(seen: CleanTrace, box: PanelBox): Panel | null {
  const x = timeSpan(seen);
  const y = extent(temperatures(seen));
  if (!x || !y) return null;
  return { ...box, x, y: [y[0] - 0.14 * (y[1] - y[0]), y[1] + 0.14 * (y[1] - y[0])] };
}

/** Time from the recording's start, even if the first point drawn stands for a stretch after it. */
function timeSpan(clean: CleanTrace): readonly [number, number] | null {
  if (clean.view) return [clean.view.from, clean.view.to];
  const x = extent(clean.curve.time);
  return x && x[0] > 0 && x[0] < 0.01 * x[1] ? [0, x[1]] : x;
}

/** Where a remark belongs: in the middle of what it is about, a little aside for each one before it. */
function place(
  remark: FigureRemark,
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
  return [
    ...clean.curve.low,
    ...clean.curve.high,
    ...(clean.ambient && !clean.view ? [clean.ambient.value] : []),
  ];
}

function clampDown(y: number, panel: Panel): number {
  return Math.min(Math.max(y, panel.top), panel.top + panel.height);
}
