/** The marks of a recording: where they stand, how they move, and how they are written in the address. */
import type { Decision, Detail, Marks, Span } from '../../../src/server/contract/index.ts';

/** The marks that can be moved. */
export type MarkName = 'baseline-from' | 'baseline-to' | 'cooling-from' | 'cooling-to';

export const markNames: readonly MarkName[] = ['baseline-from', 'baseline-to', 'cooling-from', 'cooling-to'];

/** Where the marks stand, s from the first sample; null where the recording has no such part. */
export interface Positions {
  readonly baseline: Span | null;
  readonly cooling: Span | null;
}

/** What marks may not leave. */
export interface Bounds {
  /** Last sample, s. */
  readonly end: number;
  /** The shortest part, s. */
  readonly least: number;
}

export const nothingMarked: Marks = { baseline: null, cooling: null, heating: null };

/** The marks of the decision that counts; none where what was found counts. */
export function keptMarks(decisions: readonly Decision[]): Marks {
  return decisions.findLast((d) => d.kind === 'marks' && d.applies)?.marks ?? nothingMarked;
}

/** Where the marks stand: as moved, else as the result has used them. */
export function positionsOf(moved: Marks, shown: Pick<Detail, 'used' | 'figure'>): Positions {
  const { segments } = shown.figure;
  return {
    baseline: moved.baseline ?? shown.used.baseline ?? segments.baseline,
    cooling: moved.cooling ?? shown.used.cooling ?? segments.cooling,
  };
}

export function partOf(name: MarkName): 'baseline' | 'cooling' {
  return name.startsWith('baseline') ? 'baseline' : 'cooling';
}

/** Where a mark stands, s; null where its part is missing. */
export function timeOf(positions: Positions, name: MarkName): number | null {
  const span = positions[partOf(name)];
  if (span === null) return null;
  return name.endsWith('from') ? span.from : span.to;
}

/** How far a mark can go: its part stays long enough, and the baseline stays before the cooling. */
export function reachOf(
  positions: Positions,
  name: MarkName,
  { end, least }: Bounds,
): readonly [number, number] {
  const { baseline, cooling } = positions;
  switch (name) {
    case 'baseline-from':
      return [0, Math.max((baseline?.to ?? end) - least, 0)];
    case 'baseline-to':
      return [Math.min((baseline?.from ?? 0) + least, end), cooling?.from ?? end];
    case 'cooling-from':
      return [baseline?.to ?? 0, Math.max((cooling?.to ?? end) - least, 0)];
    case 'cooling-to':
      return [Math.min((cooling?.from ?? 0) + least, end), end];
  }
}

/** The marks with one of them moved to a time, as near to it as the others allow. */
export function moveMark(
  moved: Marks,
  positions: Positions,
  name: MarkName,
  time: number,
  bounds: Bounds,
): Marks {
  const part = partOf(name);
  const span = positions[part];
  if (span === null || !Number.isFinite(time)) return moved;
  const [low, high] = reachOf(positions, name, bounds);
  const at = Math.min(Math.max(time, low), Math.max(low, high));
  return {
    ...moved,
    [part]: name.endsWith('from') ? { from: at, to: span.to } : { from: span.from, to: at },
  };
}

/** A part where the recording has none: the first tenth as baseline, what follows the peak as cooling. */
export function newPart(
  part: 'baseline' | 'cooling',
  positions: Positions,
  end: number,
  peak: number | null,
): Span {
  if (part === 'baseline') return { from: 0, to: Math.min(0.1 * end, positions.cooling?.from ?? end) };
  const from = Math.max(peak ?? 0.4 * end, positions.baseline?.to ?? 0);
  return { from: Math.min(from, 0.9 * end), to: end };
}

/** A step of the arrow keys, s: a round number, about a five-hundredth of what is in view, never below a sample. */
export function stepFor(viewed: number, rate: number): number {
  const sample = rate > 0 ? 1 / rate : 0;
  const wanted = Math.max(viewed / 500, sample, 1e-6);
  const power = 10 ** Math.floor(Math.log10(wanted));
  const share = wanted / power;
  const step = power * (share <= 1.0001 ? 1 : share <= 2.0001 ? 2 : share <= 5.0001 ? 5 : 10);
  return Number(step.toPrecision(3));
}

/** The shortest part that can be marked: ten samples, at least a thousandth of the recording. */
export function boundsOf(duration: number, rate: number): Bounds {
  return {
    end: duration,
    least: Math.min(Math.max(rate > 0 ? 10 / rate : 0, duration / 1000), duration / 10),
  };
}

/** Where a key takes a mark, s; null for keys that do not move it. Shift and the page keys go ten times as far. */
export function timeByKey(
  key: string,
  far: boolean,
  time: number,
  step: number,
  [low, high]: readonly [number, number],
): number | null {
  const by = far ? 10 * step : step;
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return time - by;
    case 'ArrowRight':
    case 'ArrowUp':
      return time + by;
    case 'PageDown':
      return time - 10 * step;
    case 'PageUp':
      return time + 10 * step;
    case 'Home':
      return low;
    case 'End':
      return high;
    default:
      return null;
  }
}

/** Decimals that show a step. */
export function decimalsOf(step: number): number {
  return Math.min(Math.max(Math.ceil(-Math.log10(step) - 1e-9), 1), 6);
}

/** A time rounded to a tenth of a step, so that addresses and decisions stay short. */
export function rounded(time: number, step: number): number {
  return Number(time.toFixed(Math.min(decimalsOf(step) + 1, 9)));
}

const places: Readonly<Record<MarkName, string>> = {
  'baseline-from': 'baseline from',
  'baseline-to': 'baseline to',
  'cooling-from': 'cooling from',
  'cooling-to': 'cooling to',
};

export function markWords(name: MarkName): string {
  return places[name];
}

/** What a screen reader says of a mark: its time, and how long its part is. */
export function markSaid(name: MarkName, positions: Positions, step: number): string {
  const span = positions[partOf(name)];
  const time = timeOf(positions, name);
  if (span === null || time === null) return 'not marked';
  const decimals = decimalsOf(step);
  return `${time.toFixed(decimals)} seconds; the ${partOf(name)} is ${(span.to - span.from).toFixed(decimals)} seconds long`;
}

export function sameMarks(a: Marks, b: Marks): boolean {
  return sameSpan(a.baseline, b.baseline) && sameSpan(a.cooling, b.cooling) && a.heating === b.heating;
}

function sameSpan(a: Span | null, b: Span | null): boolean {
  return a === b || (a !== null && b !== null && a.from === b.from && a.to === b.to);
}

/** What the address says of a recording: marks that were moved and not yet kept, and the stretch in view. */
export interface Addressed {
  readonly moved: Marks | null;
  readonly view: Span | null;
}

/** Reads `?baseline=0..19.2&cooling=61.2..220&heating=2&near=50..75`; what cannot be read is left out. */
export function readAddress(search: string): Addressed {
  const query = new URLSearchParams(search);
  const number = Number(query.get('heating') ?? '');
  const moved: Marks = {
    baseline: readSpan(query.get('baseline')),
    cooling: readSpan(query.get('cooling')),
    heating: Number.isInteger(number) && number >= 1 && number <= 100 ? number : null,
  };
  return { moved: sameMarks(moved, nothingMarked) ? null : moved, view: readSpan(query.get('near')) };
}

/** The address' question with marks and view in it; everything else in it stays. */
export function writeAddress(search: string, { moved, view }: Addressed): string {
  const query = new URLSearchParams(search);
  const set = (name: string, value: string | null) =>
    value === null ? query.delete(name) : query.set(name, value);
  set('baseline', writeSpan(moved?.baseline ?? null));
  set('cooling', writeSpan(moved?.cooling ?? null));
  set('heating', moved?.heating == null ? null : String(moved.heating));
  set('near', writeSpan(view));
  return query.toString();
}

function readSpan(text: string | null): Span | null {
  const parts = /^(\d{1,9}(?:\.\d{1,9})?)\.\.(\d{1,9}(?:\.\d{1,9})?)$/.exec(text ?? '');
  if (parts === null) return null;
  const [from, to] = [Number(parts[1]), Number(parts[2])];
  return to > from ? { from, to } : null;
}

function writeSpan(span: Span | null): string | null {
  if (span === null) return null;
  const short = (t: number) => String(Number(Math.max(t, 0).toFixed(6)));
  return `${short(span.from)}..${short(span.to)}`;
}
