import type { StudentChoices, StudentScale } from './student-choices.ts';
import type { StudentRecording } from './student-recording.ts';

/** Blocks as a student has them: times, s or whatever is taken for it, and error fractions. */
export interface Series {
  readonly time: number[];
  readonly fraction: number[];
  /** Readings of each, the sum of their squared deviations, and the lowest, as fractions. */
  readonly count: number[];
  readonly squares: number[];
  readonly lowest: number[];
}

/**
 * A recording as a student has it before the first logarithm.
 *
 * @returns null where it cannot be worked in this way
 */
export function seriesOf(recording: StudentRecording, choices: StudentChoices): Series | null {
  const { time, temperature, readings } = recording;
  const started = choices.start === 'heat-off' ? recording.heatOff : recording.start.time;
  const startIndex = indexAt(time, started);
  const first = choices.heatingKept ? indexAt(time, recording.heatingFrom ?? 0) : startIndex;
  const ambient = ambientOn(recording, choices);
  const top = topOn(recording, choices, startIndex);
  if (ambient === null || top === null || !(top > ambient)) return null;
  const zero = zeroOf(recording, choices.clock, started);
  const step = top - ambient;
  const series: Series = { time: [], fraction: [], count: [], squares: [], lowest: [] };
  // Within one trial every scale is as good as a straight one.
  const last = time.length - 1;
  const change =
    (onScale(recording, choices.scale, startIndex) ?? 0) - (onScale(recording, choices.scale, last) ?? 0);
  const fall = (temperature[startIndex] ?? 0) - (temperature[last] ?? 0);
  const perKelvin = change / fall / step;
  for (let i = first; i < time.length; i++) {
    const shown = onScale(recording, choices.scale, i);
    if (shown === null) return null;
    const fraction = (shown - ambient) / step;
    const below = readings === null ? 0 : ((temperature[i] ?? 0) - (readings.lowest[i] ?? 0)) * perKelvin;
    series.time.push(((time[i] ?? 0) - zero) * choices.secondIs);
    series.fraction.push(choices.complement ? 1 - fraction : fraction);
    series.count.push(readings?.count[i] ?? 1);
    series.squares.push((readings?.squares[i] ?? 0) * perKelvin ** 2);
    series.lowest.push(fraction - below);
  }
  return series.time.length < 5 ? null : series;
}

function zeroOf({ heatingFrom }: StudentRecording, clock: StudentChoices['clock'], started: number): number {
  switch (clock) {
    case 'start':
      return started;
    case 'file':
      return 0;
    case 'heating':
      return heatingFrom ?? 0;
  }
}

function onScale(recording: StudentRecording, scale: StudentScale, i: number): number | null {
  if (scale.kind === 'volts') return recording.volts?.[i] ?? null;
  if (scale.kind === 'other-type') {
    const volts = recording.volts?.[i];
    if (volts === undefined || recording.byType === null) return null;
    const degrees = recording.byType(scale.type, volts);
    return Number.isFinite(degrees) ? degrees : null;
  }
  return fromCelsius(recording.temperature[i] ?? Number.NaN, scale);
}

function isDegrees({ kind }: StudentScale): boolean {
  return kind !== 'volts' && kind !== 'other-type';
}

function fromCelsius(celsius: number, { kind }: StudentScale): number {
  if (kind === 'fahrenheit') return 1.8 * celsius + 32;
  return kind === 'kelvin' ? celsius + 273.15 : celsius;
}

/** The ambient that is subtracted, on the student's scale. */
function ambientOn(recording: StudentRecording, { ambient, scale }: StudentChoices): number | null {
  const { time, temperature, heatingFrom } = recording;
  switch (ambient) {
    case 'none':
      return 0;
    case 'room':
      return typed(recording.room, scale);
    case 'jet':
      return typed(recording.jet, scale);
    case 'last':
      return meanOn(
        recording,
        scale,
        Math.max(0, temperature.length - lastOnes(temperature.length)),
        temperature.length,
      );
    case 'baseline': {
      if (isDegrees(scale)) return fromCelsius(recording.ambient, scale);
      return meanOn(recording, scale, 0, Math.max(1, indexAt(time, heatingFrom ?? recording.start.time)));
    }
  }
}

/** A temperature that was read elsewhere; it has no volts of this channel. */
function typed(celsius: number | null, scale: StudentScale): number | null {
  return celsius === null || scale.kind === 'volts' ? null : fromCelsius(celsius, scale);
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

/** The start temperature on the student's scale. */
function topOn(
  recording: StudentRecording,
  { start, scale }: StudentChoices,
  startIndex: number,
): number | null {
  if (start === 'heat-off' || !isDegrees(scale)) {
    return start === 'spike' ? null : onScale(recording, scale, startIndex);
  }
  return fromCelsius(start === 'spike' ? recording.highest : recording.start.temperature, scale);
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
