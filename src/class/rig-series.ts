import { type ReferenceRun, type RigCheck, rigKind } from '../rig/index.ts';
import type { ControlPoint } from './control.ts';

/** What is followed over the terms: checks of a bench, and what its reference runs show. */
export type FollowedKind = 'zero' | 'gain' | 'ice-point' | 'jet-temperature' | 'reference';

/** What was kept about the rigs in one term, without what was taken back. */
export interface RigTerm {
  readonly term: string;
  readonly checks: readonly RigCheck[];
  readonly runs: readonly ReferenceRun[];
}

/** One point of a series; `at` is in s since 1970 (UTC), `value` in SI, °C, or a ratio. */
interface RigPoint extends ControlPoint {
  readonly term: string;
  /** Of the check or reference run, in the book of its term. */
  readonly id: string;
}

/** One thing of one bench over the terms, in order of time. */
export interface RigSeries {
  readonly bench: string | null;
  readonly kind: FollowedKind;
  /** Body and flow of reference runs, as `brass-12 in 120`; null for checks. */
  readonly subject: string | null;
  readonly points: readonly RigPoint[];
}

/** How a followed kind is said and shown. */
export interface Followed {
  readonly kind: FollowedKind;
  /** In a sentence: `zero with shorted input`. */
  readonly name: string;
  /** Symbol of the unit of display; empty for a ratio. */
  readonly unit: string;
  /** SI value of one such unit. */
  readonly factor: number;
  /** One sentence: what to look at where it changed. Common practice, no source. */
  readonly look: string;
}

/** In the order in which they are shown. */
const followedKinds: readonly Followed[] = [
  {
    kind: 'reference',
    name: 'time constant of the reference run over the expected one',
    unit: '',
    factor: 1,
    look: 'Look at the nozzle (dirt, distance, centring), at the meter and its pressure, and at the junction in its body; then repeat the reference run.',
  },
  {
    kind: 'zero',
    name: rigKind('zero').name,
    unit: 'mV',
    factor: 1e-3,
    look: 'Look at the connections of the amplifier, at how long it was warm, and whether somebody turned its zero; then check again.',
  },
  {
    kind: 'gain',
    name: rigKind('gain').name,
    unit: '',
    factor: 1,
    look: 'Look at the range switch and supply of the amplifier and at the millivolt source; then check again.',
  },
  {
    kind: 'ice-point',
    name: rigKind('ice-point').name,
    unit: '°C',
    factor: 1,
    look: 'Look at how the ice bath is made, at the reference junction and at the zero; then check again.',
  },
  {
    kind: 'jet-temperature',
    name: rigKind('jet-temperature').name,
    unit: '°C',
    factor: 1,
    look: 'Look at the temperature of the room, at how long the air ran before, and at the compressor and its dryer; then check again.',
  },
];

const followed = new Map(followedKinds.map((one) => [one.kind, one]));

/** How a followed kind is said and shown. */
export function followedKind(kind: FollowedKind): Followed {
  const found = followed.get(kind);
  if (found === undefined) throw new Error(`${kind} is not followed`);
  return found;
}

/**
 * What was kept about the rigs as series over the terms. Reference runs of one bench, body and flow make one series:
 * the time constant over what was expected of it when it was kept, or, where nothing could be predicted, over the
 * geometric mean of the series.
 *
 * @param terms in any order; points are sorted by their times
 */
export function rigSeries(terms: readonly RigTerm[]): RigSeries[] {
  const series = new Map<string, Omit<RigSeries, 'points'> & { points: RigPoint[] }>();
  const add = ({ bench, kind, subject }: Omit<RigSeries, 'points'>, point: RigPoint) => {
    if (!Number.isFinite(point.at) || !Number.isFinite(point.value)) return;
    const name = JSON.stringify([followedKinds.findIndex((one) => one.kind === kind), subject, bench]);
    const own = series.get(name) ?? { bench, kind, subject, points: [] };
    own.points.push(point);
    series.set(name, own);
  };
  for (const { term, checks } of terms) {
    for (const { bench, kind, at, value, id } of checks) {
      const known = followedKinds.find((one) => one.kind === kind);
      if (known === undefined) continue;
      add({ bench, kind: known.kind, subject: null }, { at: Date.parse(at) / 1000, value, term, id });
    }
  }
  for (const { run, term, ratio } of ratiosOf(terms)) {
    const subject = `${run.body} in ${run.flow}`;
    const point = { at: Date.parse(run.at) / 1000, value: ratio, term, id: run.id };
    add({ bench: run.bench, kind: 'reference', subject }, point);
  }
  return [...series]
    .toSorted(([a], [b]) => a.localeCompare(b, 'en', { numeric: true }))
    .map(([, one]) => ({ ...one, points: one.points.toSorted((a, b) => a.at - b.at) }));
}

interface RatioOfRun {
  readonly run: ReferenceRun;
  readonly term: string;
  readonly ratio: number;
}

function ratiosOf(terms: readonly RigTerm[]): RatioOfRun[] {
  const all = terms.flatMap(({ term, runs }) => runs.map((run) => ({ run, term })));
  return all.map(({ run, term }) => {
    if (run.expected?.source === 'prediction') {
      return { run, term, ratio: run.timeConstant / run.expected.value };
    }
    const logs = all.flatMap(({ run: other }) => {
      const same = other.bench === run.bench && other.body === run.body && other.flow === run.flow;
      return same ? [Math.log(other.timeConstant)] : [];
    });
    const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
    return { run, term, ratio: run.timeConstant / Math.exp(mean) };
  });
}
