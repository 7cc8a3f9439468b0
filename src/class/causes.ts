import { median } from '../statistics/index.ts';
import { centresBy } from './centres.ts';
import { type VarianceComponents, varianceComponents } from './components.ts';
import type { ConditionSummary } from './conditions.ts';
import { type Counting, conditionKey, departureWords, groupName, percentWords } from './recording.ts';

/** Where the spread of a class comes from. */
export interface Causes extends VarianceComponents {
  /** What is taken apart: ln of measured over predicted, or over the robust mean of the condition. */
  readonly of: 'measured/predicted' | 'measured/class';
  /** Factors that cannot be told apart here, as each section had a day of its own. */
  readonly alike: readonly (readonly [kept: string, same: string])[];
  /** Conditions that scatter far more than the others, which would drown what the others tell. */
  readonly without: readonly { readonly body: string; readonly flow: string }[];
  readonly sentence: string;
}

const factors = ['section', 'group', 'bench', 'body', 'flow', 'day'] as const;

/** Conditions that scatter far more than most, as a bare junction among spheres. */
export function scatteringFar(conditions: readonly ConditionSummary[]): ConditionSummary[] {
  const usual = conditions.flatMap(({ precision }) => precision?.reproducibility ?? []);
  const limit = usual.length < 3 ? Number.POSITIVE_INFINITY : farMore * median(usual);
  return conditions.filter(({ precision }) => (precision?.reproducibility ?? 0) > limit);
}

/** A condition that scatters by so many times as much as most is left aside (common practice, no source). */
const farMore = 2.5;

/**
 * Where the spread comes from: section, group within it, bench, body, flow and day, as random effects on ln tau.
 *
 * @param all that count and are of what their labels say
 * @param conditions they are of
 */
export function causesOf(all: readonly Counting[], conditions: readonly ConditionSummary[]): Causes | null {
  const apart = scatteringFar(conditions);
  const without = new Set(apart.map(conditionKey));
  const recordings = all.filter((one) => !without.has(conditionKey(one)));
  const centreOf = centresBy(conditions);
  const predicted = recordings.every((one) => one.predicted !== null);
  const results = recordings.map((one) => ({
    value: Math.log(one.timeConstant.value / (predicted ? (one.predicted ?? 1) : centreOf(one))),
    levels: {
      section: one.section ?? '',
      group: `${one.section ?? ''}/${groupName(one)}`,
      bench: one.bench ?? '',
      body: one.body,
      flow: one.flow,
      day: one.day ?? '',
    },
  }));
  const alike: [string, string][] = [];
  const told: (typeof factors)[number][] = [];
  const seen = new Map<string, string>();
  for (const factor of factors) {
    // About the condition's own mean, body and flow have nothing left to say.
    if (!predicted && (factor === 'body' || factor === 'flow')) continue;
    const parts = partitionOf(results.map(({ levels }) => levels[factor]));
    const same = seen.get(parts);
    if (same !== undefined) {
      if (new Set(parts.split(',')).size > 1) alike.push([same, factor]);
      continue;
    }
    seen.set(parts, factor);
    told.push(factor);
  }
  const found = varianceComponents(results, told);
  if (found === null) return null;
  const of = predicted ? 'measured/predicted' : 'measured/class';
  return {
    ...found,
    of,
    alike,
    without: apart.map(({ body, flow }) => ({ body, flow })),
    sentence: sentenceOf(found, alike),
  };
}

/** The same text for the same parts, whatever their names. */
function partitionOf(levels: readonly string[]): string {
  const numbers = new Map<string, number>();
  return levels
    .map((level) => {
      const number = numbers.get(level) ?? numbers.size;
      numbers.set(level, number);
      return number;
    })
    .join(',');
}

function sentenceOf({ factors: found, residual }: VarianceComponents, alike: Causes['alike']): string {
  const shown = found
    .filter(({ shows }) => shows)
    .toSorted((a, b) => b.share - a.share)
    .map(({ factor, deviation, effects }) => {
      const names = [factor, ...alike.filter(([kept]) => kept === factor).map(([, same]) => same)].join(
        ' or ',
      );
      const [furthest] = effects;
      const most =
        furthest === undefined || factor === 'group'
          ? ''
          : `, most of all ${furthest.level} by ${departureWords(furthest.effect)}`;
      return `${names} by ${percentWords(deviation)}${most}`;
    });
  const rest = `Trials alike in all of this scatter by ${percentWords(residual)}.`;
  if (shown.length === 0) return `No cause stands out beyond chance. ${rest}`;
  return `The spread belongs to ${shown.join('; ')}. ${rest}`;
}
