import { correlations, predictTimeConstant } from '../prediction/index.ts';
import type { ConditionComparison } from './compare.ts';
import type { Condition } from './conditions.ts';
import { entryOf } from './entry.ts';
import { predictionFor } from './prediction-input.ts';
import type { Experiment } from './schema-keys.ts';
import { type Trend, type TrendPoint, trendsOf } from './trend.ts';

/** Trends of the bodies of one material and shape. */
export interface MaterialTrends {
  readonly material: string;
  readonly shape: string;
  /** Empty where nothing varies, or diameter and speed only together. */
  readonly trends: readonly Trend[];
}

/**
 * Trends of tau with diameter and speed for every material that has at least two conditions in moving air.
 *
 * @param comparisons of one experiment
 */
export function compareTrends(
  experiment: Experiment,
  comparisons: readonly ConditionComparison[],
): MaterialTrends[] {
  const groups = new Map<string, { material: string; shape: string; own: ConditionComparison[] }>();
  for (const one of comparisons) {
    const body = entryOf(experiment.bodies, one.condition.body);
    const material = body?.material?.material;
    const moving = one.prediction !== null && one.prediction.velocity > 0;
    if (body === undefined || material === undefined || !moving) continue;
    const key = JSON.stringify([material.id, material.name, body.shape]);
    const group = groups.get(key) ?? { material: material.name, shape: body.shape, own: [] };
    group.own.push(one);
    groups.set(key, group);
  }
  return [...groups.values()]
    .filter(({ own }) => own.length >= 2)
    .map(({ material, shape, own }) => {
      const points = own.flatMap((one) => pointOf(experiment, one));
      return { material, shape, trends: trendsOf(alike(points), commonUncertainty(own)) };
    })
    .filter(({ trends }) => trends.length > 0);
}

function pointOf(experiment: Experiment, one: ConditionComparison): TrendPoint[] {
  const body = entryOf(experiment.bodies, one.condition.body);
  if (one.prediction === null || body?.diameter === undefined) return [];
  return [
    {
      diameter: body.diameter.value,
      velocity: one.prediction.velocity,
      measured: one.measured.value,
      relative: one.measured.random,
      predicted: [one.prediction.timeConstant.value, ...byOthers(experiment, one.condition, one)],
    },
  ];
}

/** The same by every other correlation whose data reach to this Reynolds number. */
function byOthers(experiment: Experiment, condition: Condition, one: ConditionComparison): number[] {
  const asked = predictionFor(experiment, condition);
  if (!asked.ok || one.prediction === null) return [];
  const { reynolds, correlation } = one.prediction;
  const geometry = asked.input.body.shape === 'wire' ? 'cylinder' : 'sphere';
  return correlations
    .filter(({ id, convection, geometry: of, range }) => {
      const [low, high] = range.reynolds ?? [0, Number.POSITIVE_INFINITY];
      const covered = reynolds >= low && reynolds <= high;
      return convection === 'forced' && of === geometry && id !== correlation.forced && covered;
    })
    .map(({ id }) => predictTimeConstant({ ...asked.input, correlation: id }).timeConstant);
}

/** Points with as many predictions each: another correlation counts where it covers all of them. */
function alike(points: readonly TrendPoint[]): TrendPoint[] {
  const counts = points.map(({ predicted }) => predicted.length);
  const same = counts.every((count) => count === counts[0]);
  return points.map((point) => (same ? point : { ...point, predicted: point.predicted.slice(0, 1) }));
}

/** Standard uncertainty of the common level: that of theory, and what the runs share; the largest of the points. */
function commonUncertainty(own: readonly ConditionComparison[]): number {
  return Math.max(
    ...own.map(({ prediction, measured }) => {
      const theory = prediction?.timeConstant;
      return Math.hypot(
        theory === undefined ? 0 : theory.standardUncertainty / theory.value,
        measured.shared,
      );
    }),
  );
}
