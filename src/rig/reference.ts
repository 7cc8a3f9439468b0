import { conditionName, type Experiment, entryOf, predictCondition } from '../experiment/index.ts';
import { benchRefused, listed, momentOf, type Refused, refused, signed } from './refusal.ts';
import type { ExpectedReference, ReferenceBook, ReferenceRun } from './types.ts';

/** What somebody says of a reference run. */
export interface AskedReference {
  readonly bench: string | null;
  readonly body: string | null;
  readonly flow: string | null;
  readonly term: string;
  readonly who: string;
  readonly note: string;
  /** When it was made, ISO 8601 with a zone; null for what its recording says. */
  readonly at: string | null;
}

/** What its recording came to. */
export interface ReferenceResult {
  readonly recording: string;
  readonly sha256: string;
  readonly timeConstant: {
    readonly value: number;
    readonly standardUncertainty: number;
    readonly interval: readonly [number, number];
  } | null;
  /** Why it does not count; null where it does. */
  readonly excluded: string | null;
  /** ms since 1970 (UTC); NaN where nothing tells. */
  readonly began: number;
}

/** A reference run without the name that the book gives it. */
export type NewReferenceRun = Omit<ReferenceRun, 'id'>;

/** A room that other reference runs of the same bench, body and flow leave, as a part: common practice, no source. */
const usualScatter = 0.03;

/** The reference runs of a book that nobody took back. */
export function countingRuns({ runs, withdrawn }: ReferenceBook): readonly ReferenceRun[] {
  const gone = new Set(withdrawn.map(({ id }) => id));
  return runs.filter(({ id }) => !gone.has(id));
}

/**
 * Holds a reference run against the experiment: bench, body, flow, term and time, and that its recording counts.
 *
 * @param known the runs that count already
 * @param now ms since 1970 (UTC), from the caller's clock
 */
export function admitReference(
  experiment: Experiment,
  asked: AskedReference,
  found: ReferenceResult,
  known: readonly ReferenceRun[],
  now: number,
): { readonly ok: true; readonly run: NewReferenceRun } | Refused {
  const words = signed(asked, 'reference run');
  if (!words.ok) return words;
  const { body, flow } = asked;
  if (body === null || entryOf(experiment.bodies, body) === undefined) {
    return codeRefused('body', body, Object.keys(experiment.bodies));
  }
  if (flow === null || entryOf(experiment.flows, flow) === undefined) {
    return codeRefused('flow', flow, Object.keys(experiment.flows));
  }
  const bench = benchRefused(experiment.benches, asked.bench);
  if (bench !== null) return bench;
  if (asked.term.trim() === '' || asked.term.length > 60) {
    return refused('The term is not named.', 'Write it as term in the experiment file, or with the run.');
  }
  const { timeConstant, excluded, recording, sha256 } = found;
  if (timeConstant === null || excluded !== null) {
    return refused(
      `${recording} does not count: ${excluded ?? 'it has no time constant.'}`,
      'Repeat the trial, or keep another recording.',
    );
  }
  const twin = known.find((one) => one.sha256 === sha256);
  if (twin !== undefined) {
    return refused(
      `${recording} is kept already, as ${twin.id}.`,
      'Keep another recording, or take that one back first.',
    );
  }
  const started = Number.isFinite(found.began) ? found.began : now;
  const made = momentOf(asked.at === null ? started : Date.parse(asked.at), now, 'reference run');
  if (!made.ok) return made;
  const place = { bench: asked.bench, body, flow };
  return {
    ok: true,
    run: {
      at: made.at,
      who: words.who,
      term: asked.term.trim(),
      ...place,
      recording,
      sha256,
      timeConstant: timeConstant.value,
      standardUncertainty: timeConstant.standardUncertainty,
      interval: timeConstant.interval,
      expected: expectedOf(experiment, place, known),
      note: words.note,
    },
  };
}

/** By theory where the experiment file says enough for it, else by what the same bench showed before. */
function expectedOf(
  experiment: Experiment,
  { bench, body, flow }: Pick<ReferenceRun, 'bench' | 'body' | 'flow'>,
  known: readonly ReferenceRun[],
): ExpectedReference | null {
  const predicted = predictCondition(experiment, { body, flow }, 0);
  if (predicted.ok) {
    const { value, standardUncertainty } = predicted.prediction.timeConstant;
    return { value, relative: standardUncertainty / value, source: 'prediction' };
  }
  const name = conditionName({ body, flow });
  const same = known.filter((one) => one.bench === bench && conditionName(one) === name);
  if (same.length === 0) return null;
  const logs = same.map(({ timeConstant }) => Math.log(timeConstant));
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length;
  return { value: Math.exp(mean), relative: usualScatter / Math.sqrt(logs.length), source: 'bench-mean' };
}

function codeRefused(what: string, code: string | null, known: readonly string[]): Refused {
  const named = code === null ? `No ${what} is named` : `There is no ${what} "${code.slice(0, 60)}"`;
  return refused(
    `${named}: a reference run is of one body in one flow.`,
    known.length === 0 ? `Describe a ${what} in the experiment file first.` : `Name one of ${listed(known)}.`,
  );
}
