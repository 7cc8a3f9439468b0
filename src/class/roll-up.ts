import type { BodyCandidate } from '../live/index.ts';
import { type Causes, causesOf } from './causes.ts';
import { type UnlikeChain, unlikeChains } from './chains.ts';
import { type ConditionSummary, conditionSummaries } from './conditions.ts';
import { type GroupDeparture, groupDepartures } from './departures.ts';
import { knowledgeFrom } from './knowledge.ts';
import { type LabelMisfit, labelMisfits } from './labels.ts';
import { type LookAgain, lookAgainList } from './look-again-list.ts';
import { type ClassRecording, conditionKey, groupedByName, isCounting } from './recording.ts';
import { type Visit, visitsIn } from './roster.ts';
import { type SameTrace, sameTraces } from './same-trace.ts';

/** A class, or several sections of it, rolled up. */
export interface ClassSummary {
  readonly recordings: number;
  readonly counting: number;
  readonly sections: readonly string[];
  readonly conditions: readonly ConditionSummary[];
  readonly groups: readonly GroupDeparture[];
  readonly causes: Causes | null;
  readonly lookAgain: readonly LookAgain[];
  readonly sameTraces: readonly SameTrace[];
  readonly labels: readonly LabelMisfit[];
  /** How many of the counting recordings could be held against other bodies. */
  readonly labelsChecked: number;
  /** How many recordings have a sketch of their trace, by which copies are found. */
  readonly sketched: number;
  readonly chains: readonly UnlikeChain[];
  readonly visits: readonly Visit[];
  readonly left: readonly { readonly path: string; readonly reason: string }[];
  /** Terms whose recordings were looked at, and how many recordings they are. */
  readonly earlier: { readonly terms: readonly string[]; readonly recordings: number };
  /** Why codes may not be enough to keep somebody unknown; null where they are. */
  readonly privacy: string | null;
}

/** What a class is held against. */
export interface ClassContext {
  /** Recordings of earlier terms. */
  readonly earlier: readonly ClassRecording[];
  /** Recordings of this term that are not of the part looked at, as of other sections: traces may have come from there. */
  readonly beside: readonly ClassRecording[];
  /** Conditions with a prediction, for what each body should show. */
  readonly candidates: readonly BodyCandidate[];
}

/** Rounds in which labels are looked at again. */
const mostRounds = 4;

/** An innocent class has somebody asked to look again in at most one case out of twenty. */
const accused = 0.05;

/**
 * Rolls up a class. Bodies of different size are compared by ln of measured over predicted, groups by how far they lie
 * from the others in the same condition; what is said is 'look again', for nobody knows who is right.
 *
 * @param recordings of the class; those without a group count as one of their own
 */
export function classSummary(
  recordings: readonly ClassRecording[],
  { earlier, beside, candidates }: ClassContext = { earlier: [], beside: [], candidates: [] },
): ClassSummary {
  const counting = recordings.filter(isCounting);
  const knowledge = knowledgeFrom(earlier);
  const count = new Set(counting.map(conditionKey)).size;
  // Every condition is looked at, and the groups as a whole once more.
  const level = accused / (count + 1);
  let set: ReadonlySet<string> = new Set();
  let conditions = conditionSummaries(counting, set, knowledge, level);
  let labels = labelMisfits(counting, conditions, candidates);
  // Without those that are of another body the others show better what each body is like.
  for (let round = 0; round < mostRounds && labels.misfits.length > set.size; round++) {
    set = new Set(labels.misfits.map(({ path }) => path));
    conditions = conditionSummaries(counting, set, knowledge, level);
    labels = labelMisfits(counting, conditions, candidates);
  }
  const last = new Set(labels.misfits.map(({ path }) => path));
  if (last.size !== set.size || [...last].some((path) => !set.has(path))) {
    set = last;
    conditions = conditionSummaries(counting, set, knowledge, level);
  }
  const sound = counting.filter(({ path }) => !set.has(path));
  const groups = groupDepartures(sound, conditions, level);
  const traces = sameTraces(recordings, [...earlier, ...beside]);
  return {
    recordings: recordings.length,
    counting: counting.length,
    sections: [...new Set(recordings.flatMap(({ section }) => section ?? []))],
    conditions,
    groups,
    causes: causesOf(sound, conditions),
    lookAgain: lookAgainList({ conditions, groups, labels: labels.misfits, sameTraces: traces }),
    sameTraces: traces,
    labels: labels.misfits,
    labelsChecked: labels.checked,
    sketched: recordings.filter(({ sketch }) => sketch !== null).length,
    chains: unlikeChains(recordings),
    visits: visitsIn(recordings),
    left: recordings.flatMap(({ path, counts, timeConstant, reason }) =>
      counts && timeConstant !== null ? [] : [{ path, reason: reason ?? 'It has no time constant.' }],
    ),
    earlier: {
      terms: [...new Set(earlier.flatMap(({ term }) => term ?? []))],
      recordings: earlier.length,
    },
    privacy: privacyOf(recordings),
  };
}

/** With fewer groups in a section a code is soon a person (common practice, no source). */
const fewestGroups = 5;

function privacyOf(recordings: readonly ClassRecording[]): string | null {
  const sections = [...groupedByName(recordings, (one) => one.section ?? '')].map(([section, own]) => ({
    section,
    groups: new Set(own.flatMap(({ group }) => group ?? [])).size,
  }));
  const small = sections.filter(({ groups }) => groups > 0 && groups < fewestGroups);
  if (small.length === 0) return null;
  const named = small.map(({ section }) => section).filter((section) => section !== '');
  const [last = '', ...before] = named.toReversed();
  const where =
    last === ''
      ? 'This class has'
      : before.length === 0
        ? `Section ${last} has`
        : `Sections ${before.toReversed().join(', ')} and ${last} have`;
  return `${where} fewer than ${fewestGroups} groups: who was there can tell whose a result is, code or not. Show single groups to nobody but the group itself.`;
}
