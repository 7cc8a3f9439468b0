import { type Interval, logCoverageInterval, usualCoverage } from '../quantity/index.ts';
import { studentQuantile } from '../statistics/index.ts';
import type { ClassKnowledge, EarlierCondition } from './knowledge.ts';
import { type Scored, scoreGroups } from './look-again.ts';
import { oneWayPrecision, type Precision } from './precision.ts';
import { type Counting, conditionKey, groupedByName, groupName, percentWords } from './recording.ts';

/** What a group found for a condition. Times in s. */
interface GroupResult {
  readonly group: string;
  readonly section: string | null;
  /** Geometric mean of its trials, as ln of tau is averaged. */
  readonly timeConstant: number;
  readonly interval: Interval;
  readonly trials: number;
  readonly paths: readonly string[];
  /** Distance from the robust mean of the groups; see `scoreGroups`. */
  readonly score: number;
  readonly lookAgain: boolean;
  /** Whether it cools like another body than its label says: it is shown, and tells nothing of the others. */
  readonly otherBody: boolean;
}

/** A condition over all groups. Scales are relative: standard deviations of ln tau. */
export interface ConditionSummary {
  readonly body: string;
  readonly flow: string;
  readonly predicted: number | null;
  readonly groups: readonly GroupResult[];
  /** Robust mean of the groups, s, with its 95 % interval; null for one of two groups, which tell no spread. */
  readonly location: number;
  readonly interval: Interval | null;
  readonly scale: number;
  /** Robust mean, s, within which a group is not asked to look again; null where nobody is singled out. */
  readonly band: Interval | null;
  /** Whose spread the band is made of. */
  readonly spread: 'this-class' | 'earlier-terms';
  readonly precision: Precision | null;
  /** The same condition in earlier terms; null where there is none. */
  readonly earlier: EarlierCondition | null;
  readonly sentence: string;
}

/**
 * Puts trials together by condition and group.
 *
 * @param recordings that count
 * @param set paths whose value is of something else, as of another body: they are shown, but spread nothing
 * @param level how often an innocent class has somebody asked to look again, over all conditions
 */
export function conditionSummaries(
  recordings: readonly Counting[],
  set: ReadonlySet<string>,
  knowledge: ClassKnowledge,
  level: number,
): ConditionSummary[] {
  const conditions = [...groupedByName(recordings, conditionKey).values()];
  return conditions.map((own) => conditionSummary(own, set, knowledge, level));
}

function conditionSummary(
  own: readonly Counting[],
  set: ReadonlySet<string>,
  knowledge: ClassKnowledge,
  level: number,
): ConditionSummary {
  const all = [...groupedByName(own, groupName)];
  const sound = groupedByName(
    own.filter(({ path }) => !set.has(path)),
    groupName,
  );
  // Where no label fits, the values are all that there is.
  const judged = sound.size > 0 ? [...sound] : all;
  const logs = judged.map(([, trials]) => trials.map(({ timeConstant }) => Math.log(timeConstant.value)));
  const [first] = own;
  const [body, flow] = [first?.body ?? '', first?.flow ?? ''];
  const scored = scoreGroups(logs.map(average), knowledge.spreadOf(body, flow), level);
  const { location, scale } = scored.summary;
  const precision = judged.length >= 2 ? oneWayPrecision(logs) : null;
  const half = scored.limit === null ? null : scored.limit * scored.deviation;
  const results = all.map(([group, trials]) => {
    const result = groupResult(group, trials, precision);
    const departure = Math.log(result.timeConstant) - location;
    const score = scored.deviation > 0 ? departure / scored.deviation : 0;
    const at = judged.findIndex(([name]) => name === group);
    const otherBody = !sound.has(group) && sound.size > 0;
    return { ...result, score, otherBody, lookAgain: scored.groups[at]?.lookAgain ?? false };
  });
  return {
    body,
    flow,
    predicted: first?.predicted ?? null,
    groups: results,
    location: Math.exp(location),
    interval: meanInterval(
      scored,
      results.filter(({ otherBody }) => !otherBody),
    ),
    scale,
    band: half === null ? null : [Math.exp(location - half), Math.exp(location + half)],
    spread: scored.spread,
    precision,
    earlier: knowledge.earlierOf(body, flow),
    sentence: conditionSentence(judged.length, scored, precision),
  };
}

/** Of one group alone its own; of two none, unless earlier terms tell how much groups differ. */
function meanInterval(
  { summary, deviation, degreesOfFreedom, spread }: Scored,
  judged: readonly GroupResult[],
): Interval | null {
  const n = judged.length;
  if (n === 1) return judged[0]?.interval ?? null;
  if (n === 2 && spread === 'this-class') return null;
  const reach = (studentQuantile(0.975, degreesOfFreedom) * 1.25 * deviation) / Math.sqrt(n);
  return [Math.exp(summary.location - reach), Math.exp(summary.location + reach)];
}

/**
 * A group's result. How trials of one group scatter is taken from all groups together, or from what the trials say of
 * themselves where that is more; what its trials have in common does not shrink with their number.
 */
function groupResult(
  group: string,
  trials: readonly Counting[],
  precision: Precision | null,
): Omit<GroupResult, 'score' | 'lookAgain' | 'otherBody'> {
  const n = trials.length;
  const constants = trials.map(({ timeConstant }) => timeConstant);
  const value = Math.exp(average(constants.map((one) => Math.log(one.value))));
  const own = Math.sqrt(average(constants.map((one) => one.own ** 2)));
  const shared = Math.sqrt(average(constants.map((one) => one.shared ** 2)));
  const pooled = precision?.repeatability ?? 0;
  const random = Math.max(own, pooled) / Math.sqrt(n);
  const relative = Math.hypot(random, shared);
  const freedom =
    pooled > own
      ? (precision?.degreesOfFreedom.within ?? 1) * (relative / random) ** 4
      : constants.reduce((sum, one) => sum + one.degreesOfFreedom, 0);
  return {
    group,
    section: trials[0]?.section ?? null,
    timeConstant: value,
    interval: logCoverageInterval(value, relative, Math.max(1, freedom), usualCoverage),
    trials: n,
    paths: trials.map(({ path }) => path),
  };
}

function conditionSentence(
  groups: number,
  { limit, spread, summary, deviation }: Scored,
  precision: Precision | null,
): string {
  if (groups < 2) return 'One group alone: there is nothing to compare it with.';
  const scatter =
    precision === null || precision.repeatability === null
      ? `Groups scatter by ${percentWords(summary.scale)}.`
      : `Trials of one group scatter by ${percentWords(precision.repeatability)}, single trials of any group by ${percentWords(precision.reproducibility)}.`;
  if (limit === null) {
    return `${scatter} ${groups} groups are too few to single one out without the spread of earlier terms.`;
  }
  const whose = spread === 'earlier-terms' ? ', by the spread of earlier terms' : '';
  return `${scatter} A group is asked to look again beyond ${percentWords(limit * deviation)} of the robust mean${whose}.`;
}

function average(values: readonly number[]): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}
