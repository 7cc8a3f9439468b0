import type { Interval } from '../quantity/index.ts';
import { studentQuantile } from '../statistics/index.ts';
import { type VarianceComponents, varianceComponents } from './components.ts';
import { type KnownSpread, type Scored, scoreGroups } from './look-again.ts';
import { oneWayPrecision, type Precision } from './precision.ts';
import type { ClassRecording } from './recording.ts';
import { type SameTrace, sameTraces } from './same-trace.ts';

/** What a group found for a condition. Times in s. */
interface GroupResult {
  readonly group: string;
  readonly section: string | null;
  /** Geometric mean of its trials, as ln of tau is averaged. */
  readonly timeConstant: number;
  readonly interval: Interval;
  readonly trials: number;
  /** Distance from the robust mean of the groups; see `scoreGroups`. */
  readonly score: number;
  readonly lookAgain: boolean;
}

/** A condition over all groups. Scales are relative: standard deviations of ln tau. */
interface ConditionSummary {
  readonly body: string;
  readonly flow: string;
  readonly predicted: number | null;
  readonly groups: readonly GroupResult[];
  /** Robust mean of the groups, s, with its 95 % interval. */
  readonly location: number;
  readonly interval: Interval;
  readonly scale: number;
  readonly precision: Precision | null;
  /** Null where so few groups single nobody out. */
  readonly limit: number | null;
  readonly sentence: string;
}

/** Somebody who is asked to look again, and why. */
interface LookAgain {
  readonly group: string;
  readonly body: string | null;
  readonly flow: string | null;
  readonly score: number;
  readonly sentence: string;
}

/** A class, or several sections of it, rolled up. */
export interface ClassSummary {
  readonly recordings: number;
  readonly counting: number;
  readonly conditions: readonly ConditionSummary[];
  /** Each group over all its conditions: mean of ln(measured / robust mean of the condition). */
  readonly groups: readonly {
    readonly group: string;
    readonly departure: number;
    readonly score: number;
    readonly lookAgain: boolean;
    readonly trials: number;
  }[];
  /** Of ln(measured / predicted), or of the departures where nothing is predicted. */
  readonly causes: VarianceComponents | null;
  readonly lookAgain: readonly LookAgain[];
  readonly sameTraces: readonly SameTrace[];
  /** Chains that are set differently from most. */
  readonly chains: readonly { readonly path: string; readonly chain: string }[];
  readonly left: readonly { readonly path: string; readonly reason: string }[];
}

/** What earlier terms showed. */
export interface ClassKnowledge {
  /** Spread between groups of ln tau; null where there is none. */
  readonly spread: KnownSpread | null;
}

/**
 * Rolls up a class. Bodies of different size are compared by ln of measured over predicted, groups by how far they lie
 * from the others in the same condition; what is said is 'look again', for nobody knows who is right.
 *
 * @param recordings of the class; those without a group count as one of their own
 */
export function classSummary(
  recordings: readonly ClassRecording[],
  { spread }: ClassKnowledge = { spread: null },
): ClassSummary {
  const counting = recordings.filter(isCounting);
  const conditions = conditionsIn(counting).map((own) => conditionSummary(own, spread));
  const groups = groupDepartures(counting, conditions, spread);
  return {
    recordings: recordings.length,
    counting: counting.length,
    conditions,
    groups,
    causes: causesOf(counting, conditions),
    lookAgain: lookAgainList(conditions, groups),
    sameTraces: sameTraces(recordings),
    chains: unlikeChains(recordings),
    left: recordings.flatMap(({ path, counts, timeConstant, reason }) =>
      counts && timeConstant !== null ? [] : [{ path, reason: reason ?? 'It has no time constant.' }],
    ),
  };
}

type Counting = ClassRecording & { readonly timeConstant: NonNullable<ClassRecording['timeConstant']> };

function isCounting(recording: ClassRecording): recording is Counting {
  return recording.counts && recording.timeConstant !== null && recording.timeConstant.value > 0;
}

const groupName = ({ group, path }: ClassRecording) => group ?? path;

function conditionsIn(recordings: readonly Counting[]): Counting[][] {
  return [...grouped(recordings, ({ body, flow }) => JSON.stringify([body, flow])).values()];
}

function grouped<T>(things: readonly T[], nameOf: (thing: T) => string): Map<string, T[]> {
  const found = new Map<string, T[]>();
  for (const thing of things) {
    const name = nameOf(thing);
    const own = found.get(name);
    if (own === undefined) found.set(name, [thing]);
    else own.push(thing);
  }
  return found;
}

function conditionSummary(own: readonly Counting[], spread: KnownSpread | null): ConditionSummary {
  const groups = [...grouped(own, groupName)];
  const logs = groups.map(([, trials]) => trials.map(({ timeConstant }) => Math.log(timeConstant.value)));
  const means = logs.map(average);
  const scored = scoreGroups(means, spread);
  const { location, scale } = scored.summary;
  const usual = spread?.deviation ?? scale;
  const reach =
    (studentQuantile(0.975, Math.max(1, groups.length - 1)) * 1.25 * usual) / Math.sqrt(groups.length);
  const precision = groups.length >= 2 ? oneWayPrecision(logs) : null;
  const [first] = own;
  return {
    body: first?.body ?? '',
    flow: first?.flow ?? '',
    predicted: first?.predicted ?? null,
    groups: groups.map(([group, trials], i) => groupResult(group, trials, means[i] ?? 0, scored, i)),
    location: Math.exp(location),
    interval: [Math.exp(location - reach), Math.exp(location + reach)],
    scale,
    precision,
    limit: scored.limit,
    sentence: conditionSentence(groups.length, scored, precision),
  };
}

function groupResult(
  group: string,
  trials: readonly Counting[],
  mean: number,
  { groups }: Scored,
  index: number,
): GroupResult {
  const n = trials.length;
  const own = average(trials.map(({ timeConstant }) => timeConstant.relative ** 2));
  const scatter = trials.reduce(
    (sum, { timeConstant }) => sum + (Math.log(timeConstant.value) - mean) ** 2,
    0,
  );
  // What one trial knows of itself does not shrink with repeats: the jet and the ambient are the same for all.
  const relative = n > 1 ? Math.hypot(Math.sqrt(own / n), Math.sqrt(scatter / (n - 1) / n)) : Math.sqrt(own);
  const reach = (n > 1 ? studentQuantile(0.975, n - 1) : 2) * relative;
  const { score = 0, lookAgain = false } = groups[index] ?? {};
  return {
    group,
    section: trials[0]?.section ?? null,
    timeConstant: Math.exp(mean),
    interval: [Math.exp(mean - reach), Math.exp(mean + reach)],
    trials: n,
    score,
    lookAgain,
  };
}

function conditionSentence(
  groups: number,
  { limit, spread, summary }: Scored,
  precision: Precision | null,
): string {
  const percent = (part: number) => `${(100 * part).toPrecision(2)} %`;
  if (groups < 2) return 'One group alone: there is nothing to compare it with.';
  const scatter =
    precision === null || precision.repeatability === null
      ? `Groups scatter by ${percent(summary.scale)}.`
      : `Trials of one group scatter by ${percent(precision.repeatability)}, single trials of any group by ${percent(precision.reproducibility)}.`;
  if (limit === null) {
    return `${scatter} ${groups} groups are too few to single one out without the spread of earlier terms.`;
  }
  return `${scatter} A group is asked to look again beyond ${percent(limit * (spread === 'this-class' ? summary.scale : (precision?.reproducibility ?? summary.scale)))} of the robust mean.`;
}

function groupDepartures(
  recordings: readonly Counting[],
  conditions: readonly ConditionSummary[],
  spread: KnownSpread | null,
): ClassSummary['groups'] {
  const centres = new Map(
    conditions
      .filter(({ groups }) => groups.length >= 2)
      .map(({ body, flow, location }) => [JSON.stringify([body, flow]), Math.log(location)]),
  );
  const departures = recordings.flatMap((one) => {
    const centre = centres.get(JSON.stringify([one.body, one.flow]));
    return centre === undefined
      ? []
      : [{ group: groupName(one), departure: Math.log(one.timeConstant.value) - centre }];
  });
  const groups = [...grouped(departures, ({ group }) => group)];
  if (groups.length < 2) return [];
  const means = groups.map(([, own]) => average(own.map(({ departure }) => departure)));
  const scored = scoreGroups(means, spread);
  return groups.map(([group, own], i) => ({
    group,
    departure: means[i] ?? 0,
    score: scored.groups[i]?.score ?? 0,
    lookAgain: scored.groups[i]?.lookAgain ?? false,
    trials: own.length,
  }));
}

/** Where the spread comes from: section, group within it, bench, body, flow and day. */
function causesOf(
  recordings: readonly Counting[],
  conditions: readonly ConditionSummary[],
): VarianceComponents | null {
  const centres = new Map(
    conditions.map(({ body, flow, location, predicted }) => [
      JSON.stringify([body, flow]),
      Math.log(predicted ?? location),
    ]),
  );
  return varianceComponents(
    recordings.map((one) => ({
      value: Math.log(one.timeConstant.value) - (centres.get(JSON.stringify([one.body, one.flow])) ?? 0),
      levels: {
        section: one.section ?? '',
        group: `${one.section ?? ''}/${groupName(one)}`,
        bench: one.bench ?? '',
        body: one.body,
        flow: one.flow,
        day: one.day ?? '',
      },
    })),
    ['section', 'group', 'bench', 'body', 'flow', 'day'],
  );
}

function lookAgainList(conditions: readonly ConditionSummary[], groups: ClassSummary['groups']): LookAgain[] {
  const percent = (part: number) => `${part < 0 ? '−' : '+'}${(100 * Math.abs(part)).toPrecision(2)} %`;
  const single = conditions.flatMap(({ body, flow, location, groups: own }) =>
    own
      .filter(({ lookAgain }) => lookAgain)
      .map(({ group, timeConstant, score }): LookAgain => {
        const off = percent(Math.log(timeConstant / location));
        const sentence = `Look again at ${body} at ${flow}: it lies ${off} from the groups' robust mean, ${Math.abs(score).toPrecision(2)} times their spread.`;
        return { group, body, flow, score, sentence };
      }),
  );
  const whole = groups
    .filter(({ lookAgain }) => lookAgain)
    .map(({ group, departure, score }): LookAgain => {
      const sentence = `Look again at all trials: together they lie ${percent(departure)} from the other groups' means.`;
      return { group, body: null, flow: null, score, sentence };
    });
  return [...single, ...whole].sort((a, b) => Math.abs(b.score) - Math.abs(a.score));
}

function unlikeChains(recordings: readonly ClassRecording[]): ClassSummary['chains'] {
  const known = recordings.flatMap(({ path, chain }) => (chain === null ? [] : [{ path, chain }]));
  const sets = [...grouped(known, ({ chain }) => chain)].sort((a, b) => b[1].length - a[1].length);
  return sets.slice(1).flatMap(([, own]) => own);
}

function average(values: readonly number[]): number {
  return values.reduce((sum, x) => sum + x, 0) / values.length;
}
