/** What the server compares, as figures and tables take it: pure functions. */
import {
  conditionsOf,
  type Experiment,
  entryOf,
  experimentSchema,
  parseChecked,
  predictCondition,
} from '../../../src/experiment/index.ts';
import type { ComparedCondition, TrendSeries } from '../../../src/figure/index.ts';
import type { ComparisonView } from '../../../src/server/contract/index.ts';
import { conditionWords } from '../frame/names.ts';

export type ConditionView = ComparisonView['conditions'][number];

export function nameOf({ body, flow }: { readonly body: string; readonly flow: string }): string {
  return conditionWords(body, flow);
}

/** Conditions that have a prediction, for the figures. */
export function comparedConditions(conditions: readonly ConditionView[]): readonly ComparedCondition[] {
  return conditions.flatMap(({ body, flow, measured, predicted, verdict }) => {
    if (predicted === null || verdict === null) return [];
    return [
      {
        body,
        flow,
        measured: measured.value,
        measuredInterval: measured.interval,
        predicted: predicted.value,
        predictedInterval: predicted.interval,
        verdict,
      },
    ];
  });
}

/** Verdicts in words, and how often each is given. */
export function countWords(conditions: readonly ConditionView[]): readonly string[] {
  const count = (verdict: ConditionView['verdict']) =>
    conditions.filter((one) => one.verdict === verdict).length;
  const [agrees, disagrees, weak, none] = [
    count('agrees'),
    count('disagrees'),
    count('inconclusive'),
    count(null),
  ];
  return [
    ...(agrees > 0 ? [`${agrees} ${agrees === 1 ? 'agrees' : 'agree'} with theory`] : []),
    ...(disagrees > 0 ? [`${disagrees} ${disagrees === 1 ? 'disagrees' : 'disagree'}`] : []),
    ...(weak > 0 ? [`${weak} too weak to tell`] : []),
    ...(none > 0 ? [`${none} without a prediction`] : []),
  ];
}

/** What is to be kept in mind about recordings of some conditions. */
export function notedAbout(
  noted: ComparisonView['noted'],
  conditions: readonly ConditionView[],
): ComparisonView['noted'] {
  const shown = new Set(conditions.flatMap(({ measured }) => measured.runs.map(({ path }) => path)));
  return noted.flatMap((one) => {
    const paths = one.paths.filter((path) => shown.has(path));
    return paths.length === 0 ? [] : [{ ...one, paths }];
  });
}

/** Groups that have recordings among the conditions, in order. */
export function groupsOf({ conditions }: ComparisonView): readonly string[] {
  const found = new Set(
    conditions.flatMap(({ measured }) =>
      measured.runs.flatMap(({ group }) => (group === null ? [] : [group])),
    ),
  );
  return [...found].sort((a, b) => a.localeCompare(b, 'en', { numeric: true }));
}

/** Where a condition stands in a trend. */
interface TrendPlace {
  readonly material: string;
  readonly shape: string;
  /** mm. */
  readonly diameter: number;
  /** Speed of the air at the body, m/s. */
  readonly velocity: number;
}

/** What theory needs of the experiment: the accuracy of the correlation, and the places of conditions in trends. */
export interface TheoryBasis {
  /** As a part of h; null where the file cannot be read. */
  readonly accuracy: number | null;
  readonly places: ReadonlyMap<string, TrendPlace>;
}

export function theoryBasis(text: string): TheoryBasis {
  const checked = parseChecked(text, experimentSchema);
  if (!checked.ok) return { accuracy: null, places: new Map() };
  const experiment = checked.value;
  const { measured, leftOut } = conditionsOf(experiment);
  const places = [...measured, ...leftOut].flatMap((condition): [string, TrendPlace][] => {
    const place = trendPlace(experiment, condition);
    return place === null ? [] : [[nameOf(condition), place]];
  });
  return { accuracy: experiment.prediction.accuracy, places: new Map(places) };
}

function trendPlace(
  experiment: Experiment,
  condition: { readonly body: string; readonly flow: string },
): TrendPlace | null {
  const body = entryOf(experiment.bodies, condition.body);
  const predicted = predictCondition(experiment, condition, 0);
  if (body?.diameter === undefined || body.material === undefined || !predicted.ok) return null;
  return {
    material: body.material.material.name,
    shape: body.shape,
    diameter: 1000 * body.diameter.value,
    velocity: predicted.prediction.velocity,
  };
}

/** A material in a word: `brass` of `brass, cartridge, 70 Cu 30 Zn`. */
function shortMaterial(material: string): string {
  return material.split(',')[0] ?? material;
}

/** Time constants against diameter: a series for each material, shape and flow. */
export function diameterSeries(
  conditions: readonly ConditionView[],
  trends: ComparisonView['trends'],
  { places }: TheoryBasis,
): readonly TrendSeries[] {
  return seriesOf(conditions, places, (place, { flow }) => ({
    key: JSON.stringify([place.material, place.shape, flow]),
    name: `${shortMaterial(place.material)} at ${flow}`,
    expected: expectedOf(trends, place.material, 'diameter'),
    x: place.diameter,
  }));
}

/** Time constants against the speed of the air: a series for each body. */
export function speedSeries(
  conditions: readonly ConditionView[],
  trends: ComparisonView['trends'],
  { places }: TheoryBasis,
): readonly TrendSeries[] {
  return seriesOf(conditions, places, (place, { body }) => ({
    key: body,
    name: body,
    expected: expectedOf(trends, place.material, 'flow'),
    x: place.velocity,
  }));
}

function expectedOf(
  trends: ComparisonView['trends'],
  material: string,
  what: 'diameter' | 'flow',
): number | null {
  return trends.find((one) => one.material === material && one.what === what)?.exponent.expected ?? null;
}

function seriesOf(
  conditions: readonly ConditionView[],
  places: TheoryBasis['places'],
  belongs: (
    place: TrendPlace,
    condition: ConditionView,
  ) => { key: string; name: string; expected: number | null; x: number },
): readonly TrendSeries[] {
  const series = new Map<
    string,
    { name: string; expected: number | null; points: TrendSeries['points'][number][] }
  >();
  for (const one of conditions) {
    const place = places.get(nameOf(one));
    if (place === undefined || !(place.velocity > 0)) continue;
    const { key, name, expected, x } = belongs(place, one);
    const found = series.get(key) ?? { name, expected, points: [] };
    found.points.push({ x, measured: one.measured.value, interval: one.measured.interval });
    series.set(key, found);
  }
  return [...series.values()].filter(({ points }) => new Set(points.map(({ x }) => x)).size >= 2);
}
