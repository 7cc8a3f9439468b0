import {
  type Condition,
  type Experiment,
  entryOf,
  heatTransferFrom,
  type PredictedCondition,
  predictCondition,
  predictionFor,
} from '../experiment/index.ts';
import { type Prediction, predict, predictTimeConstant } from '../prediction/index.ts';
import type { NusseltEffect, NusseltTrial } from './nusselt-cell.ts';
import type { RigCorrelation } from './rig-correlation.ts';

/** A time constant that counts, and where it was measured. Uncertainties are standard, of ln tau. */
export interface RigRun extends Condition {
  /** Null where there is only one rig. */
  readonly bench: string | null;
  /** s, > 0 */
  readonly timeConstant: number;
  /** From what differs from trial to trial; and from what trials of a bench have in common. */
  readonly own: number;
  readonly shared: number;
}

/** Inputs that belong to a body; what the material gives is alike for all bodies of it. */
const ofTheBody: ReadonlySet<string> = new Set(['diameter', 'mass', 'emissivity']);
const ofTheMaterial: ReadonlySet<string> = new Set(['density', 'specificHeat']);
/** Inputs that reach the body by the speed of the air alone. */
const ofTheSpeed: ReadonlySet<string> = new Set([
  'meterReading',
  'linePressure',
  'lineTemperature',
  'nozzleDiameter',
  'standOff',
  'profileFactor',
  'decayConstant',
  'speed',
]);

/**
 * Runs as Nusselt against Reynolds number: each time constant worked back by the energy balance that predicts it, with
 * the same properties, and what its inputs move both numbers by. Spheres in moving air only; a run whose condition
 * cannot be predicted, or whose time constant allows no coefficient, is passed by.
 */
export function nusseltTrials(experiment: Experiment, runs: readonly RigRun[]): NusseltTrial[] {
  const predictions = new Map<string, PredictedCondition>();
  return runs.flatMap((run): NusseltTrial[] => {
    const { body, flow } = run;
    const name = JSON.stringify([body, flow]);
    const predicted = predictions.get(name) ?? predictCondition(experiment, { body, flow }, 0);
    predictions.set(name, predicted);
    const own = entryOf(experiment.bodies, body);
    if (!predicted.ok || own === undefined || own.shape === 'wire') return [];
    if (!(predicted.prediction.reynolds > 0)) return [];
    const trial = nusseltTrial(run, predicted.prediction, own.material?.material.name ?? body);
    return trial === null ? [] : [trial];
  });
}

function nusseltTrial(run: RigRun, prediction: Prediction, material: string): NusseltTrial | null {
  const { bench, body, flow, timeConstant, own, shared } = run;
  const measured = { value: timeConstant, relative: own, degreesOfFreedom: Number.POSITIVE_INFINITY };
  const back = heatTransferFrom(measured, prediction, 'sphere');
  if (back === null) return null;
  const gain = convectionPerTotal(prediction);
  const onBench = {
    cause: `sensor and ambient of ${bench ?? 'the rig'}`,
    reynolds: 0,
    nusselt: gain * shared,
  };
  return {
    bench,
    body,
    flow,
    reynolds: prediction.reynolds,
    nusselt: back.nusselt.value,
    own: gain * own,
    effects: [onBench, ...effectsOf(prediction, body, material, gain)],
  };
}

/** By what part the convective coefficient moves with the whole one; that of the wires follows its root. */
function convectionPerTotal({ heatTransferCoefficient: h }: Prediction): number {
  return h.total / (h.convection + h.stem / 2);
}

/**
 * What a standard uncertainty of each input moves ln Re and ln Nu by. With tau given, the whole coefficient is the heat
 * capacity over surface and tau: density × D, or mass/D² of a weighed body; Nu takes another D over the conductivity of
 * air. What moves the speed alone is read off the budget, by what a known change of the speed does there. Conduction in
 * the body, and what the state of the room moves, are passed by: below a tenth of a percent each.
 */
function effectsOf(prediction: Prediction, body: string, material: string, gain: number): NusseltEffect[] {
  const { budget, timeConstant, heatTransferCoefficient: h } = prediction;
  const weighed = budget.some(({ input }) => input === 'mass');
  const perSpeed = speedSensitivity(prediction);
  const moved = h.convection + h.stem / 2;
  return budget.flatMap(({ input, value, standardUncertainty, sensitivity }): NusseltEffect[] => {
    const relative = value === 0 ? 0 : standardUncertainty / Math.abs(value);
    if (!(relative > 0)) return [];
    if (ofTheSpeed.has(input)) {
      if (perSpeed === null) return [];
      const onTau = (sensitivity * standardUncertainty) / timeConstant.value;
      return [{ cause: input, reynolds: onTau / perSpeed, nusselt: 0 }];
    }
    const cause = ofTheBody.has(input)
      ? `${input} of ${body}`
      : ofTheMaterial.has(input)
        ? `${input} of ${material}`
        : input;
    switch (input) {
      case 'diameter':
        return [{ cause, reynolds: relative, nusselt: relative * (1 + gain * (weighed ? -2 : 1)) }];
      case 'mass':
      case 'density':
      case 'specificHeat':
        return [{ cause, reynolds: 0, nusselt: relative * gain }];
      case 'emissivity':
        return [{ cause, reynolds: 0, nusselt: (-relative * h.radiation) / moved }];
      case 'stemFactor':
        return [{ cause, reynolds: 0, nusselt: (-relative * h.stem) / moved }];
      case 'airConductivityFactor':
        return [{ cause, reynolds: 0, nusselt: -relative }];
      case 'airViscosityFactor':
        return [{ cause, reynolds: -relative, nusselt: 0 }];
      default:
        return [];
    }
  });
}

/** d ln tau/d ln speed, from the input that the speed is proportional to; null where the budget has none. */
function speedSensitivity({ budget, timeConstant }: Prediction): number | null {
  const line = budget.find(({ input }) => input === 'speed' || input === 'profileFactor');
  if (line === undefined) return null;
  const found = (line.sensitivity * line.value) / timeConstant.value;
  return Number.isFinite(found) && found !== 0 ? found : null;
}

/**
 * The time constant to expect of a condition by the rig's own correlation in place of theory: the Nusselt numbers of
 * body and wires are those of theory times what the rig's is of it at this Reynolds number, with the uncertainty of one
 * bench. The uncertainty of diameter and meter stands in it twice, in the correlation and in the prediction, which is
 * to the safe side.
 *
 * @returns null where the condition lies outside the range of the correlation, or cannot be predicted
 */
export function predictByRig(
  experiment: Experiment,
  condition: Condition,
  correlation: RigCorrelation,
): Prediction | null {
  const asked = predictionFor(experiment, condition);
  if (!asked.ok || asked.input.body.shape === 'wire') return null;
  try {
    const theory = predictTimeConstant(asked.input);
    const own = correlation.at(theory.reynolds);
    if (own === null) return null;
    const factor = own.nusselt / theory.nusselt;
    const relative = own.relativeOnBench * factor;
    if (!(relative < 1)) return null;
    return predict(
      { ...asked.input, nusseltFactor: factor },
      {
        uncertainties: asked.uncertainties,
        correlationAccuracy: { relative, coverageFactor: 1 },
        draws: 0,
      },
    );
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return null;
  }
}
