import { scatteringFar } from './causes.ts';
import { centresBy } from './centres.ts';
import type { ConditionSummary } from './conditions.ts';
import { scoreGroups } from './look-again.ts';
import { type Counting, conditionKey, groupedByName, groupName } from './recording.ts';

/** A group over all its conditions: mean of ln(measured / robust mean of the condition). */
export interface GroupDeparture {
  readonly group: string;
  readonly departure: number;
  readonly score: number;
  readonly lookAgain: boolean;
  readonly trials: number;
  readonly conditions: number;
  readonly paths: readonly string[];
}

/**
 * How far each group lies off over all conditions that it shares with others.
 *
 * @param level how often an innocent class has somebody asked to look again by this
 */
export function groupDepartures(
  recordings: readonly Counting[],
  conditions: readonly ConditionSummary[],
  level: number,
): GroupDeparture[] {
  const centreOf = centresBy(conditions.filter(({ groups }) => groups.length >= 2));
  const alone = new Set(
    [...conditions.filter(({ groups }) => groups.length < 2), ...scatteringFar(conditions)].map(conditionKey),
  );
  const shared = recordings.filter((one) => !alone.has(conditionKey(one)));
  const groups = [...groupedByName(shared, groupName)];
  if (groups.length < 2) return [];
  const means = groups.map(
    ([, own]) =>
      own.reduce((sum, one) => sum + Math.log(one.timeConstant.value / centreOf(one)), 0) / own.length,
  );
  const scored = scoreGroups(means, null, level);
  return groups.map(([group, own], i) => ({
    group,
    departure: means[i] ?? 0,
    score: scored.groups[i]?.score ?? 0,
    lookAgain: scored.groups[i]?.lookAgain ?? false,
    trials: own.length,
    conditions: new Set(own.map(conditionKey)).size,
    paths: own.map(({ path }) => path),
  }));
}
