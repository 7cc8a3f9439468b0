/** The stretch of a recording that is looked at: coming nearer, going farther, and moving along. */
import type { Readings, Span } from '../../../src/server/contract/index.ts';

/** How much nearer one step comes. */
export const nearerBy = 2;

/** The whole recording as a stretch. */
export function wholeOf(duration: number): Span {
  return { from: 0, to: duration };
}

/**
 * A stretch that shows more or less around a time, which keeps its place on the figure.
 *
 * @param factor above 1 comes nearer
 * @param about the time that stays where it is, s
 * @param least the shortest stretch, s
 * @returns null where the whole recording is in view
 */
export function zoomed(
  view: Span | null,
  duration: number,
  factor: number,
  about: number,
  least: number,
): Span | null {
  const now = view ?? wholeOf(duration);
  const length = Math.max((now.to - now.from) / factor, Math.min(least, duration));
  if (!(length < duration)) return null;
  const share = Math.min(Math.max((about - now.from) / (now.to - now.from), 0), 1);
  return within({ from: about - share * length, to: about + (1 - share) * length }, duration);
}

/** The stretch moved along by a time, s, as far as the recording goes. */
export function moved(view: Span | null, duration: number, by: number): Span | null {
  return view === null ? null : within({ from: view.from + by, to: view.to + by }, duration);
}

/** Fingers on the figure: the middle of the first two, and how far they are apart; 0 for a single one. */
export interface Across {
  readonly middle: number;
  readonly apart: number;
}

/** Nearer together than this, px, fingers are too uncertain to be followed. */
const leastApart = 20;

/** @param places of the fingers across the window, px; null where there is none */
export function across([first, second]: readonly number[]): Across | null {
  if (first === undefined) return null;
  if (second === undefined) return { middle: first, apart: 0 };
  return { middle: (first + second) / 2, apart: Math.max(Math.abs(first - second), leastApart) };
}

/**
 * The stretch in view once fingers that held it have moved: what was under their middle stays under it.
 *
 * @param was where they took hold of it, with the middle as a share of the figure, 0 to 1
 * @param least the shortest stretch, s
 */
export function followed(
  view: Span | null,
  duration: number,
  was: Across,
  now: Across,
  least: number,
): Span | null {
  const held = view ?? wholeOf(duration);
  const about = held.from + was.middle * (held.to - held.from);
  const factor = was.apart > 0 && now.apart > 0 ? now.apart / was.apart : 1;
  const nearer = zoomed(view, duration, factor, about, least);
  if (nearer === null) return null;
  return moved(nearer, duration, about - now.middle * (nearer.to - nearer.from) - nearer.from);
}

function within({ from, to }: Span, duration: number): Span | null {
  const length = to - from;
  if (!(length < duration)) return null;
  const start = Math.min(Math.max(from, 0), duration - length);
  return { from: start, to: start + length };
}

/** What a key does to the stretch: how much nearer, or by which share of it along; null for other keys. */
export function viewStep(key: string): { readonly nearer: number; readonly along: number } | null {
  switch (key) {
    case 'ArrowLeft':
      return { nearer: 1, along: -0.2 };
    case 'ArrowRight':
      return { nearer: 1, along: 0.2 };
    case 'ArrowUp':
    case '+':
      return { nearer: nearerBy, along: 0 };
    case 'ArrowDown':
    case '-':
      return { nearer: 1 / nearerBy, along: 0 };
    default:
      return null;
  }
}

/** The shortest stretch worth looking at, s: twenty samples. */
export function leastView(rate: number): number {
  return rate > 0 ? 20 / rate : 0.01;
}

/** Readings for a stretch, where they are of it; null while those of another stretch are the last to have come. */
export function readingsFor(readings: Readings | undefined, view: Span | null): Readings | null {
  if (readings === undefined || view === null || readings.time.length < 2) return null;
  const first = readings.time[0] ?? 0;
  const last = readings.time.at(-1) ?? 0;
  // The first and last reading lie up to one distance inside of what was asked for.
  const slack = (2 * (last - first)) / (readings.time.length - 1) + 1e-9;
  return first <= view.from + slack && last >= view.to - slack ? readings : null;
}

/** The stretch in words. */
export function viewWords(view: Span | null, duration: number): string {
  const { from, to } = view ?? wholeOf(duration);
  const length = to - from;
  const decimals = length >= 100 ? 0 : length >= 10 ? 1 : length >= 1 ? 2 : 4;
  const words = `${from.toFixed(decimals)} s to ${to.toFixed(decimals)} s`;
  return view === null ? `the whole recording, ${words}` : words;
}
