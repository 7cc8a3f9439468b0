import {
  type Chain,
  type ChainUncertainty,
  chainUncertainty,
  type PlatinumClass,
  type ThermocoupleClass,
  type ThermocoupleType,
  type ToleratedSensor,
} from '../sensing/index.ts';
import type { Experiment } from './schema-keys.ts';

type Sensor = Experiment['sensor'];

/** Where the reference junction is another channel, its temperature is that of a room, °C. */
const roomJunction = 20;

/**
 * Whether the file describes the voltage chain: amplifier or reference junction. Where it names neither, recordings
 * are taken to be in degrees already.
 */
export function recordsVoltage({ sensor }: Experiment): boolean {
  const { thermocouple, gain, junction, zero } = sensor;
  return thermocouple !== undefined && (gain !== undefined || junction !== undefined || zero !== undefined);
}

/** The experiment without what only a recorded voltage has, where its recordings are taken to be in degrees. */
export function asRecorded(experiment: Experiment): Experiment {
  if (recordsVoltage(experiment)) return experiment;
  return { ...experiment, sensor: { ...experiment.sensor, thermocouple: undefined } };
}

/**
 * What will be known of the sensor chain of a trial, from what the file says of sensor and amplifier.
 *
 * @param cold temperature that the trial cools to, °C
 * @param hot temperature that it starts from, °C
 */
export function plannedChain(experiment: Experiment, cold: number, hot: number): ChainUncertainty {
  return chainUncertainty(describedChain(experiment), cold, hot);
}

function describedChain(experiment: Experiment): Chain {
  const { sensor } = experiment;
  const { thermocouple, resistance } = sensor;
  if (thermocouple !== undefined && recordsVoltage(experiment)) return voltageChain(sensor, thermocouple);
  if (thermocouple === undefined && resistance !== undefined) {
    const nominal = resistance === 'Pt100' ? 100 : 1000;
    const toleranceClass = platinumClass(sensor);
    return { kind: 'resistance', nominal, ...(toleranceClass === null ? {} : { toleranceClass }) };
  }
  const tolerance = toleratedSensor(sensor);
  return { kind: 'degrees', ...(tolerance === null ? {} : { tolerance }) };
}

function voltageChain(sensor: Sensor, type: ThermocoupleType): Chain {
  const { gain = 1, junction } = sensor;
  const known = sensor['junction-uncertainty'];
  const uncertainty = known === undefined ? {} : { standardUncertainty: known };
  const zero = sensor.zero?.value ?? 0;
  const inIce = junction === undefined || junction === 'ice';
  const gainUncertainty = sensor['gain-uncertainty'];
  const zeroUncertainty = sensor.zero?.standardUncertainty ?? null;
  const toleranceClass = thermocoupleClass(sensor);
  return {
    kind: 'thermocouple',
    type,
    junction: inIce
      ? { kind: 'ice', ...uncertainty }
      : { kind: 'fixed', temperature: roomJunction, ...uncertainty },
    gain,
    zero,
    ...(gainUncertainty === undefined ? {} : { gainUncertainty }),
    ...(zeroUncertainty === null ? {} : { zeroUncertainty }),
    ...(toleranceClass === null ? {} : { toleranceClass }),
  };
}

function toleratedSensor(sensor: Sensor): ToleratedSensor | null {
  const { thermocouple } = sensor;
  if (thermocouple !== undefined) {
    const own = thermocoupleClass(sensor);
    return own === null ? null : { sensor: 'thermocouple', type: thermocouple, class: own };
  }
  const own = platinumClass(sensor);
  return own === null ? null : { sensor: 'platinum', class: own };
}

function thermocoupleClass(sensor: Sensor): ThermocoupleClass | null {
  const text = sensor['tolerance-class'];
  return text === '1' ? 1 : text === '2' ? 2 : text === '3' ? 3 : null;
}

function platinumClass(sensor: Sensor): PlatinumClass | null {
  const text = sensor['tolerance-class'];
  return text === 'AA' || text === 'A' || text === 'B' || text === 'C' ? text : null;
}
