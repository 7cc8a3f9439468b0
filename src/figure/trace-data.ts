import type { Severity, Span } from '../remark/index.ts';
import type { FigureTable } from './table.ts';
import { type Curve, drawable, sparse, type ThinCurve, thinCurve } from './thin.ts';

/** Everything that the figure of one recording shows. Times in s from the first sample, temperatures in °C. */
export interface TraceFigureData {
  readonly name: string;
  /** The result in words, rounded for print: 'Time constant 37.3 ± 0.4 s'. */
  readonly headline: string;
  /** The verdict in words: 'usable', 'repeat: cooling cut at 0.31'. */
  readonly verdict: string;
  /** Temperature against time, best thinned to at most 2000 points. */
  readonly time: ArrayLike<number>;
  readonly temperature: ArrayLike<number>;
  /** Extremes of the readings behind each point. */
  readonly envelope?: { readonly low: ArrayLike<number>; readonly high: ArrayLike<number> };
  readonly segments: TraceSegments;
  /** Ambient and its standard uncertainty, K. */
  readonly ambient: { readonly value: number; readonly u: number } | null;
  /** Cooling curve a + c (t − tb) + b exp(−(t − tStart)/tau), t from the first sample. */
  readonly fit: CoolingFit | null;
  /** The time constant reported, s, with the ends of its 95 % interval. */
  readonly timeConstant: { readonly value: number; readonly interval: readonly [number, number] } | null;
  /** Error fractions between which the window lies, the larger first. */
  readonly limits: readonly [number, number];
  /** Error fraction as measured (block means) and as fitted; time in s from the start of the window. */
  readonly points: readonly ErrorPoint[];
  readonly remarks: readonly FigureRemark[];
}

/** A remark as a figure writes it: any code will do, as it comes from stored results too. */
export interface FigureRemark {
  readonly code: string;
  readonly severity: Severity;
  readonly message: string;
  readonly action: string;
  readonly at?: Span | undefined;
}

/** The parts of the recording, null where it does not have them. */
export interface TraceSegments {
  readonly baseline: Span | null;
  readonly heating: Span | null;
  readonly hotTail: Span | null;
  readonly cooling: Span | null;
  /** The stretch from which the time constant comes. */
  readonly window: Span | null;
  readonly heatOff: number | null;
  readonly peak: { readonly time: number; readonly temperature: number } | null;
}

/** The fitted exponential as figures draw it: s, °C. */
export interface CoolingFit {
  /** Where the exponential has the height b, s. */
  readonly tStart: number;
  /** Final temperature, °C. */
  readonly a: number;
  /** Height of the exponential, K. */
  readonly b: number;
  /** Drift, K/s, about the time tb, s. */
  readonly c: number;
  readonly tb: number;
  /** s, > 0 */
  readonly tau: number;
}

/** A block of the cooling by its error fraction. */
export interface ErrorPoint {
  readonly time: number;
  readonly errorFraction: number;
  readonly fitted: number;
}

/** Most points of the curve that are drawn. */
const mostPoints = 2000;

/** The data with everything left out that cannot be drawn: numbers that are not finite, spans without length. */
export interface CleanTrace {
  readonly curve: ThinCurve;
  readonly segments: TraceSegments;
  readonly ambient: TraceFigureData['ambient'];
  readonly fit: CoolingFit | null;
  readonly timeConstant: TraceFigureData['timeConstant'];
  readonly limits: readonly [number, number];
  readonly points: readonly ErrorPoint[];
  /** The stretch of time that is looked at, s; null for the whole recording. */
  readonly view: Span | null;
  /** Whether the points of the curve are single readings. */
  readonly raw: boolean;
}

/** Takes hostile data and returns what can be drawn of it, thinned to what a figure can show. */
export function cleanTrace(data: TraceFigureData): CleanTrace {
  const s = data.segments;
  const curve = thinCurve({ time: data.time, value: data.temperature, ...(data.envelope ?? {}) }, mostPoints);
  const fit = data.fit;
  const tc = data.timeConstant;
  const [upper, lower] = data.limits;
  return {
    curve,
    segments: {
      baseline: cleanSpan(s.baseline),
      heating: cleanSpan(s.heating),
      hotTail: cleanSpan(s.hotTail),
      cooling: cleanSpan(s.cooling),
      window: cleanSpan(s.window),
      heatOff: drawable(s.heatOff) ? s.heatOff : null,
      peak: s.peak !== null && drawable(s.peak.time) && drawable(s.peak.temperature) ? s.peak : null,
    },
    ambient: data.ambient !== null && drawable(data.ambient.value) ? data.ambient : null,
    fit:
      fit !== null && [fit.tStart, fit.a, fit.b, fit.c, fit.tb].every(drawable) && fit.tau > 0 ? fit : null,
    timeConstant:
      tc !== null && tc.value > 0 && tc.interval[0] > 0 && tc.interval.every(drawable) && drawable(tc.value)
        ? tc
        : null,
    limits: upper < 1e3 && lower > 1e-6 && upper > lower ? [upper, lower] : [0.9, 0.1],
    points: data.points.filter(
      (p) => drawable(p.time) && p.time >= 0 && drawable(p.errorFraction) && drawable(p.fitted),
    ),
    view: null,
    raw: false,
  };
}

/** Readings of the stretch that is looked at, closer together than those of the whole recording. */
export interface CloseReadings extends Curve {
  /** Whether they are single readings, not averages. */
  readonly raw: boolean;
}

/**
 * The part of a recording within a stretch of time: its curve is cut there, and marks that lie outside are left
 * out; the window and the points of the error fraction stay whole.
 *
 * @param view s from the first sample; without length it is ignored
 * @param close readings to take instead of the recording's own, where they lie in the view
 */
export function viewTrace(clean: CleanTrace, view: Span | null, close: CloseReadings | null): CleanTrace {
  const shown = cleanSpan(view);
  if (shown === null || !(shown.to > shown.from)) return clean;
  const own = close === null ? null : cropCurve(thinCurve(close, mostPoints), shown);
  const taken = own !== null && own.time.length > 1;
  const raw = taken && close?.raw === true;
  return {
    ...clean,
    curve: taken ? own : cropCurve(clean.curve, shown),
    view: shown,
    raw,
  };
}

/** A curve between two times, with a point on each edge that it crosses. */
function cropCurve(curve: ThinCurve, { from, to }: Span): ThinCurve {
  const { time } = curve;
  const first = time.findIndex((t) => t >= from);
  if (first === -1) return { time: [], value: [], low: [], high: [] };
  const after = time.findIndex((t) => t > to);
  const last = (after === -1 ? time.length : after) - 1;
  const edge = (values: readonly number[], k: number, at: number) => {
    const [t0 = at, t1 = at] = [time[k], time[k + 1]];
    const [v0 = 0, v1 = 0] = [values[k], values[k + 1]];
    return v0 + (v1 - v0) * (t1 > t0 ? (at - t0) / (t1 - t0) : 0);
  };
  const cut = (values: readonly number[]) => [
    ...(first > 0 ? [edge(values, first - 1, from)] : []),
    ...values.slice(first, last + 1),
    ...(last + 1 < time.length ? [edge(values, last, to)] : []),
  ];
  return { time: cut(time), value: cut(curve.value), low: cut(curve.low), high: cut(curve.high) };
}

/** A span that can be drawn, or null. */
export function cleanSpan(span: Span | null | undefined): Span | null {
  return span && drawable(span.from) && drawable(span.to) && span.to >= span.from ? span : null;
}

/** Temperature of the fitted cooling curve, °C, at a time in s from the first sample. */
export function fittedTemperature(fit: CoolingFit, time: number): number {
  return fit.a + fit.c * (time - fit.tb) + fit.b * Math.exp(-(time - fit.tStart) / fit.tau);
}

/** The segment in which a time lies, in words; the window goes before the cooling around it. */
export function segmentAt(segments: TraceSegments, time: number): string | null {
  const named: readonly (readonly [string, Span | null])[] = [
    ['window', segments.window],
    ['baseline', segments.baseline],
    ['heating', segments.heating],
    ['hot tail', segments.hotTail],
    ['cooling', segments.cooling],
  ];
  return named.find(([, span]) => span && time >= span.from && time <= span.to)?.[0] ?? null;
}

/**
 * The numbers behind the figure of a recording: temperature, the fitted curve, the error fraction.
 *
 * @param rows most rows, at least 2
 */
export function traceTable(data: TraceFigureData, rows = 400): FigureTable {
  const { curve, segments, fit, window } = { ...cleanTrace(data), window: cleanSpan(data.segments.window) };
  const index = sparse(
    curve.time.map((_, i) => i),
    rows,
  );
  return {
    caption: `${data.name}: ${data.headline}; ${data.verdict}`,
    columns: [
      { name: 'Time', unit: 's' },
      { name: 'Temperature', unit: '°C' },
      { name: 'Part', unit: null },
      { name: 'Fitted temperature', unit: '°C' },
    ],
    rows: index.map((i) => {
      const t = curve.time[i] ?? 0;
      const part = segmentAt(segments, t);
      const inFit = fit !== null && window !== null && t >= window.from && t <= window.to;
      return [t, curve.value[i] ?? 0, part, inFit ? fittedTemperature(fit, t) : null];
    }),
  };
}

/** The numbers behind the lower panel: error fraction as measured and as fitted. */
export function errorFractionTable(data: TraceFigureData): FigureTable {
  return {
    caption: `${data.name}: error fraction against time from the start of the window`,
    columns: [
      { name: 'Time from the start of the window', unit: 's' },
      { name: 'Error fraction', unit: null },
      { name: 'Fitted error fraction', unit: null },
    ],
    rows: cleanTrace(data).points.map((p) => [p.time, p.errorFraction, p.fitted]),
  };
}
