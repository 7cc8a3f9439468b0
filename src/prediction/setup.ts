import { airDensity } from './air.ts';
import type { ChainParameters, ChainSetup } from './chain.ts';
import { representativeFraction } from './chain.ts';
import { correlations, findCorrelation, type Geometry, type NusseltCorrelation } from './convection.ts';
import type { MeteredJet, PredictionInput } from './input.ts';
import type { Fin } from './losses.ts';
import { solidState } from './solids.ts';

/** The chain made ready for one condition. */
export interface PreparedChain {
  readonly parameters: ChainParameters;
  readonly setup: ChainSetup;
  /** Error fraction at which the coefficient is taken. */
  readonly fraction: number;
}

function usual(geometry: Geometry, convection: 'forced' | 'natural'): NusseltCorrelation {
  const found = correlations.find((c) => c.geometry === geometry && c.convection === convection);
  if (found === undefined) throw new Error(`there is no correlation for ${convection} convection`);
  return found;
}

function finsOf(input: PredictionInput, temperature: number): readonly Fin[] {
  return input.body.wires.map((wire) => {
    const solid = solidState(wire.material, temperature);
    return {
      diameter: wire.diameter,
      length: wire.length,
      conductivity: solid.conductivity,
      volumetricHeat: solid.density * solid.specificHeat,
    };
  });
}

type JetParameters = Pick<
  ChainParameters,
  | 'meterReading'
  | 'linePressure'
  | 'lineTemperature'
  | 'nozzleDiameter'
  | 'standOff'
  | 'profileFactor'
  | 'decayConstant'
>;

const noJet: JetParameters = {
  meterReading: 0,
  linePressure: 101_325,
  lineTemperature: 293.15,
  nozzleDiameter: 1,
  standOff: 0,
  profileFactor: 1,
  decayConstant: 1,
};

function jetParameters({ meter, nozzle }: MeteredJet): JetParameters {
  const { pressure } = meter.line;
  return {
    meterReading: meter.reading,
    linePressure: 'gaugePressure' in pressure ? pressure.gaugePressure : pressure.absolutePressure,
    lineTemperature: meter.line.temperature,
    nozzleDiameter: nozzle.diameter,
    standOff: nozzle.standOff,
    profileFactor: nozzle.profileFactor,
    decayConstant: nozzle.decayConstant,
  };
}

/**
 * The chain of one condition. Solids are taken at the temperature of the body at the representative moment.
 *
 * @param input checked by `checkPredictionInput`
 */
export function prepareChain(input: PredictionInput): PreparedChain {
  const { room, flow, body, cooling } = input;
  const geometry: Geometry = body.shape === 'sphere' ? 'sphere' : 'cylinder';
  const asked = input.correlation === null ? undefined : findCorrelation(input.correlation);
  const fraction = representativeFraction(cooling.window, flow.kind);
  const air = flow.kind === 'still' ? room : flow;
  const bodyTemperature = air.temperature + fraction * (cooling.start - air.temperature);
  const solid = solidState(body.material, bodyTemperature);
  const jet = flow.kind === 'jet' ? flow : null;
  const reference = jet?.meter.reference ?? { temperature: 293.15, pressure: 101_325 };
  return {
    fraction,
    parameters: {
      roomPressure: room.pressure,
      roomTemperature: room.temperature,
      airTemperature: air.temperature,
      relativeHumidity: air.relativeHumidity,
      speed: flow.kind === 'speed' ? flow.speed : 0,
      ...(jet === null ? noJet : jetParameters(jet)),
      diameter: body.diameter,
      density: solid.density,
      mass: body.mass ?? 0,
      specificHeat: solid.specificHeat,
      conductivity: solid.conductivity,
      emissivity: body.emissivity,
      startTemperature: cooling.start,
      stemFactor: 1,
      airConductivityFactor: 1,
      airViscosityFactor: 1,
      nusseltFactor: input.nusseltFactor ?? 1,
    },
    setup: {
      flow: flow.kind,
      meterKind: jet?.meter.kind ?? 'mass',
      referenceDensity: airDensity(reference.temperature, reference.pressure),
      lineIsGauge: jet !== null && 'gaugePressure' in jet.meter.line.pressure,
      shape: body.shape,
      weighed: body.mass !== null,
      forced: asked ?? usual(geometry, 'forced'),
      natural: usual(geometry, 'natural'),
      wires: finsOf(input, (air.temperature + bodyTemperature) / 2),
    },
  };
}
