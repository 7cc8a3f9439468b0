import { median, scaledMad } from '../statistics/index.ts';
import type { StretchPoint } from './stretches.ts';
import type { Phase } from './types.ts';

/** Where a trial stands by its temperature alone. Times in s, temperatures in °C. */
export interface PhaseNow {
  readonly phase: Exclude<Phase, 'done'>;
  readonly since: number;
  /** When this trial began: 0, or the end of the one before it in the same recording. */
  readonly trialFrom: number;
  /** When the heating began; null before. */
  readonly heatOn: number | null;
  /** Level before the heating; null where the recording starts hot. */
  readonly level: number | null;
  readonly peak: StretchPoint | null;
}

/** Points before anything is said, and points that the quiet level is taken from at most. */
const fewestPoints = 4;
const mostQuiet = 400;
/** Noise is taken from differences over this many points: a steady trend adds nothing to it. */
const lag = 4;
/** Changes of this many standard deviations, at two points in a row, are no noise. */
const overNoise = 4.5;
/** Smaller changes than these are no heating, no cooling, and no fall from the start, K. */
const leastRise = 0.4;
const leastFall = 0.5;
const leastFallFromStart = 2;
const leastRiseAgain = 1;
/** Parts of the step that hot air may flutter by, and that a new heating rises by at least. */
const flutter = 0.015;
const risingAgain = 0.05;
/** What rose by less and fell back was a draught. */
const draught = 5;
/** A cooling that is broken off above this error fraction was an interruption of the heating. */
const interruption = 0.5;

/**
 * Follows the phases of a trial, point by point. It goes back in time for when a phase began, and needs two points in a
 * row for a change, so that noise and single wild readings move nothing.
 */
export class PhaseWatch {
  #phase: PhaseNow['phase'] = 'waiting';
  #since = 0;
  #trialFrom = 0;
  #heatOn: number | null = null;
  #level: number | null = null;
  #noise = 0;
  #top: StretchPoint | null = null;
  #bottom: StretchPoint | null = null;
  #before: StretchPoint | null = null;
  #quiet: StretchPoint[] = [];
  /** When the cooling was complete; null before. */
  #completeAt: number | null = null;

  get now(): PhaseNow {
    const hot = this.#phase === 'heating' || this.#phase === 'cooling';
    return {
      phase: this.#phase,
      since: this.#since,
      trialFrom: this.#trialFrom,
      heatOn: this.#heatOn,
      level: this.#level,
      peak: hot ? this.#top : null,
    };
  }

  /** The cooling has come to its end: what rises from here on is another trial. */
  complete(time: number): void {
    this.#completeAt ??= time;
  }

  take(point: StretchPoint): void {
    if (!Number.isFinite(point.temperature) || !Number.isFinite(point.time)) return;
    const { phase } = this.now;
    if (phase === 'heating') this.#heating(point);
    else if (phase === 'cooling') this.#cooling(point);
    else this.#quietly(point);
    this.#before = point;
  }

  #quietly(point: StretchPoint): void {
    const quiet = this.#quiet;
    if (quiet.length < fewestPoints) {
      quiet.push(point);
      if (quiet.length === fewestPoints) this.#phase = 'baseline';
      return;
    }
    const before = this.#before ?? point;
    const temperatures = quiet.map(({ temperature }) => temperature);
    const level = median(temperatures);
    this.#noise = noiseOf(temperatures);
    const rise = Math.max(leastRise, overNoise * this.#noise);
    const fall = Math.max(leastFallFromStart, overNoise * this.#noise);
    if (lower(before, point) > level + rise) {
      this.#level = level;
      this.#heatOn = this.#lastQuiet(level + rise / 3);
      this.#begin('heating', this.#heatOn);
      this.#top = point.temperature > before.temperature ? before : point;
    } else if (higher(before, point) < level - fall) {
      const [first = point] = quiet;
      this.#level = null;
      this.#top = quiet.reduce((top, one) => (one.temperature > top.temperature ? one : top), first);
      this.#bottom = before;
      this.#begin('cooling', this.#top.time);
    }
    quiet.push(point);
    if (quiet.length > mostQuiet) quiet.shift();
  }

  /** The last moment at which nothing was to be seen yet. */
  #lastQuiet(below: number): number {
    for (let i = this.#quiet.length - 1; i >= 0; i--) {
      const one = this.#quiet[i];
      if (one !== undefined && one.temperature <= below) return one.time;
    }
    return this.#quiet[0]?.time ?? 0;
  }

  #heating(point: StretchPoint): void {
    const before = this.#before ?? point;
    const top = this.#top ?? point;
    const level = this.#level ?? top.temperature;
    const both = before.temperature < point.temperature ? before : point;
    if (both.temperature > top.temperature) {
      this.#top = both;
      return;
    }
    const step = top.temperature - level;
    const fall = Math.max(leastFall, overNoise * this.#noise, flutter * step);
    if (higher(before, point) >= top.temperature - fall) return;
    if (step < Math.max(draught, 2 * overNoise * this.#noise)) {
      if (higher(before, point) > level + Math.max(leastRise, overNoise * this.#noise) / 2) return;
      this.#heatOn = null;
      this.#top = null;
      this.#begin('baseline', this.#trialFrom);
      return;
    }
    this.#bottom = before;
    this.#begin('cooling', top.time);
  }

  #cooling(point: StretchPoint): void {
    const before = this.#before ?? point;
    const bottom = this.#bottom ?? point;
    const both = before.temperature > point.temperature ? before : point;
    if (both.temperature < bottom.temperature) {
      this.#bottom = both;
      return;
    }
    const top = this.#top ?? bottom;
    const floor = this.#level ?? bottom.temperature;
    const step = top.temperature - floor;
    const rise = Math.max(leastRiseAgain, overNoise * this.#noise, risingAgain * step);
    if (lower(before, point) <= bottom.temperature + rise) return;
    if (
      this.#level !== null &&
      bottom.temperature - floor > interruption * step &&
      this.#completeAt === null
    ) {
      this.#begin('heating', this.#heatOn ?? top.time);
      return;
    }
    if (this.#completeAt !== null) {
      this.#trialFrom = this.#completeAt;
      this.#completeAt = null;
      this.#level = bottom.temperature;
      this.#heatOn = bottom.time;
    }
    // A heating before the cooling was complete belongs to the same trial, with the baseline that it has.
    this.#level ??= bottom.temperature;
    this.#heatOn ??= bottom.time;
    this.#top = both;
    this.#begin('heating', bottom.time);
  }

  #begin(phase: PhaseNow['phase'], since: number): void {
    this.#phase = phase;
    this.#since = since;
  }
}

function lower(a: StretchPoint, b: StretchPoint): number {
  return Math.min(a.temperature, b.temperature);
}

function higher(a: StretchPoint, b: StretchPoint): number {
  return Math.max(a.temperature, b.temperature);
}

/** Standard deviation of a point, K. */
function noiseOf(temperatures: readonly number[]): number {
  if (temperatures.length < 2 * lag) return 0;
  const differences = temperatures.slice(lag).map((value, i) => value - (temperatures[i] ?? value));
  return scaledMad(differences) / Math.SQRT2;
}
