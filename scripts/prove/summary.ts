import { median } from '../../src/statistics/index.ts';
import type { Outcome } from './outcome.ts';
import { type Average, averageOf, efficiencyOf, type Rate, rateOf } from './rates.ts';
import type { Scenario } from './scenario.ts';

/** A scenario and what became of its recordings. */
export interface Tried {
  readonly scenario: Scenario;
  readonly outcomes: readonly Outcome[];
}

/** One row of the report. */
export interface Summary {
  readonly scenario: Scenario;
  /** Medians of the true time constants, s, and of the Biot numbers. */
  readonly timeConstant: number;
  readonly biot: number;
  /** Of the 95 % interval, where there is one. */
  readonly coverage: Rate;
  /** Recordings without a time constant. */
  readonly without: number;
  /** Error of ln tau in units of its standard uncertainty, and in itself. */
  readonly bias: Average;
  readonly relativeBias: Average;
  /** Median relative standard uncertainty, and root mean square error of ln tau. */
  readonly uncertainty: number;
  readonly rootMeanSquare: number;
  /** Against the bound of the readings that the fit uses, and of all after the heat is off; null without a bound. */
  readonly efficiency: { readonly used: Average; readonly whole: Average } | null;
  readonly notFirstOrder: Rate;
  readonly repeat: Rate;
  readonly heatOff: Rate;
  readonly window: Rate;
  readonly baseline: Rate;
}

export function summaryOf({ scenario, outcomes }: Tried): Summary {
  const errors = errorsOf(outcomes);
  const count = (so: (outcome: Outcome) => boolean) => rateOf(outcomes.filter(so).length, outcomes.length);
  const bounded = errors.flatMap(({ error, bound }) => (bound === null ? [] : [{ error, bound }]));
  return {
    scenario,
    timeConstant: median(outcomes.flatMap(({ truth }) => (truth === null ? [] : [truth]))),
    biot: median(outcomes.map(({ biot }) => biot)),
    coverage: coverageOf(outcomes),
    without: outcomes.filter(({ found }) => found === null).length,
    bias: averageOf(errors.map(({ error, uncertainty }) => error / uncertainty)),
    relativeBias: averageOf(errors.map(({ error }) => error)),
    uncertainty: median(errors.map(({ uncertainty }) => uncertainty)),
    rootMeanSquare: Math.sqrt(errors.reduce((sum, { error }) => sum + error * error, 0) / errors.length),
    efficiency:
      bounded.length === 0
        ? null
        : {
            used: efficiencyOf(bounded.map(({ error, bound }) => error / bound.used)),
            whole: efficiencyOf(bounded.map(({ error, bound }) => error / bound.whole)),
          },
    notFirstOrder: count(({ firstOrder }) => firstOrder === false),
    repeat: count(({ verdict }) => verdict === 'repeat'),
    heatOff: count(({ segments }) => segments.heatOff),
    window: count(({ segments }) => segments.window),
    baseline: count(({ segments }) => segments.baseline),
  };
}

/** How often the 95 % interval held the truth, of the recordings that gave one. */
export function coverageOf(outcomes: readonly Outcome[]): Rate {
  const judged = outcomes.flatMap(({ truth, found }) =>
    truth === null || found === null ? [] : [{ truth, interval: found.interval }],
  );
  const covered = judged.filter(({ truth, interval: [low, high] }) => low <= truth && truth <= high);
  return rateOf(covered.length, judged.length);
}

/** Errors of ln tau with what was said of them. */
export function errorsOf(outcomes: readonly Outcome[]) {
  return outcomes.flatMap(({ truth, found, bound }) =>
    truth === null || found === null
      ? []
      : [{ error: Math.log(found.timeConstant / truth), uncertainty: found.uncertainty, bound }],
  );
}
