import type { StudentChoices, StudentScale } from './student-choices.ts';

/** A group's own recording as a spreadsheet holds it. Times in s from the first reading, temperatures in °C. */
export interface StudentRecording {
  /** Block means; short against the time constant. */
  readonly time: ArrayLike<number>;
  readonly temperature: ArrayLike<number>;
  /** What the logger showed, V; null where it shows degrees. */
  readonly volts: ArrayLike<number> | null;
  /** Degrees by the table of another type from what the logger showed; null where that is not a voltage. */
  readonly byType: ((type: string, volts: number) => number) | null;
  /** Readings a second. */
  readonly rate: number;
  /** Level before the heating. */
  readonly ambient: number;
  /** What a thermometer in the room shows; null where nobody knows. */
  readonly room: number | null;
  /** Hottest reading as a class takes it. */
  readonly start: { readonly time: number; readonly temperature: number };
  /** Highest single reading of all. */
  readonly highest: number;
  readonly heatingFrom: number | null;
  readonly heatOff: number;
  /** Error fractions of the window, the larger first. */
  readonly window: readonly [number, number];
}

/** What comes of it, s, or 1/s where the slope is reported; null where the method comes to nothing. */
export interface StudentValues {
  readonly point: number | null;
  readonly origin: number | null;
  readonly intercept: number | null;
  /** Standard errors of slope and time constant as a regression prints them, for the fit through the origin. */
  readonly printed: { readonly slope: number; readonly timeConstant: number } | null;
}

/**
 * The three classroom values by the choices that a student made: the calculation itself is done, right or wrong, on this
 * recording.
 */
export function studentValues(recording: StudentRecording, choices: StudentChoices): StudentValues {
  const series = seriesOf(recording, choices);
  if (series === null) return { point: null, origin: null, intercept: null, printed: null };
  const [upper, lower] = choices.window === 'taught' ? recording.window : [Number.POSITIVE_INFINITY, 0];
  const origin = regression(series, upper, lower, choices, false);
  const intercept = regression(series, upper, lower, choices, true);
  return {
    point: crossing(series, choices.level),
    origin: reported(origin?.slope ?? null, choices),
    intercept: reported(intercept?.slope ?? null, choices),
    printed:
      origin === null
        ? null
        : { slope: origin.standardError, timeConstant: origin.standardError / origin.slope ** 2 },
  };
}

interface Series {
  readonly time: number[];
  readonly fraction: number[];
}

/** Times and error fractions as the student has them. */
function seriesOf(recording: StudentRecording, choices: StudentChoices): Series | null {
  const { time, start } = recording;
  const value = (i: number) => onScale(recording, choices.scale, i);
  const first = indexAt(time, choices.heatingKept ? (recording.heatingFrom ?? 0) : start.time);
  const ambient = ambientOn(recording, choices);
  const top =
    choices.start === 'spike' ? spikeOn(recording, choices.scale) : startOn(recording, choices.scale);
  if (ambient === null || top === null || !(top > ambient)) return null;
  const zero = zeroOf(recording, choices.clock);
  const series: Series = { time: [], fraction: [] };
  for (let i = first; i < time.length; i++) {
    const shown = value(i);
    if (shown === null) return null;
    series.time.push(((time[i] ?? 0) - zero) * choices.secondIs);
    series.fraction.push((shown - ambient) / (top - ambient));
  }
  return series.time.length < 5 ? null : series;
}

function zeroOf({ start, heatingFrom, heatOff }: StudentRecording, clock: StudentChoices['clock']): number {
  switch (clock) {
    case 'start':
      return start.time;
    case 'file':
      return 0;
    case 'heating':
      return heatingFrom ?? 0;
    case 'heat-off':
      return heatOff;
  }
}

function onScale(recording: StudentRecording, scale: StudentScale, i: number): number | null {
  const celsius = recording.temperature[i] ?? Number.NaN;
  if (scale.kind === 'volts') return recording.volts?.[i] ?? null;
  if (scale.kind === 'other-type') {
    const volts = recording.volts?.[i];
    return volts === undefined || recording.byType === null
      ? null
      : finite(recording.byType(scale.type, volts));
  }
  return fromCelsius(celsius, scale);
}

function fromCelsius(celsius: number, { kind }: StudentScale): number {
  if (kind === 'fahrenheit') return 1.8 * celsius + 32;
  return kind === 'kelvin' ? celsius + 273.15 : celsius;
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

/** The ambient that is subtracted, on the student's scale. */
function ambientOn(recording: StudentRecording, { ambient, scale }: StudentChoices): number | null {
  const { time, temperature, heatingFrom } = recording;
  switch (ambient) {
    case 'none':
      return 0;
    case 'room':
      return recording.room === null || scale.kind === 'volts' ? null : fromCelsius(recording.room, scale);
    case 'last':
      return meanOn(
        recording,
        scale,
        Math.max(0, temperature.length - lastOnes(temperature.length)),
        temperature.length,
      );
    case 'baseline': {
      if (scale.kind !== 'volts' && scale.kind !== 'other-type') return fromCelsius(recording.ambient, scale);
      return meanOn(recording, scale, 0, Math.max(1, indexAt(time, heatingFrom ?? recording.start.time)));
    }
  }
}

function lastOnes(count: number): number {
  return Math.max(1, Math.round(count / 200));
}

function meanOn(recording: StudentRecording, scale: StudentScale, from: number, to: number): number | null {
  let sum = 0;
  for (let i = from; i < to; i++) {
    const value = onScale(recording, scale, i);
    if (value === null) return null;
    sum += value;
  }
  return to > from ? sum / (to - from) : null;
}

function startOn(recording: StudentRecording, scale: StudentScale): number | null {
  if (scale.kind !== 'volts' && scale.kind !== 'other-type') {
    return fromCelsius(recording.start.temperature, scale);
  }
  return onScale(recording, scale, indexAt(recording.time, recording.start.time));
}

function spikeOn(recording: StudentRecording, scale: StudentScale): number | null {
  return scale.kind === 'volts' || scale.kind === 'other-type' ? null : fromCelsius(recording.highest, scale);
}

function indexAt(time: ArrayLike<number>, wanted: number): number {
  let low = 0;
  let high = time.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((time[middle] ?? 0) < wanted) low = middle + 1;
    else high = middle;
  }
  return Math.min(low, Math.max(0, time.length - 1));
}

/** First time at which the fraction passes a level, either way, read off between two readings. */
function crossing({ time, fraction }: Series, level: number): number | null {
  for (let i = 1; i < time.length; i++) {
    const before = (fraction[i - 1] ?? 0) - level;
    const after = (fraction[i] ?? 0) - level;
    if (before === 0) return time[i - 1] ?? null;
    if (before > 0 !== after > 0) {
      const part = before / (before - after);
      return (time[i - 1] ?? 0) + part * ((time[i] ?? 0) - (time[i - 1] ?? 0));
    }
  }
  return null;
}

/** Slope of the logarithm of the fraction against time, least squares. */
function regression(
  { time, fraction }: Series,
  upper: number,
  lower: number,
  { logarithm }: StudentChoices,
  intercept: boolean,
): { readonly slope: number; readonly standardError: number } | null {
  const log = logarithm === 'natural' ? Math.log : Math.log10;
  let [n, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  time.forEach((x, i) => {
    const y0 = fraction[i] ?? 0;
    if (!(y0 > lower && y0 < upper && y0 > 0)) return;
    const y = log(y0);
    n += 1;
    sx += x;
    sy += y;
    sxx += x * x;
    sxy += x * y;
    syy += y * y;
  });
  if (n < 5) return null;
  if (intercept) {
    sxx -= (sx * sx) / n;
    sxy -= (sx * sy) / n;
    syy -= (sy * sy) / n;
  }
  const slope = sxy / sxx;
  const freedom = n - (intercept ? 2 : 1);
  const standardError = Math.sqrt(Math.max(0, syy - slope * sxy) / freedom / sxx);
  return Number.isFinite(slope) && slope !== 0 ? { slope, standardError } : null;
}

function reported(slope: number | null, { report, slopeDecimals }: StudentChoices): number | null {
  if (slope === null) return null;
  const shown =
    slopeDecimals === null ? slope : Math.round(slope * 10 ** slopeDecimals) / 10 ** slopeDecimals;
  if (report === 'slope') return Math.abs(shown);
  return shown === 0 ? null : -1 / shown;
}
