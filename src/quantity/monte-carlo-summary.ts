import type { Interval } from './coverage.ts';
import { degreesOfFreedomOf, type Input } from './uncertain.ts';

/** Draws for which a model gave no finite output. */
export interface NotFinite {
  /** Neither a number nor infinite. */
  readonly undefined: number;
  readonly minusInfinity: number;
  readonly plusInfinity: number;
}

/** What draws of an output say. */
export interface DrawSummary {
  /** Mean of the finite draws. */
  readonly mean: number;
  /** Standard deviation of the finite draws. */
  readonly standardUncertainty: number;
  readonly median: number;
  /** Probabilistically symmetric: as much probability below as above it. */
  readonly interval: Interval;
  /** The shortest with the coverage. */
  readonly shortestInterval: Interval;
  readonly draws: number;
  /** Standard error of the mean from the number of draws. */
  readonly meanError: number;
  /** Standard errors of the two ends of the symmetric interval from the number of draws. */
  readonly endErrors: Interval;
  readonly notFinite: NotFinite;
  /** One sentence each: what the numbers above leave out or cannot say. */
  readonly notes: readonly string[];
}

/**
 * Mean, standard deviation and coverage intervals of draws (JCGM 101:2008, 7.6 and 7.7). Draws that are infinite
 * count for the intervals, on their side, but not for mean and standard deviation; undefined ones count for
 * nothing but a note.
 *
 * @param draws at least 2; sorted in place
 * @param coverage between 0 and 1
 */
export function summaryOfDraws(draws: Float64Array, inputs: readonly Input[], coverage: number): DrawSummary {
  // Ascending, with undefined ones last.
  draws.sort();
  const ordered = draws.subarray(0, countFromEnd(draws, Number.isNaN));
  const below = ordered.length - ordered.subarray(countFromStart(ordered)).length;
  const finite = ordered.subarray(
    below,
    countFromEnd(ordered, (x) => x === Number.POSITIVE_INFINITY),
  );
  const notFinite = {
    undefined: draws.length - ordered.length,
    minusInfinity: below,
    plusInfinity: ordered.length - below - finite.length,
  };
  const { mean, standardUncertainty } = moments(finite);
  const { symmetric, shortest, endErrors } = intervals(ordered, coverage);
  return {
    mean,
    standardUncertainty,
    median: at(ordered, ordered.length / 2),
    interval: symmetric,
    shortestInterval: shortest,
    draws: draws.length,
    meanError: standardUncertainty / Math.sqrt(finite.length),
    endErrors,
    notFinite,
    notes: notesOn(notFinite, draws.length, inputs),
  };
}

function countFromStart(ordered: Float64Array): number {
  let count = 0;
  while (ordered[count] === Number.NEGATIVE_INFINITY) count++;
  return count;
}

/** How many are left without those at the end that are meant. */
function countFromEnd(ordered: Float64Array, meant: (x: number) => boolean): number {
  let count = ordered.length;
  while (count > 0 && meant(ordered[count - 1] ?? 0)) count--;
  return count;
}

/** Mean and standard deviation, in two passes about the middle one so that nothing cancels. */
function moments(ordered: Float64Array): { readonly mean: number; readonly standardUncertainty: number } {
  const count = ordered.length;
  const middle = ordered[count >> 1] ?? Number.NaN;
  let sum = 0;
  for (let i = 0; i < count; i++) sum += (ordered[i] ?? 0) - middle;
  const mean = middle + sum / count;
  let squares = 0;
  for (let i = 0; i < count; i++) squares += ((ordered[i] ?? 0) - mean) ** 2;
  return { mean, standardUncertainty: Math.sqrt(squares / (count - 1)) };
}

/** The draw of a rank from 1 up, rounded and held within the list. */
function at(ordered: Float64Array, rank: number): number {
  return ordered[Math.min(Math.max(Math.round(rank), 1), ordered.length) - 1] ?? Number.NaN;
}

/** JCGM 101:2008, 7.7.2 and 7.7.3. */
function intervals(ordered: Float64Array, coverage: number) {
  const count = ordered.length;
  const inside = Math.floor(coverage * count + 0.5);
  const first = Math.max(Math.floor((count - inside + 1) / 2), 1);
  const symmetric: Interval = [at(ordered, first), at(ordered, first + inside)];
  let best = first;
  for (let rank = 1; rank + inside <= count; rank++) {
    const width = (ordered[rank + inside - 1] ?? 0) - (ordered[rank - 1] ?? 0);
    if (width < at(ordered, best + inside) - at(ordered, best)) best = rank;
  }
  const shortest: Interval = [at(ordered, best), at(ordered, best + inside)];
  // The number of draws below a quantile is binomial: the draws as many ranks away bound it.
  const away = Math.sqrt((count * (1 - coverage) * (1 + coverage)) / 4);
  const spreadAt = (rank: number) => (at(ordered, rank + away) - at(ordered, rank - away)) / 2;
  const endErrors: Interval = [spreadAt(first), spreadAt(first + inside)];
  return { symmetric, shortest, endErrors };
}

function notesOn(notFinite: NotFinite, draws: number, inputs: readonly Input[]): string[] {
  const notes: string[] = [];
  const infinite = notFinite.minusInfinity + notFinite.plusInfinity;
  if (notFinite.undefined > 0) {
    notes.push(
      `The model has no value for ${notFinite.undefined} of ${draws} draws; they are left out, so the inputs reach beyond where the model holds.`,
    );
  }
  if (infinite > 0) {
    notes.push(
      `The model is infinite for ${infinite} of ${draws} draws; they count for the intervals, but not for mean and standard uncertainty.`,
    );
  }
  for (const input of inputs) {
    if (input.distribution !== 't' || degreesOfFreedomOf(input) > 2 || input.standardUncertainty === 0)
      continue;
    notes.push(
      `Input "${input.name}" has a t distribution with ${degreesOfFreedomOf(input)} degrees of freedom, which has no standard deviation: use the intervals only.`,
    );
  }
  return notes;
}
