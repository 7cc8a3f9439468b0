import type { MeteredJet, PredictionInput } from '../prediction/index.ts';
import type { PredictionPlan } from './group-slips.ts';
import { nominalSpecimen } from './set-physics.ts';

/** What a group predicts of a condition, SI. */
export interface PredictionValues {
  readonly reynolds: number;
  readonly nusselt: number;
  readonly coefficient: number;
  readonly timeConstant: number;
  readonly biot: number;
  /** Of the time constant, s. */
  readonly standard: number;
  readonly expanded: number;
}

/** Dry air of handbook formulas, SI: temperature in K, pressure in Pa. */
interface Air {
  readonly density: number;
  readonly viscosity: number;
  readonly conductivity: number;
  readonly prandtl: number;
}

const zeroCelsius = 273.15;

/** Density of an ideal gas; viscosity and conductivity by Sutherland's formula (constants as in White, from memory). */
function airOf(temperature: number, pressure: number): Air {
  const ratio = (temperature / zeroCelsius) ** 1.5;
  const viscosity = (1.716e-5 * ratio * (zeroCelsius + 110.4)) / (temperature + 110.4);
  const conductivity = (0.0241 * ratio * (zeroCelsius + 194)) / (temperature + 194);
  return {
    density: densityOf(temperature, pressure),
    viscosity,
    conductivity,
    prandtl: (1006 * viscosity) / conductivity,
  };
}

function densityOf(temperature: number, pressure: number): number {
  return pressure / (287.05 * temperature);
}

/** Error fraction at which a group takes the surface of the body: less than half way down. */
const surfaceFraction = 0.4;

/**
 * A group's prediction for a sphere in a jet: flow, speed, Reynolds number, Nusselt number by Whitaker (1972), coefficient,
 * time constant, Biot number; convection alone, the body at one temperature.
 *
 * @param accuracy of the correlation, and the coverage factor that it is stated with
 * @returns null for what this course does not predict by hand: wires, still air, meters without a float
 */
export function groupPrediction(
  input: PredictionInput,
  plan: PredictionPlan,
  accuracy: { readonly relative: number; readonly coverageFactor: number },
): PredictionValues | null {
  const { flow, body, room, cooling } = input;
  if (body.shape !== 'sphere' || flow.kind !== 'jet' || flow.meter.kind !== 'variable-area') return null;
  const specimen = nominalSpecimen(input);
  const diameter = body.diameter * plan.diameter;
  const air = airOf(flow.temperature, room.pressure);
  const surface = airOf(
    flow.temperature + surfaceFraction * (cooling.start - flow.temperature),
    room.pressure,
  );
  const speed = speedOf(flow, room.pressure, body.diameter, plan);
  const reynolds = (air.density * speed * diameter * plan.reynoldsLength) / air.viscosity;
  const nusselt =
    2 +
    (0.4 * reynolds ** 0.5 + 0.06 * reynolds ** (2 / 3)) *
      air.prandtl ** 0.4 *
      (air.viscosity / surface.viscosity) ** 0.25;
  const conductivity = plan.nusseltConductivity === 'air' ? air.conductivity : specimen.conductivity;
  const coefficient = (nusselt * conductivity) / (diameter * plan.nusseltLength);
  const density = body.mass === null ? specimen.density : body.mass / ((Math.PI / 6) * diameter ** 3);
  const timeConstant =
    (density * plan.mass * specimen.specificHeat * plan.specificHeat * diameter * plan.length) / coefficient;
  const inBiot = plan.biotConductivity === 'body' ? specimen.conductivity : air.conductivity;
  const standard = timeConstant * (accuracy.relative / (plan.divided ? accuracy.coverageFactor : 1));
  return {
    reynolds,
    nusselt,
    coefficient,
    timeConstant,
    biot: (coefficient * diameter * (plan.biotLength ?? plan.length)) / inBiot,
    standard: plan.expandFirst ? 2 * standard : standard,
    expanded: plan.expand ? 2 * standard : standard,
  };
}

/** At the body, m/s: the volume through the meter's tube goes with the root of the density in it. */
function speedOf(
  { meter, nozzle, temperature }: MeteredJet,
  room: number,
  body: number,
  plan: PredictionPlan,
): number {
  const { line, reference } = meter;
  const gauge =
    'gaugePressure' in line.pressure ? line.pressure.gaugePressure : line.pressure.absolutePressure - room;
  const pressure = plan.meter === 'gauge' ? gauge : gauge + room;
  const inMeter = densityOf(line.temperature - (plan.meter === 'celsius' ? zeroCelsius : 0), pressure);
  const onScale = densityOf(
    plan.meter === 'twenty' ? zeroCelsius + 20 : reference.temperature,
    reference.pressure,
  );
  const inRoom = densityOf(temperature, room);
  const read = meter.reading * plan.volume;
  const throughNozzle = {
    right: (read * Math.sqrt(onScale * inMeter)) / inRoom,
    gauge: (read * Math.sqrt(onScale * inMeter)) / inRoom,
    celsius: (read * Math.sqrt(onScale * inMeter)) / inRoom,
    twenty: (read * Math.sqrt(onScale * inMeter)) / inRoom,
    'as read': read,
    'scale volume': (read * onScale) / inRoom,
    'no root': (read * inMeter) / inRoom,
    'in the meter': (read * Math.sqrt(onScale * inMeter)) / inMeter,
  }[plan.meter];
  const d =
    plan.nozzleArea === 'body' ? body : plan.nozzleArea === 'radius' ? nozzle.diameter / 2 : nozzle.diameter;
  const area = (plan.nozzleArea === 'pi d2' ? Math.PI : Math.PI / 4) * d ** 2;
  const fallen = Math.min(1, (nozzle.decayConstant * nozzle.diameter) / nozzle.standOff);
  return (nozzle.profileFactor * fallen * throughNozzle) / area;
}
