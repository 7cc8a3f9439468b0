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
import type { RigCheck } from '../rig/index.ts';
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

  /** A result as a run that later ones are held against; null where it does not count. */
  runOf({ summary, verdict, timeConstant, standardUncertainty }: FileResult): EarlierRun | null {
    if (summary === null || timeConstant === null || standardUncertainty === null) return null;
    if (verdict === 'repeat' || verdict === 'unreadable') return null;
    const { body, flow, bench, group } = summary.place;
    if (body === null || flow === null) return null;
    const candidate = this.#candidates.get(conditionName({ body, flow }));
    if (candidate === undefined) return null;
    return { candidate, bench: bench ?? group, timeConstant, relative: standardUncertainty / timeConstant };
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
