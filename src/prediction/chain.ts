import { type AirState, airDensity, airState, airViscosity, vapourFraction } from './air.ts';
import {
  mixedNusselt,
  type NusseltCorrelation,
  nusseltCylinderChurchillBernstein1977,
  nusseltCylinderChurchillChu1975,
  rayleighNumber,
} from './convection.ts';
import { jetDecay, nozzleVelocity } from './jet.ts';
import { type Fin, finConductance, radiationCoefficient, wireTimeConstant } from './losses.ts';
import { type MeterKind, meterMassFlow } from './meter.ts';
import { exactOverLumped } from './sphere.ts';

/**
 * The numbers that the prediction of one condition is made from, flat, so that each can be varied on its own. SI,
 * temperatures in K. What a condition does not use stays at its value without effect.
 */
export interface ChainParameters {
  readonly roomPressure: number;
  readonly roomTemperature: number;
  readonly airTemperature: number;
  readonly relativeHumidity: number;
  readonly speed: number;
  readonly meterReading: number;
  /** Absolute, or over the room's where the setup says gauge. */
  readonly linePressure: number;
  readonly lineTemperature: number;
  readonly nozzleDiameter: number;
  readonly standOff: number;
  readonly profileFactor: number;
  readonly decayConstant: number;
  readonly diameter: number;
  readonly density: number;
  readonly mass: number;
  readonly specificHeat: number;
  readonly conductivity: number;
  readonly emissivity: number;
  readonly startTemperature: number;
  /**
   * Factors about 1: what the conductance of the wires, the air's properties and the Nusselt numbers of body and wires
   * are multiplied by; a Nusselt number below zero counts as zero.
   */
  readonly stemFactor: number;
  readonly airConductivityFactor: number;
  readonly airViscosityFactor: number;
  readonly nusseltFactor: number;
}

/** What is not a number, or is known without uncertainty. */
export interface ChainSetup {
  readonly flow: 'still' | 'speed' | 'jet';
  readonly meterKind: MeterKind;
  /** Of air at the condition of the meter's scale, kg/m³. */
  readonly referenceDensity: number;
  readonly lineIsGauge: boolean;
  readonly shape: 'sphere' | 'wire';
  readonly weighed: boolean;
  readonly forced: NusseltCorrelation;
  readonly natural: NusseltCorrelation;
  readonly wires: readonly Fin[];
}

/** Everything on the way from the inputs to the time constant, at one error fraction of the cooling. */
export interface ChainState {
  readonly air: AirState;
  /** kg/s; 0 without a meter. */
  readonly massFlow: number;
  /** On the axis at the mouth, m/s. */
  readonly nozzleSpeed: number;
  /** At the body, m/s. */
  readonly speed: number;
  readonly surfaceTemperature: number;
  readonly reynolds: number;
  readonly rayleigh: number;
  readonly prandtl: number;
  readonly viscosityRatio: number;
  readonly nusseltForced: number;
  readonly nusseltNatural: number;
  readonly nusselt: number;
  /** W/(m² K). */
  readonly convection: number;
  readonly radiation: number;
  readonly stem: number;
  readonly total: number;
  /** J/K. */
  readonly heatCapacity: number;
  /** s. */
  readonly lumpedTimeConstant: number;
  readonly timeConstant: number;
}

interface Stream {
  readonly massFlow: number;
  readonly nozzleSpeed: number;
  readonly speed: number;
  /** Temperature of the air at the body, K. */
  readonly temperature: number;
  /** Mole fraction of water vapour. */
  readonly vapour: number;
}

function streamOf(p: ChainParameters, setup: ChainSetup): Stream {
  if (setup.flow === 'still') {
    const vapour = vapourFraction(p.relativeHumidity, p.roomTemperature, p.roomPressure);
    return { massFlow: 0, nozzleSpeed: 0, speed: 0, temperature: p.roomTemperature, vapour };
  }
  const vapour = vapourFraction(p.relativeHumidity, p.airTemperature, p.roomPressure);
  if (setup.flow === 'speed') {
    return { massFlow: 0, nozzleSpeed: p.speed, speed: p.speed, temperature: p.airTemperature, vapour };
  }
  const line = setup.lineIsGauge ? p.roomPressure + p.linePressure : p.linePressure;
  const massFlow = meterMassFlow(
    setup.meterKind,
    p.meterReading,
    setup.referenceDensity,
    line,
    p.lineTemperature,
  );
  const mouth = airDensity(p.airTemperature, p.roomPressure, vapour);
  const nozzleSpeed = p.profileFactor * nozzleVelocity(massFlow, mouth, p.nozzleDiameter);
  const decay = jetDecay(p.standOff / p.nozzleDiameter, p.decayConstant);
  // Beyond the core the jet is mixed with room air in the proportion in which it has slowed down.
  const temperature = p.roomTemperature + decay * (p.airTemperature - p.roomTemperature);
  return { massFlow, nozzleSpeed, speed: decay * nozzleSpeed, temperature, vapour };
}

/** Coefficient about a wire that leaves the body, W/(m² K), by the correlation: forced, or in still air natural. */
function wireCoefficient(diameter: number, film: AirState, speed: number, excess: number): number {
  const flow = {
    reynolds: (film.density * speed * diameter) / film.viscosity,
    rayleigh: speed === 0 ? rayleighNumber(excess, diameter, film) : 0,
    prandtl: film.prandtl,
    viscosityRatio: 1,
  };
  const nusselt =
    speed === 0 ? nusseltCylinderChurchillChu1975(flow) : nusseltCylinderChurchillBernstein1977(flow);
  return (nusselt * film.conductivity) / diameter;
}

/** Conductance of all wires together, W/K, and their own time constant, s, weighted by conductance. */
function stemOf(
  wires: readonly Fin[],
  film: AirState,
  speed: number,
  excess: number,
  nusseltFactor: number,
): { conductance: number; slowness: number } {
  let conductance = 0;
  let weighted = 0;
  for (const wire of wires) {
    const h = nusseltFactor * wireCoefficient(wire.diameter, film, speed, excess);
    if (h === 0) continue;
    const one = finConductance(wire, h);
    conductance += one;
    weighted += one * wireTimeConstant(wire, h);
  }
  return { conductance, slowness: conductance > 0 ? weighted / conductance : 0 };
}

/**
 * Rate at which body and wires cool together, 1/s. A wire that cools along with the body as exp(-r t) holds its profile
 * with m² (1 - r tau_wire) in place of the m² of a steady fin, so r = bare + stem √(1 - r tau_wire): its root.
 *
 * @param bare rate without wires, 1/s
 * @param stem what steady fins would add, 1/s
 * @param slowness time constant of the wires on their own, s
 */
export function jointRate(bare: number, stem: number, slowness: number): number {
  if (slowness * bare >= 1) return bare;
  const q = (stem * stem * slowness) / 2;
  return bare - q + Math.sqrt(q * q + stem * stem - 2 * q * bare);
}

/**
 * From the inputs to the time constant at one moment of the cooling.
 *
 * @param p the numbers
 * @param setup the rest
 * @param errorFraction (T_body - T_air)/(T_start - T_air) at that moment, above 0
 * @returns NaN where air properties or a correlation end; nothing is checked here
 */
export function evaluateChain(p: ChainParameters, setup: ChainSetup, errorFraction: number): ChainState {
  const stream = streamOf(p, setup);
  const { temperature, speed } = stream;
  const surfaceTemperature = temperature + errorFraction * (p.startTemperature - temperature);
  const air = airState(temperature, p.roomPressure, stream.vapour);
  const film = airState((temperature + surfaceTemperature) / 2, p.roomPressure, stream.vapour);
  const viscosityRatio = air.viscosity / airViscosity(surfaceTemperature, p.roomPressure, stream.vapour);
  const prandtlFactor = p.airViscosityFactor / p.airConductivityFactor;
  const fluid = setup.forced.basis === 'film' ? film : air;
  const prandtl = fluid.prandtl * prandtlFactor;
  const reynolds = (fluid.density * speed * p.diameter) / (fluid.viscosity * p.airViscosityFactor);
  const rayleigh =
    rayleighNumber(surfaceTemperature - temperature, p.diameter, film) /
    (p.airViscosityFactor * p.airConductivityFactor);
  const nusseltForced = setup.forced.nusselt({ reynolds, rayleigh, prandtl, viscosityRatio });
  const nusseltNatural = setup.natural.nusselt({
    reynolds,
    rayleigh,
    prandtl: film.prandtl * prandtlFactor,
    viscosityRatio,
  });
  // One factor for body and wires: the turbulence of the jet, the usual reason for it, moves both.
  const nusseltFactor = Math.max(p.nusseltFactor, 0);
  const nusselt = nusseltFactor * mixedNusselt(setup.forced.geometry, nusseltForced, nusseltNatural);
  const inStill = setup.flow === 'still' ? film : fluid;
  const convection = (nusselt * inStill.conductivity * p.airConductivityFactor) / p.diameter;
  const radiation = radiationCoefficient(p.emissivity, surfaceTemperature, p.roomTemperature);

  const sphere = setup.shape === 'sphere';
  // Of a wire, what belongs to one metre of it.
  const area = sphere ? Math.PI * p.diameter * p.diameter : Math.PI * p.diameter;
  const volume = (area * p.diameter) / (sphere ? 6 : 4);
  const heatCapacity = (setup.weighed ? p.mass : p.density * volume) * p.specificHeat;
  const bare = ((convection + radiation) * area) / heatCapacity;
  let rate = bare;
  if (setup.wires.length > 0) {
    const { conductance, slowness } = stemOf(
      setup.wires,
      film,
      speed,
      (surfaceTemperature - temperature) / 2,
      nusseltFactor,
    );
    rate = jointRate(bare, (p.stemFactor * conductance) / heatCapacity, slowness);
  }
  const stem = ((rate - bare) * heatCapacity) / area;
  const total = convection + radiation + stem;
  const inside = sphere ? exactOverLumped((total * p.diameter) / (2 * p.conductivity)) : 1;
  return {
    air,
    massFlow: stream.massFlow,
    nozzleSpeed: stream.nozzleSpeed,
    speed,
    surfaceTemperature,
    reynolds,
    rayleigh,
    prandtl,
    viscosityRatio,
    nusseltForced,
    nusseltNatural,
    nusselt,
    convection,
    radiation,
    stem,
    total,
    heatCapacity,
    lumpedTimeConstant: 1 / rate,
    timeConstant: inside / rate,
  };
}

/**
 * Error fraction whose coefficient stands for the whole window: its power mean over the time that an exponential spends
 * between the two ends. In a jet the rate changes about in proportion to the error fraction (power 1, the plain mean);
 * in still air tau goes with its power -1/4 (Ra^1/4).
 *
 * @param window error fractions, from above to
 * @param flow what the body cools in
 */
export function representativeFraction(
  window: { readonly from: number; readonly to: number },
  flow: ChainSetup['flow'],
): number {
  const power = flow === 'still' ? -0.25 : 1;
  const mean = (window.from ** power - window.to ** power) / (power * Math.log(window.from / window.to));
  return mean ** (1 / power);
}

/**
 * Time constant over the window when the coefficient follows the cooling body, s: the time spent between the two error
 * fractions over ln(from/to), which is the mean of tau over the logarithm of the error fraction, by Simpson's rule.
 *
 * @param p the numbers
 * @param setup the rest
 * @param window error fractions
 */
export function windowTimeConstant(
  p: ChainParameters,
  setup: ChainSetup,
  window: { readonly from: number; readonly to: number },
): number {
  const intervals = 16;
  const step = Math.log(window.to / window.from) / intervals;
  let sum = 0;
  for (let i = 0; i <= intervals; i += 1) {
    const weight = i === 0 || i === intervals ? 1 : i % 2 === 1 ? 4 : 2;
    sum += weight * evaluateChain(p, setup, window.from * Math.exp(i * step)).timeConstant;
  }
  return sum / (3 * intervals);
}
