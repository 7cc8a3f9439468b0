import { type Experiment, entryOf, type PredictedCondition } from '../experiment/index.ts';
import type { Prediction } from '../prediction/index.ts';

/** What one standard uncertainty of a cause moves ln tau by. Causes of one name are one and the same cause. */
interface CauseEffect {
  readonly cause: string;
  readonly effect: number;
}

/** A body in a flow, with the time constant to expect before anything was measured. */
export interface BodyCandidate {
  readonly body: string;
  readonly flow: string;
  /** s, > 0. */
  readonly predicted: number;
  readonly causes: readonly CauseEffect[];
}

/**
 * A correlation is off by much the same for all bodies of a rig, but not quite: this part of its standard uncertainty
 * is each body's own (common practice, no source).
 */
const ownOfCorrelation = 1 / 3;

/** Inputs that belong to a body. What the material gives is alike for all bodies of it. */
const ofTheBody: ReadonlySet<string> = new Set(['diameter', 'mass', 'emissivity']);
const ofTheMaterial: ReadonlySet<string> = new Set(['density', 'specificHeat', 'conductivity']);

/** Every condition that has a prediction, as a candidate. */
export function rigCandidates(
  { bodies }: Experiment,
  predictions: readonly PredictedCondition[],
): BodyCandidate[] {
  return predictions.flatMap((one) => {
    if (!one.ok) return [];
    const { body, flow } = one.condition;
    const material = entryOf(bodies, body)?.material?.material.name ?? body;
    return [bodyCandidate(body, flow, material, one.prediction)];
  });
}

/**
 * A candidate from its prediction: what goes with the jet, the meter and the room is one cause for all bodies, what
 * goes with the material one for all of it, the rest the body's own.
 *
 * @param material name of what it is made of
 */
export function bodyCandidate(
  body: string,
  flow: string,
  material: string,
  { timeConstant, budget }: Pick<Prediction, 'timeConstant' | 'budget'>,
): BodyCandidate {
  const causes = budget.flatMap(({ input, sensitivity, standardUncertainty }) => {
    const effect = (sensitivity * standardUncertainty) / timeConstant.value;
    if (!(Math.abs(effect) > 0) || !Number.isFinite(effect)) return [];
    if (ofTheBody.has(input)) return [{ cause: `${input} of ${body}`, effect }];
    if (ofTheMaterial.has(input)) return [{ cause: `${input} of ${material}`, effect }];
    if (input !== 'nusseltFactor') return [{ cause: input, effect }];
    return [
      { cause: input, effect: effect * Math.sqrt(1 - ownOfCorrelation ** 2) },
      { cause: `${input} of ${body}`, effect: effect * ownOfCorrelation },
    ];
  });
  return { body, flow, predicted: timeConstant.value, causes };
}
