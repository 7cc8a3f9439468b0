import { conditionName, conditionsOf, entryOf, poolRuns, predictCondition } from '../experiment/index.ts';
import { column, type Described, tableOf } from './described.ts';
import type { QueryTable, QueryTerm } from './types.ts';

type OfCondition = ReturnType<typeof conditionsOfTerm>[number];

const columns: readonly Described<OfCondition>[] = [
  column('term', 'string', null, 'Term of the experiment folder.', (one) => one.term),
  column('body', 'string', null, 'Code of the body.', (one) => one.body),
  column('flow', 'string', null, 'Code of the flow setting.', (one) => one.flow),
  column('material', 'string', null, 'Material of the body.', (one) => one.material),
  column('diameter', 'number', 'm', 'Diameter of the body.', (one) => one.diameter),
  column('velocity', 'number', 'm/s', 'Speed of the air at the body, by theory.', (one) => one.velocity),
  column('reynolds', 'number', '1', 'Reynolds number, by theory.', (one) => one.reynolds),
  column('nusselt', 'number', '1', 'Nusselt number that theory expects.', (one) => one.nusselt),
  column('predicted', 'number', 's', 'Time constant that theory expects.', (one) => one.predicted),
  column('predicted_low', 'number', 's', 'Lower end of its 95 % interval.', (one) => one.predictedLow),
  column(
    'predicted_high',
    'number',
    's',
    'Upper end of it; empty where it has none.',
    (one) => one.predictedHigh,
  ),
  column('trials', 'integer', null, 'Trials that count.', (one) => one.trials),
  column('measured', 'number', 's', 'Time constant of these trials together.', (one) => one.measured),
  column('measured_u', 'number', 's', 'Standard uncertainty of it.', (one) => one.measuredU),
  column('measured_low', 'number', 's', 'Lower end of its 95 % interval.', (one) => one.measuredLow),
  column('measured_high', 'number', 's', 'Upper end of its 95 % interval.', (one) => one.measuredHigh),
  column(
    'scatter',
    'number',
    '1',
    'Standard deviation of ln of the time constant between trials; empty for one.',
    (one) => one.scatter,
  ),
];

/** One row a condition and term: what theory expects, and what the trials that count show together. */
export function termConditionsTable(terms: readonly QueryTerm[]): QueryTable {
  const meaning = 'Conditions of the experiment files, one a row and term: predicted and measured.';
  return tableOf('conditions', meaning, columns, terms.flatMap(conditionsOfTerm));
}

function conditionsOfTerm({ term, experiment, trials }: QueryTerm) {
  return conditionsOf(experiment).measured.map((condition) => {
    const name = conditionName(condition);
    const runs = trials.flatMap(({ summary, excluded, run }) => {
      const { timeConstant, place, path } = summary;
      if (excluded !== null || run === null || timeConstant === null) return [];
      if (place.body === null || place.flow === null) return [];
      if (conditionName({ body: place.body, flow: place.flow }) !== name) return [];
      const { value, degreesOfFreedom } = timeConstant;
      return [{ name: path, timeConstant: value, ...run, degreesOfFreedom }];
    });
    const pooled = poolRuns(runs);
    const predicted = predictCondition(experiment, condition, 0);
    const prediction = predicted.ok ? predicted.prediction : null;
    const body = entryOf(experiment.bodies, condition.body);
    return {
      term,
      ...condition,
      material: body?.material?.material.name ?? null,
      diameter: body?.diameter?.value ?? null,
      velocity: prediction?.velocity ?? null,
      reynolds: prediction?.reynolds ?? null,
      nusselt: prediction?.nusselt ?? null,
      predicted: prediction?.timeConstant.value ?? null,
      predictedLow: prediction?.timeConstant.interval[0] ?? null,
      predictedHigh: prediction?.timeConstant.interval[1] ?? null,
      trials: runs.length,
      measured: pooled?.value ?? null,
      measuredU: pooled?.standardUncertainty ?? null,
      measuredLow: pooled?.interval[0] ?? null,
      measuredHigh: pooled?.interval[1] ?? null,
      scatter: pooled?.scatter ?? null,
    };
  });
}
