import { type Mark, markOf } from './compared-marks.ts';
import { positive } from './compared-scale.ts';
import type { FigureTable } from './table.ts';

/** A condition, as measured and as predicted. Times in s. */
export interface ComparedCondition {
  readonly body: string;
  readonly flow: string;
  readonly measured: number;
  readonly measuredInterval: readonly [number, number];
  readonly predicted: number;
  /** Null above where the prediction is too uncertain for an upper end. */
  readonly predictedInterval: readonly [number, number | null];
  readonly verdict: 'agrees' | 'disagrees' | 'inconclusive';
}

/** The verdict in words. */
export const verdictWords: Readonly<Record<ComparedCondition['verdict'], string>> = {
  agrees: 'agrees',
  disagrees: 'disagrees',
  inconclusive: 'too weak to tell',
};

/** Most conditions that one figure shows. */
const most = 200;

/** A condition that can be drawn, with the mark of its body. */
export interface MarkedCondition extends ComparedCondition {
  readonly name: string;
  readonly mark: Mark;
}

/** Conditions whose numbers have a place on a logarithmic axis, each with the mark of its body. */
export function markedConditions(conditions: readonly ComparedCondition[]): readonly MarkedCondition[] {
  const bodies = new Map<string, number>();
  for (const { body } of conditions) if (!bodies.has(body)) bodies.set(body, bodies.size);
  return conditions
    .filter(({ measured, predicted, measuredInterval, predictedInterval }) => {
      const [low, high] = predictedInterval;
      return (
        [measured, predicted, ...measuredInterval, low].every(positive) && (high === null || positive(high))
      );
    })
    .slice(0, most)
    .map((one) => ({
      ...one,
      name: `${one.body} at ${one.flow}`,
      mark: markOf(bodies.get(one.body) ?? 0),
    }));
}

/**
 * Ends of the band of a correlation in tau over its prediction: tau goes with 1/h, so that ±30 % in h are
 * -23 % and +43 % in tau.
 *
 * @param accuracy of h as a part of it, 0 to below 1
 */
export function bandOf(accuracy: number): readonly [number, number] {
  return [1 / (1 + accuracy), 1 / (1 - accuracy)];
}

/** The numbers behind the figures of measured and predicted time constants, as given. */
export function comparedTable(conditions: readonly ComparedCondition[]): FigureTable {
  return {
    caption: 'Measured and predicted time constants with 95 % intervals',
    columns: [
      { name: 'Body', unit: null },
      { name: 'Flow', unit: null },
      { name: 'Measured', unit: 's' },
      { name: 'Measured from', unit: 's' },
      { name: 'Measured to', unit: 's' },
      { name: 'Predicted', unit: 's' },
      { name: 'Predicted from', unit: 's' },
      { name: 'Predicted to', unit: 's' },
      { name: 'Measured over predicted', unit: null },
      { name: 'Verdict', unit: null },
    ],
    rows: conditions.map((one) => [
      one.body,
      one.flow,
      one.measured,
      ...one.measuredInterval,
      one.predicted,
      ...one.predictedInterval,
      one.measured / one.predicted,
      verdictWords[one.verdict],
    ]),
  };
}
