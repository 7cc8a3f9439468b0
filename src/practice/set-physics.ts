import {
  type Condition,
  conditionName,
  conditionsOf,
  type Experiment,
  entryOf,
  predictionFor,
} from '../experiment/index.ts';
import {
  exactOverLumped,
  ownMaterial,
  type PredictionInput,
  predictTimeConstant,
  type SolidState,
  solidState,
  type Wire,
} from '../prediction/index.ts';
import { PracticeError } from './set-types.ts';

/** A body as it is, not as the file says: SI. */
export interface Specimen extends SolidState {
  readonly diameter: number;
  readonly emissivity: number;
}

/** Coefficients about a body and its wires by the correlations, W/(m² K). */
export interface Coefficients {
  readonly convection: number;
  readonly radiation: number;
  /** What the wires add, as a coefficient about the body. */
  readonly stem: number;
  /** About each wire, in the order of the input. */
  readonly wires: readonly number[];
  /** m/s. */
  readonly speed: number;
  readonly reynolds: number;
}

/** 0 °C, K. */
const freezing = 273.15;

/**
 * What the experiment file gives for every condition.
 *
 * @throws PracticeError that names every key that is missing
 */
export function describedConditions(
  experiment: Experiment,
  conditions: readonly Condition[],
): ReadonlyMap<string, PredictionInput> {
  const inputs = new Map<string, PredictionInput>();
  const missing = new Set<string>();
  for (const condition of conditions) {
    const asked = predictionFor(experiment, condition);
    if (asked.ok) inputs.set(conditionName(condition), asked.input);
    else
      for (const { place, message } of asked.missing) missing.add(`under ${place.join(' › ')}, ${message}`);
  }
  if (missing.size === 0) return inputs;
  throw new PracticeError(
    `The experiment file does not say enough to simulate its conditions: ${[...missing].slice(0, 12).join('; ')}.`,
  );
}

/** What the file gives for the uncertainties of a body; those of the prediction hold for the others. */
export function statedUncertainties(experiment: Experiment, condition: Condition) {
  const asked = predictionFor(experiment, condition);
  return asked.ok ? asked.uncertainties : {};
}

/** Solid properties of a body as the file has it, halfway down its cooling. */
export function nominalSpecimen({ body, flow, room, cooling }: PredictionInput): Specimen {
  const air = flow.kind === 'still' ? room.temperature : flow.temperature;
  const solid = solidState(body.material, (air + cooling.start) / 2);
  const volume = (Math.PI / 6) * body.diameter ** 3;
  const density = body.mass === null ? solid.density : body.mass / volume;
  return { ...solid, density, diameter: body.diameter, emissivity: body.emissivity };
}

/** The same rig with another body in it, in air of the day. */
function withTruth(
  input: PredictionInput,
  { diameter, emissivity, ...solid }: Specimen,
  ambient: number,
): PredictionInput {
  const temperature = ambient + freezing;
  return {
    ...input,
    room: { ...input.room, temperature },
    flow: input.flow.kind === 'still' ? input.flow : { ...input.flow, temperature },
    body: { ...input.body, diameter, emissivity, mass: null, material: ownMaterial('as it is', solid) },
  };
}

/**
 * Coefficients about a body in the flow of a condition.
 *
 * @param ambient of the air at the body, °C
 * @throws PracticeError where no correlation gives them
 */
export function coefficientsAbout(
  condition: Condition,
  input: PredictionInput,
  specimen: Specimen,
  ambient: number,
): Coefficients {
  const truth = withTruth(input, specimen, ambient);
  try {
    const { velocity, reynolds, heatTransferCoefficient } = predictTimeConstant(truth);
    const { convection, radiation, stem } = heatTransferCoefficient;
    const wires = truth.body.wires.map((wire) => aboutWire(truth, wire));
    return { convection, radiation, stem, wires, speed: velocity, reynolds };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new PracticeError(
      `${conditionName(condition)} cannot be simulated: ${error.message} (in SI, temperatures in K). Change the file, or leave the condition out.`,
    );
  }
}

/** The same air about a wire: as a body of its own. */
function aboutWire(input: PredictionInput, { diameter, material }: Wire): number {
  const body = { ...input.body, shape: 'wire' as const, diameter, material, mass: null, wires: [] };
  const alone = predictTimeConstant({ ...input, body, correlation: null });
  return alone.heatTransferCoefficient.convection;
}

/** Coefficients about the same body when the jet is off. */
export function stillCoefficients(
  condition: Condition,
  input: PredictionInput,
  specimen: Specimen,
  ambient: number,
): Coefficients {
  return coefficientsAbout(condition, { ...input, flow: { kind: 'still' } }, specimen, ambient);
}

/**
 * Time constant by which a trial is laid out, s: the first mode of a sphere whose wires hold no heat.
 *
 * @param total coefficient of all that leaves the body, W/(m² K)
 */
export function layoutTimeConstant(specimen: Specimen, total: number): number {
  const { density, specificHeat, diameter, conductivity } = specimen;
  const lumped = (density * specificHeat * diameter) / (6 * total);
  return lumped * exactOverLumped((total * diameter) / (2 * conductivity));
}

/** The weakest flow that moves, in which bodies are usually heated too; null where all air is still. */
export function weakestMovingFlow(
  experiment: Experiment,
  condition: Condition,
  specimen: Specimen,
  ambient: number,
): number | null {
  let weakest: number | null = null;
  const flows = new Set(conditionsOf(experiment).measured.map(({ flow }) => flow)).add(condition.flow);
  for (const flow of flows) {
    if (entryOf(experiment.flows, flow)?.kind === 'still') continue;
    const other = predictionFor(experiment, { body: condition.body, flow });
    if (!other.ok) continue;
    const { convection } = coefficientsAbout({ ...condition, flow }, other.input, specimen, ambient);
    weakest = Math.min(weakest ?? Number.POSITIVE_INFINITY, convection);
  }
  return weakest;
}
