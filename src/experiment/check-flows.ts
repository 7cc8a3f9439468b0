import { airDensity, type LinePressure, meterMassFlow } from '../prediction/index.ts';
import { type ExperimentRemark, placed, shown } from './check-remark.ts';
import type { FlowSetting } from './flow-reading.ts';
import { meterOf } from './meter-input.ts';
import type { Experiment } from './schema-keys.ts';

/** Speeds in the mouth of the nozzle that this experiment has, m/s (common practice, no source). */
const usualSpeeds = { low: 0.5, high: 150 };
/** Where a speed is surely meant, m/s: the class can hear it and the air is not compressed by it. */
const meantSpeeds = { low: 1, high: 100 };
/** 0 °C, K. */
const freezing = 273.15;

/** What is unusual about flow meter, pressures and flows. */
export function checkFlows(experiment: Experiment): ExperimentRemark[] {
  const flows = Object.entries(experiment.flows);
  return [
    ...flows.flatMap(([code, flow]) => (flow.kind === 'metered' ? overScale(experiment, code, flow) : [])),
    ...flows.flatMap(([code, flow]) => (flow.kind === 'metered' ? speedRemark(experiment, code, flow) : [])),
    ...pressureRemarks(experiment),
  ];
}

type MeteredFlow = Extract<FlowSetting, { kind: 'metered' }>;

function overScale(
  { meter }: Experiment,
  code: string,
  { reading, written }: MeteredFlow,
): ExperimentRemark[] {
  const end = meter?.['full-scale']?.reading.value;
  if (end === undefined || reading.value <= end * (1 + 1e-9)) return [];
  return [
    placed(
      'flow-over-scale',
      'caution',
      ['flows', code],
      `The flow of ${written} is ${shown(reading.value / end)} times the end of the scale of the meter.`,
      'Check the units of both; a reading beyond the scale cannot be set.',
    ),
  ];
}

/** Mean speed in the mouth of the nozzle, m/s; null where the file does not say enough. */
function mouthSpeed(experiment: Experiment, reading: number): number | null {
  const { room, supply, nozzle } = experiment;
  const meter = meterOf(experiment, reading);
  if (meter === null || room === undefined || supply === undefined || nozzle === undefined) return null;
  const { reference, line } = meter;
  const massFlow = meterMassFlow(
    meter.kind,
    reading,
    airDensity(reference.temperature, reference.pressure),
    absolute(line.pressure, room.pressure.value),
    line.temperature,
  );
  const density = airDensity(supply.temperature.value + freezing, room.pressure.value);
  const speed = massFlow / (density * (Math.PI / 4) * nozzle.diameter.value ** 2);
  return Number.isFinite(speed) ? speed : null;
}

function absolute(pressure: LinePressure, room: number): number {
  return 'absolutePressure' in pressure ? pressure.absolutePressure : room + pressure.gaugePressure;
}

function speedRemark(experiment: Experiment, code: string, flow: MeteredFlow): ExperimentRemark[] {
  const speed = mouthSpeed(experiment, flow.reading.value);
  if (speed === null || (speed >= usualSpeeds.low && speed <= usualSpeeds.high)) return [];
  return [
    placed(
      'speed-implausible',
      'caution',
      ['flows', code],
      `With ${flow.written} the air would leave the nozzle at ${shown(speed)} m/s.`,
      `Check the unit of the flow, the bore of the nozzle and the pressure in the meter${otherUnits(flow.written, speed)}.`,
    ),
  ];
}

const times: Readonly<Record<string, number>> = { s: 1, min: 60, h: 3600 };

/** The units of time with which the same number would give a speed that could be meant. */
function otherUnits(written: string, speed: number): string {
  const match = /^(.*(?:\/| per ))\s*(s|min|h)\b/.exec(written);
  const own = times[match?.[2] ?? ''];
  if (match === null || own === undefined) return '';
  const meant = Object.entries(times)
    .map(([unit, seconds]) => ({ unit, speed: (speed * own) / seconds }))
    .filter((other) => other.speed >= meantSpeeds.low && other.speed <= meantSpeeds.high)
    .map((other) => `as ${match[1] ?? ''}${other.unit} it would be ${shown(other.speed)} m/s`);
  return meant.length === 0 ? '' : `; ${meant.join(', ')}`;
}

/** A gauge pressure so near that of the room is more likely an absolute one. */
const sameAsRoom = 0.003;

function pressureRemarks({ room, meter, supply }: Experiment): ExperimentRemark[] {
  const line = meter?.line?.pressure.pressure;
  if (line === undefined || room === undefined) return [];
  const place = ['meter', 'line', 'pressure'];
  const outside = room.pressure.value;
  const inside = absolute(line, outside);
  const remarks: ExperimentRemark[] = [];
  if (inside < outside * (1 - 1e-3)) {
    remarks.push(
      placed(
        'gauge-doubtful',
        'caution',
        place,
        `The pressure in the meter, ${bar(inside)} bar absolute, is below the ${bar(outside)} bar of the room, and no air would flow.`,
        'If a gauge shows it, write (g) behind the unit.',
      ),
    );
  } else if ('gaugePressure' in line && Math.abs(line.gaugePressure / outside - 1) < sameAsRoom) {
    remarks.push(
      placed(
        'gauge-doubtful',
        'note',
        place,
        `The pressure in the meter, ${bar(line.gaugePressure)} bar over the room, is as large as that of the room itself.`,
        'If it is an absolute pressure, write (a) behind the unit.',
      ),
    );
  }
  if (supply?.pressure !== undefined && absolute(supply.pressure.pressure, outside) < inside) {
    remarks.push(
      placed(
        'gauge-doubtful',
        'caution',
        ['supply', 'pressure'],
        `The supply has ${bar(absolute(supply.pressure.pressure, outside))} bar absolute, less than the ${bar(inside)} bar in the meter behind it.`,
        'Check which of the two is gauge, (g), and which absolute, (a).',
      ),
    );
  }
  return remarks;
}

function bar(pascal: number): string {
  return shown(pascal / 1e5);
}
