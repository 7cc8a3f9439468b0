import type { Remark } from '../remark/index.ts';
import type { AirState } from './air.ts';
import { type ChainState, evaluateChain, windowTimeConstant } from './chain.ts';
import { checkPredictionInput } from './check-input.ts';
import { type PredictionInput, PredictionInputError } from './input.ts';
import { predictionRemarks } from './remarks.ts';
import { type PreparedChain, prepareChain } from './setup.ts';

/** The time constant to expect, and what it is made of. SI. */
export interface TimeConstantPrediction {
  /** Speed of the air at the body, m/s. */
  readonly velocity: number;
  readonly reynolds: number;
  readonly prandtl: number;
  readonly nusselt: number;
  /** W/(m² K); the parts add up to the total. */
  readonly heatTransferCoefficient: {
    readonly convection: number;
    readonly radiation: number;
    readonly stem: number;
    readonly total: number;
  };
  /** h L/k of the body with two lengths: volume over area, which the rule of 0.1 means, and the diameter. */
  readonly biot: { readonly volumeToArea: number; readonly diameter: number };
  /** As if the body had one temperature. */
  readonly lumped: { readonly timeConstant: number };
  /** Of the first mode of the sphere, s. */
  readonly timeConstant: number;
  /** Time constant as the window begins and as it ends, and that of the whole window, s: h follows the body. */
  readonly window: { readonly first: number; readonly last: number; readonly whole: number };
  readonly correlation: { readonly forced: string; readonly natural: string };
  /** Of the surface where the coefficient is taken, K. */
  readonly surfaceTemperature: number;
  /** Viscosity of the free stream over that at the surface. */
  readonly viscosityRatio: number;
  readonly air: AirState;
  /** Mass flow through the nozzle, kg/s, and speed in its mouth, m/s; null without a metered jet. */
  readonly nozzle: { readonly massFlow: number; readonly speed: number } | null;
  readonly remarks: readonly Remark[];
}

function biotOf(state: ChainState, prepared: PreparedChain): TimeConstantPrediction['biot'] {
  const { diameter, conductivity } = prepared.parameters;
  const whole = (state.total * diameter) / conductivity;
  return { volumeToArea: whole / (prepared.setup.shape === 'sphere' ? 6 : 4), diameter: whole };
}

/**
 * Predicts the time constant of a body that cools in air, from what a person can measure on the bench: flow meter to
 * mass flow to nozzle speed to speed at the body, air properties, Nusselt number, radiation, wires, conduction inside.
 *
 * The coefficient is taken at the mean error fraction over the window (see `representativeFraction`); `window` shows
 * what that leaves out.
 *
 * @param input SI, temperatures in K
 * @throws PredictionInputError that names the input no physics can be done with
 */
export function predictTimeConstant(input: PredictionInput): TimeConstantPrediction {
  checkPredictionInput(input);
  const prepared = prepareChain(input);
  const { parameters, setup, fraction } = prepared;
  const { window } = input.cooling;
  const state = evaluateChain(parameters, setup, fraction);
  if (!Number.isFinite(state.timeConstant)) {
    throw new PredictionInputError(
      'correlation',
      `${setup.forced.id} has no value at a Reynolds number of ${state.reynolds.toPrecision(3)}`,
    );
  }
  const at = {
    first: evaluateChain(parameters, setup, window.from).timeConstant,
    last: evaluateChain(parameters, setup, window.to).timeConstant,
    whole: windowTimeConstant(parameters, setup, window),
  };
  const biot = biotOf(state, prepared);
  return {
    velocity: state.speed,
    reynolds: state.reynolds,
    prandtl: state.prandtl,
    nusselt: state.nusselt,
    heatTransferCoefficient: {
      convection: state.convection,
      radiation: state.radiation,
      stem: state.stem,
      total: state.total,
    },
    biot,
    lumped: { timeConstant: state.lumpedTimeConstant },
    timeConstant: state.timeConstant,
    window: at,
    correlation: { forced: setup.forced.id, natural: setup.natural.id },
    surfaceTemperature: state.surfaceTemperature,
    viscosityRatio: state.viscosityRatio,
    air: state.air,
    nozzle: setup.flow === 'jet' ? { massFlow: state.massFlow, speed: state.nozzleSpeed } : null,
    remarks: predictionRemarks({ input, prepared, state, biot: biot.volumeToArea, window: at }),
  };
}
