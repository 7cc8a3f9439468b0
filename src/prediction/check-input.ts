import { findCorrelation } from './convection.ts';
import { type Meter, type PredictionInput, PredictionInputError, type Wire } from './input.ts';
import { toAbsolutePressure } from './meter.ts';
import type { Material } from './solids.ts';

interface Limits {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
  readonly hint?: string;
}

function inside(field: string, value: number, { low, high, unit, hint }: Limits): void {
  if (typeof value === 'number' && value >= low && value <= high) return;
  const allowed = `it must be between ${low} and ${high} ${unit}`.trimEnd();
  throw new PredictionInputError(field, `is ${value}; ${allowed}${hint === undefined ? '' : ` (${hint})`}`);
}

const kelvin = 'temperatures are in K';
const roomTemperature: Limits = { low: 260, high: 330, unit: 'K', hint: kelvin };
const anyTemperature: Limits = { low: 250, high: 500, unit: 'K', hint: kelvin };
const part: Limits = { low: 0, high: 1, unit: '' };
const roomPressure: Limits = {
  low: 60e3,
  high: 110e3,
  unit: 'Pa',
  hint: 'the absolute pressure in the room, neither gauge nor reduced to sea level',
};
const linePressure: Limits = {
  low: 1e4,
  high: 1.3e6,
  unit: 'Pa absolute',
  hint: 'a gauge pressure belongs in gaugePressure',
};
const length = (low: number, high: number): Limits => ({ low, high, unit: 'm' });

function checkMaterial(field: string, material: Material): void {
  inside(`${field}.density`, material.density, { low: 1, high: 30_000, unit: 'kg/m³' });
  if (material.points.length === 0) throw new PredictionInputError(`${field}.points`, 'is empty');
  for (const point of material.points) {
    inside(`${field}.specificHeat`, point.specificHeat, { low: 10, high: 20_000, unit: 'J/(kg K)' });
    inside(`${field}.conductivity`, point.conductivity, { low: 1e-3, high: 5000, unit: 'W/(m K)' });
  }
}

function checkMeter(meter: Meter, room: number): void {
  inside('flow.meter.reading', meter.reading, {
    low: 1e-9,
    high: 10,
    unit: meter.kind === 'mass' ? 'kg/s' : 'm³/s',
    hint: 'per second',
  });
  if (meter.kind === 'variable-area' || meter.kind === 'thermal-mass') {
    inside('flow.meter.reference.pressure', meter.reference.pressure, linePressure);
    inside('flow.meter.reference.temperature', meter.reference.temperature, anyTemperature);
  }
  if (meter.kind === 'variable-area' || meter.kind === 'volumetric') {
    inside('flow.meter.line.pressure', toAbsolutePressure(meter.line.pressure, room), linePressure);
    inside('flow.meter.line.temperature', meter.line.temperature, anyTemperature);
  }
}

function checkFlow(flow: PredictionInput['flow'], room: number): void {
  if (flow.kind === 'still') return;
  inside('flow.temperature', flow.temperature, anyTemperature);
  inside('flow.relativeHumidity', flow.relativeHumidity, part);
  if (flow.kind === 'speed') {
    inside('flow.speed', flow.speed, { low: 0, high: 300, unit: 'm/s' });
    return;
  }
  checkMeter(flow.meter, room);
  inside('flow.nozzle.diameter', flow.nozzle.diameter, length(1e-4, 1));
  inside('flow.nozzle.standOff', flow.nozzle.standOff, length(0, 100));
  inside('flow.nozzle.profileFactor', flow.nozzle.profileFactor, { low: 0.8, high: 2, unit: '' });
  inside('flow.nozzle.decayConstant', flow.nozzle.decayConstant, { low: 1, high: 10, unit: '' });
}

function checkWire(field: string, wire: Wire, body: number): void {
  inside(`${field}.diameter`, wire.diameter, length(1e-6, body));
  if (wire.length !== null) inside(`${field}.length`, wire.length, length(1e-4, 100));
  checkMaterial(`${field}.material`, wire.material);
}

/**
 * Refuses what no physics can be done with.
 *
 * @throws PredictionInputError that names the field, its value and what is allowed
 */
export function checkPredictionInput(input: PredictionInput): void {
  const { room, flow, body, cooling, correlation } = input;
  inside('room.pressure', room.pressure, roomPressure);
  inside('room.temperature', room.temperature, roomTemperature);
  inside('room.relativeHumidity', room.relativeHumidity, part);
  checkFlow(flow, room.pressure);
  inside('body.diameter', body.diameter, length(1e-5, 0.5));
  inside('body.emissivity', body.emissivity, part);
  checkMaterial('body.material', body.material);
  if (body.mass !== null) {
    if (body.shape !== 'sphere') throw new PredictionInputError('body.mass', 'is used for spheres only');
    inside('body.mass', body.mass, { low: 1e-12, high: 1000, unit: 'kg' });
  }
  if (body.wires.length > 20) throw new PredictionInputError('body.wires', 'holds more than 20 wires');
  body.wires.forEach((wire, i) => {
    checkWire(`body.wires[${i}]`, wire, body.diameter);
  });
  inside('cooling.start', cooling.start, anyTemperature);
  const air = flow.kind === 'still' ? room.temperature : flow.temperature;
  if (Math.abs(cooling.start - air) < 1) {
    throw new PredictionInputError(
      'cooling.start',
      `is ${cooling.start} K, within 1 K of the air at ${air} K`,
    );
  }
  inside('cooling.window.from', cooling.window.from, { low: 1e-6, high: 1, unit: '' });
  inside('cooling.window.to', cooling.window.to, { low: 1e-6, high: 1, unit: '' });
  if (!(cooling.window.from > cooling.window.to)) {
    throw new PredictionInputError('cooling.window.to', 'must be below cooling.window.from, as 0.1 and 0.9');
  }
  checkCorrelation(correlation, body.shape);
}

function checkCorrelation(id: string | null, shape: PredictionInput['body']['shape']): void {
  if (id === null) return;
  const found = findCorrelation(id);
  if (found === undefined) throw new PredictionInputError('correlation', `${id} is not in the table`);
  const geometry = shape === 'sphere' ? 'sphere' : 'cylinder';
  if (found.geometry !== geometry || found.convection !== 'forced') {
    throw new PredictionInputError('correlation', `${id} is not for forced convection from a ${geometry}`);
  }
}
