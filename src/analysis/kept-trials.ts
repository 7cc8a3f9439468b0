import type { RigRun } from '../class/index.ts';
import type { Experiment } from '../experiment/index.ts';
import {
  type Decision,
  DecisionError,
  type DecisionHistory,
  decisionHistory,
  readDecisions,
} from '../store/index.ts';
import type { Essence } from './essence.ts';
import { KeptBook } from './kept-book.ts';
import type { KeptResult } from './kept-result.ts';
import { findRecordings } from './measure.ts';
import type { RecordingSummary } from './types.ts';

/** A recording of a folder as far as it is known without reading it. */
export interface KeptTrial {
  readonly summary: RecordingSummary;
  /** Why it does not count; null where it does. */
  readonly excluded: string | null;
  /** Null where nothing is kept. */
  readonly sha256: string | null;
  /** Of the cooling, °C. */
  readonly ambient: number | null;
  /** Standard uncertainties of ln tau: from what differs between runs, and from what they share. */
  readonly run: Essence['run'];
  /** The first first. */
  readonly decisions: readonly Decision[];
}

const notAnalyzed = 'It is not analyzed yet.';
const unsure = 'Its decisions cannot be read, so that nobody knows whether it was taken out.';

/**
 * The recordings of a folder with what is kept of their results and what people decided. Nothing is analyzed and nothing
 * is written, so that it serves for the folders of earlier terms too.
 *
 * @param folder of an experiment, of this or an earlier term
 */
export async function keptTrials(folder: string, experiment: Experiment): Promise<KeptTrial[]> {
  const trials: KeptTrial[] = [];
  const originals = new Map<string, string>();
  const book = await KeptBook.open(folder);
  for (const { path, place } of (await findRecordings(folder, experiment, [])).placed) {
    const kept = await book.of(path);
    const history = await decided(folder, path, kept?.sha256 ?? null);
    const sha256 = kept?.sha256 ?? null;
    const copyOf = sha256 === null ? null : (originals.get(sha256) ?? null);
    if (sha256 !== null && copyOf === null) originals.set(sha256, path);
    const { section, group, bench, body, flow, repeat } = place;
    const essence = kept?.result.kind === 'analyzed' ? kept.result.essence : null;
    trials.push({
      summary: {
        path,
        place: { section, group, bench, body, flow, repeat },
        state: kept === null ? 'waiting' : kept.result.kind,
        message: kept?.result.kind === 'unreadable' ? kept.result.message : null,
        note: null,
        timeConstant: essence?.timeConstant ?? null,
        verdict: essence?.verdict ?? null,
        codes: essence?.codes ?? [],
        strip: null,
        decided: history !== null && (history.marks !== null || history.rejected !== null),
        rejected: history !== null && history.rejected !== null,
        copyOf,
        duration: essence?.duration ?? null,
        startedAt: essence?.startedAt ?? null,
      },
      excluded: whyNot(kept, history, copyOf),
      sha256,
      ambient: essence?.ambient ?? null,
      run: essence?.run ?? null,
      decisions: history?.decisions ?? [],
    });
  }
  return trials;
}

/** The runs of a folder that count, from what is kept of its recordings. */
export async function keptRuns(folder: string, experiment: Experiment): Promise<RigRun[]> {
  return (await keptTrials(folder, experiment)).flatMap(({ summary, excluded, run }): RigRun[] => {
    const { timeConstant, place } = summary;
    const { bench, body, flow } = place;
    if (excluded !== null || run === null || timeConstant === null || body === null || flow === null)
      return [];
    return [{ bench, body, flow, timeConstant: timeConstant.value, ...run }];
  });
}

/** Null where the decisions cannot be read. */
async function decided(folder: string, path: string, sha256: string | null): Promise<DecisionHistory | null> {
  try {
    return decisionHistory(await readDecisions(folder, path), sha256);
  } catch (error) {
    if (error instanceof DecisionError) return null;
    throw error;
  }
}

function whyNot(
  kept: KeptResult | null,
  history: DecisionHistory | null,
  copyOf: string | null,
): string | null {
  if (kept === null) return notAnalyzed;
  if (history === null) return unsure;
  if (history.rejected !== null) return `${history.rejected.who} took it out: ${history.rejected.why}`;
  if (kept.result.kind === 'unreadable') return kept.result.message;
  if (copyOf !== null) return `It is the same file as ${copyOf}, byte for byte.`;
  return kept.result.essence.excluded;
}
