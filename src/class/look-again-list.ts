import type { ConditionSummary } from './conditions.ts';
import type { GroupDeparture } from './departures.ts';
import type { LabelMisfit } from './labels.ts';
import { departureWords } from './recording.ts';
import type { SameTrace } from './same-trace.ts';

/** Somebody who is asked to look again, and why. */
export interface LookAgain {
  readonly kind: 'same-trace' | 'label' | 'apart' | 'whole';
  /** One group, or the two that share a trace; a path where a recording has no group. */
  readonly groups: readonly string[];
  readonly body: string | null;
  readonly flow: string | null;
  readonly paths: readonly string[];
  /** Distance from the robust mean in standard deviations; null where the reason is another. */
  readonly score: number | null;
  readonly sentence: string;
}

/** What is seen of a class that asks for a second look. */
interface Seen {
  readonly conditions: readonly ConditionSummary[];
  readonly groups: readonly GroupDeparture[];
  readonly labels: readonly LabelMisfit[];
  readonly sameTraces: readonly SameTrace[];
}

/**
 * Everybody who is asked to look again, the weightiest reason first. What a label explains is not said a second time as
 * a departure, nor that a group lies off as a whole where a single condition of it does.
 */
export function lookAgainList({ conditions, groups, labels, sameTraces }: Seen): LookAgain[] {
  const explained = new Set(labels.map(({ path }) => path));
  const single = conditions.flatMap(({ body, flow, location, groups: own }) =>
    own
      .filter(({ lookAgain, paths }) => lookAgain && !paths.every((path) => explained.has(path)))
      .map(({ group, timeConstant, score, paths }): LookAgain => {
        const off = departureWords(Math.log(timeConstant / location));
        const sentence = `Look again at ${body} at ${flow}: it lies ${off} from the groups' robust mean, ${Math.abs(score).toPrecision(2)} times their spread.`;
        return { kind: 'apart', groups: [group], body, flow, paths, score, sentence };
      }),
  );
  const named = new Set([...single.flatMap((one) => one.groups), ...labels.map(({ group }) => group ?? '')]);
  const whole = groups
    .filter(({ lookAgain, group, conditions: count }) => lookAgain && count > 1 && !named.has(group))
    .map(({ group, departure, score, paths }): LookAgain => {
      const sentence = `Look again at all trials: together they lie ${departureWords(departure)} from the other groups' means.`;
      return { kind: 'whole', groups: [group], body: null, flow: null, paths, score, sentence };
    });
  const bySize = [...single, ...whole].sort((a, b) => Math.abs(b.score ?? 0) - Math.abs(a.score ?? 0));
  return [...sameTraces.filter(isSurprising).map(ofTrace), ...ofLabels(labels), ...bySize];
}

/** A trace of one group's that stands twice is a copy that counts once; one that was lent is known of. */
function isSurprising({ acrossGroups, borrowed }: SameTrace): boolean {
  return acrossGroups && !borrowed;
}

function ofTrace({ paths, groups, sentence }: SameTrace): LookAgain {
  return { kind: 'same-trace', groups, body: null, flow: null, paths, score: null, sentence };
}

/** Two labels that were exchanged are one entry. */
function ofLabels(labels: readonly LabelMisfit[]): LookAgain[] {
  const said = new Set<string>();
  return labels.flatMap(({ path, group, body, flow, looksLike, exchangedWith, sentence }) => {
    if (said.has(path)) return [];
    const paths = exchangedWith === null ? [path] : [path, exchangedWith];
    for (const one of paths) said.add(one);
    const pair = `The recordings of ${body} and ${looksLike} at ${flow} each cool like the other body: they may have been exchanged.`;
    return [
      {
        kind: 'label' as const,
        groups: [group ?? path],
        body,
        flow,
        paths,
        score: null,
        sentence: exchangedWith === null ? sentence : pair,
      },
    ];
  });
}
