import type { Remark } from '../remark/index.ts';
import type { ChainState } from './chain.ts';
import type { NusseltCorrelation } from './convection.ts';
import type { PredictionInput } from './input.ts';
import { jetRemarks } from './jet-remarks.ts';
import { remark, shown } from './sentence.ts';
import type { PreparedChain } from './setup.ts';
import { lumpedBiotLimit } from './sphere.ts';

/** What the remarks of a prediction are made from. */
export interface PredictionFindings {
  readonly input: PredictionInput;
  readonly prepared: PreparedChain;
  readonly state: ChainState;
  /** With volume over area. */
  readonly biot: number;
  readonly window: { readonly first: number; readonly last: number; readonly whole: number };
}

function rangeRemark(
  correlation: NusseltCorrelation,
  what: 'reynolds' | 'prandtl' | 'rayleigh',
  name: string,
  value: number,
): Remark | null {
  const range = correlation.range[what];
  if (range === undefined || (value >= range[0] && value <= range[1])) return null;
  const limits = `${shown(range[0])} to ${shown(range[1])}`;
  return remark(
    what === 'reynolds' ? 'reynolds-out-of-range' : 'correlation-out-of-range',
    'caution',
    `The ${name} number is ${shown(value)}; the data behind ${correlation.citation} cover ${limits}.`,
    'Take the level of the prediction as a guess, or choose another correlation.',
  );
}

function correlationRemarks({ prepared, state, input }: PredictionFindings): readonly (Remark | null)[] {
  const { forced, natural } = prepared.setup;
  const still = input.flow.kind === 'still';
  const used = still ? natural : forced;
  const ratio = forced.range.viscosityRatio;
  return [
    still ? null : rangeRemark(forced, 'reynolds', 'Reynolds', state.reynolds),
    still ? rangeRemark(natural, 'rayleigh', 'Rayleigh', state.rayleigh) : null,
    rangeRemark(used, 'prandtl', 'Prandtl', state.prandtl),
    !still && ratio !== undefined && (state.viscosityRatio < ratio[0] || state.viscosityRatio > ratio[1])
      ? remark(
          'viscosity-ratio-outside',
          'note',
          `The viscosity ratio is ${state.viscosityRatio.toFixed(3)}, as it is for every body hotter than a gas; the data behind ${forced.citation} cover ${ratio[0]} to ${ratio[1]}.`,
          'No need to act: the ratio moves the Nusselt number by a few percent, well inside its uncertainty.',
        )
      : null,
    used.status === 'unconfirmed'
      ? remark(
          'source-unconfirmed',
          'caution',
          `The constants of ${used.citation} were not held against the paper.`,
          'Use it beside another correlation, not alone.',
        )
      : null,
    mixedRemark(state, still),
  ];
}

/** Share of natural in mixed convection, by Gr/Re², from which it is spoken of (Incropera et al., 6th ed., 9.9). */
const mixedLimit = 0.1;

function mixedRemark(state: ChainState, still: boolean): Remark | null {
  if (still || state.reynolds === 0) return null;
  const richardson = state.rayleigh / (state.prandtl * state.reynolds ** 2);
  if (richardson < mixedLimit) return null;
  return remark(
    'convection-mixed',
    'caution',
    `Buoyancy counts beside the jet: Gr/Re² is ${shown(richardson)}.`,
    'Use a faster jet, or expect the direction of the jet to matter.',
  );
}

function bodyRemarks({ input, prepared, state, biot }: PredictionFindings): readonly (Remark | null)[] {
  const { body } = input;
  const { diameter, density } = prepared.parameters;
  const expected = (density * Math.PI * diameter ** 3) / 6;
  const departure = body.mass === null ? 0 : body.mass / expected - 1;
  const stemShare = state.stem / state.total;
  return [
    biot > lumpedBiotLimit
      ? remark(
          'biot-not-small',
          'caution',
          `The Biot number h(V/A)/k is ${shown(biot)}, above ${lumpedBiotLimit}: the body has no single temperature.`,
          body.shape === 'sphere'
            ? 'Use the time constant, which allows for this, not the lumped one; and mind where the junction sits.'
            : 'Use a thinner wire or a better conductor: conduction inside a wire is not allowed for.',
        )
      : null,
    Math.abs(departure) > 0.05
      ? remark(
          'mass-disagrees',
          'caution',
          `The mass is ${shown(Math.abs(100 * departure))} % ${departure > 0 ? 'above' : 'below'} density times volume.`,
          'Check diameter, material and balance: one of them is not what was entered, or the body is bored.',
        )
      : null,
    body.material.status === 'unconfirmed'
      ? remark(
          'source-unconfirmed',
          'note',
          `The properties of ${body.material.name} (${body.material.source}) were not held against a printed source.`,
          'Enter the values of the maker, or weigh the body.',
        )
      : null,
    stemShare > 0.1
      ? remark(
          'stem-large',
          'note',
          `The wires carry ${(100 * stemShare).toFixed(0)} % of the heat.`,
          'Give their diameter and material with care, or use thinner wires.',
        )
      : null,
  ];
}

function windowRemark({ window }: PredictionFindings): Remark | null {
  const change = window.last / window.first - 1;
  if (Math.abs(change) < 0.05) return null;
  return remark(
    'coefficient-varies',
    'note',
    `The time constant goes from ${shown(window.first)} s to ${shown(window.last)} s within the window, for the heat transfer depends on the temperature of the body.`,
    'Expect a small systematic departure from one exponential.',
  );
}

/** Everything that a person should know about a prediction, from the flow to the window. */
export function predictionRemarks(findings: PredictionFindings): readonly Remark[] {
  const all = [
    ...jetRemarks(findings.input, findings.prepared.parameters, findings.state),
    ...correlationRemarks(findings),
    ...bodyRemarks(findings),
    windowRemark(findings),
  ];
  return all.filter((one) => one !== null);
}
