import type { Condition, Experiment, PlannedCondition, PredictedCondition } from '../experiment/index.ts';
import { conditionName, conditionsOf, planSession, predictCondition } from '../experiment/index.ts';
import {
  type BodyCandidate,
  type EarlierRun,
  expectedBodies,
  rigCandidates,
  type TrialContext,
  zeroShiftInKelvin,
} from '../live/index.ts';
import type { ReferenceRun, RigCheck } from '../rig/index.ts';
import type { FileResult } from './results.ts';

/** What theory and plan of an experiment say of its trials. */
export class Expectations {
  readonly #experiment: Experiment;
  readonly #predictions: ReadonlyMap<string, PredictedCondition>;
  readonly #candidates: ReadonlyMap<string, BodyCandidate>;
  readonly #planned: readonly PlannedCondition[];

  constructor(experiment: Experiment) {
    this.#experiment = experiment;
    const predictions = conditionsOf(experiment).measured.map((one) => predictCondition(experiment, one, 0));
    this.#predictions = new Map(predictions.map((one) => [conditionName(one.condition), one]));
    this.#candidates = new Map(
      rigCandidates(experiment, predictions).map((one) => [conditionName(one), one]),
    );
    this.#planned = planSession(experiment, predictions).conditions;
  }

  /** Conditions in the order in which they are to be measured. */
  get planned(): readonly PlannedCondition[] {
    return this.#planned;
  }

  /**
   * What later trials are held against, the first first.
   *
   * @param references reference runs that count, which come before all others
   * @param results of other recordings, the oldest first
   */
  earlierRuns(references: readonly ReferenceRun[], results: readonly FileResult[]): readonly EarlierRun[] {
    return [
      ...references
        .toSorted((a, b) => Date.parse(a.at) - Date.parse(b.at))
        .flatMap(({ bench, timeConstant, standardUncertainty, ...condition }) =>
          this.#runOf(condition, bench, timeConstant, standardUncertainty),
        ),
      ...results.flatMap((result) => this.#countingRun(result)),
    ];
  }

  #countingRun({ summary, verdict, timeConstant, standardUncertainty }: FileResult): EarlierRun[] {
    if (summary === null || timeConstant === null || standardUncertainty === null) return [];
    if (verdict === 'repeat' || verdict === 'unreadable') return [];
    const { body, flow, bench, group } = summary.place;
    if (body === null || flow === null) return [];
    return this.#runOf({ body, flow }, bench ?? group, timeConstant, standardUncertainty);
  }

  /** Empty where nothing predicts the condition. */
  #runOf(
    condition: Condition,
    bench: string | null,
    timeConstant: number,
    uncertainty: number,
  ): EarlierRun[] {
    const candidate = this.#candidates.get(conditionName(condition));
    if (candidate === undefined) return [];
    return [{ candidate, bench, timeConstant, relative: uncertainty / timeConstant }];
  }

  /**
   * What is known of a trial before it begins.
   *
   * @param condition what it is said to be of; null where nobody says
   * @param bench that it is made on; null where there is only one
   * @param earlier runs, the first first
   */
  contextOf(
    condition: Condition | null,
    bench: string | null,
    earlier: readonly EarlierRun[],
    known: { readonly lastAmbient: number | null; readonly zeroShift: number | null },
  ): Omit<TrialContext, 'arrivalRate'> {
    const bodies = expectedBodies([...this.#candidates.values()], bench, earlier);
    const prediction = condition === null ? undefined : this.#predictions.get(conditionName(condition));
    const predicted = prediction?.ok ? prediction.prediction.timeConstant : null;
    const own = bodies.find(({ body, flow }) => body === condition?.body && flow === condition.flow);
    const planned =
      own === undefined || own.runs === 0
        ? predicted
        : {
            value: own.expected,
            standardUncertainty: own.expected * own.relative,
            interval: own.interval,
          };
    return {
      body: condition?.body ?? null,
      flow: condition?.flow ?? null,
      planned,
      predicted,
      bodies,
      plannedRate: this.#experiment.logger?.rate ?? null,
      ...known,
    };
  }

  /**
   * By how much the zero of a bench moved from one check to the next, or from the stated one, K.
   *
   * @param checks those that count, the first first
   * @param bench code of the bench, as the checks name it; null where nobody names one
   * @returns null where nobody looked
   */
  zeroShift(checks: readonly RigCheck[], bench: string | null): number | null {
    const zeros = checks.filter(({ kind, bench: of }) => kind === 'zero' && (of === bench || of === null));
    const last = zeros.at(-1);
    const before = zeros.at(-2)?.value ?? this.#experiment.sensor.zero?.value;
    if (last === undefined || before === undefined) return null;
    return zeroShiftInKelvin(this.#experiment, last.value - before);
  }
}
