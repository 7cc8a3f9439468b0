import { type AnalysisRequest, decidedAbout, withMarks } from '../analysis/index.ts';
import { readOptionsWords } from '../recording/index.ts';
import type { Decision } from '../store/index.ts';
import type { AnalyzeOptions } from './wishes.ts';

/** How a recording is to be analyzed with what people decided about it. */
export interface DecidedRequest {
  readonly request: AnalysisRequest;
  /** What was decided, the first first; empty without an experiment. */
  readonly decisions: readonly Decision[];
  /** The same for a person, a sentence each. */
  readonly sentences: readonly string[];
}

/**
 * What people decided about a recording of the experiment, under the options: those win.
 *
 * @param path as typed
 * @param folder of the experiment
 * @throws DecisionError where the decisions cannot be read
 */
export async function withDecisions(
  path: string,
  request: AnalysisRequest,
  options: AnalyzeOptions,
  folder: string,
): Promise<DecidedRequest> {
  const { decisions, marks, reading } = await decidedAbout(folder, path);
  // Marks belong to one heating: another one that is asked for is cut as it is found.
  const cut = options.heating === undefined ? marks : null;
  const sentences = decisions.flatMap((decision) => sentenceOf(decision, cut === null) ?? []);
  return {
    request: {
      ...request,
      read: { ...reading, ...request.read },
      settings: cut === null ? request.settings : withMarks(request.settings, cut),
    },
    decisions,
    sentences,
  };
}

/** Null for what was taken back or has nothing to say here. */
function sentenceOf(decision: Decision, ownHeating: boolean): string | null {
  const { kind, who, at, read, applies, note } = decision;
  const why = decision.why === '' ? '' : `: ${decision.why}`;
  const by = `${who}, ${at.slice(0, 10)}${why}`;
  if (kind === 'undo') return null;
  if (!applies) return note?.startsWith('It was made for other bytes') ? `${by}. ${note}` : null;
  if (kind === 'reject') return `taken out of the comparison by ${by}`;
  if (kind === 'reading') return `read ${readOptionsWords(read ?? {})}, by ${by}`;
  return ownHeating ? `marks moved by ${by}; not used, for --heating is given` : `marks moved by ${by}`;
}
