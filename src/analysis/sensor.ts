import type { Experiment } from '../experiment/index.ts';
import { parseQuantity } from '../quantity/index.ts';
import type { ChannelUnit, Recording } from '../recording/index.ts';
import type {
  Chain,
  PlatinumClass,
  ReferenceJunction,
  ThermocoupleClass,
  ThermocoupleType,
  ToleratedSensor,
} from '../sensing/index.ts';
import { SensorError } from './sensor-error.ts';

/** Where the reference junction is: in ice, at a temperature in °C, or recorded in a channel. */
type JunctionSetting =
  | { readonly kind: 'ice' }
  | { readonly kind: 'fixed'; readonly temperature: number }
  | { readonly kind: 'channel'; readonly name: string };

/** What is known of the sensor and of what stands between it and the file. */
export interface SensorSettings {
  readonly thermocouple: ThermocoupleType | null;
  readonly resistance: 'Pt100' | 'Pt1000' | null;
  readonly tolerance: string | null;
  readonly junction: JunctionSetting | null;
  readonly gain: number;
  /** V at the logger. */
  readonly zero: number;
  /** Standard uncertainties: K, a part of the gain, V at the logger; null where they are not known. */
  readonly junctionUncertainty: number | null;
  readonly gainUncertainty: number | null;
  readonly zeroUncertainty: number | null;
}

/**
 * What an experiment file says of the sensor.
 *
 * @param junction reference junction as it is written, in place of that of the file
 * @throws SensorError where the reference junction cannot be understood
 */
export function sensorSettings(experiment: Experiment | null, junction?: string): SensorSettings {
  const sensor = experiment?.sensor;
  const written = junction ?? sensor?.junction;
  return {
    thermocouple: sensor?.thermocouple ?? null,
    resistance: sensor?.resistance ?? null,
    tolerance: sensor?.['tolerance-class'] ?? null,
    junction: written === undefined ? null : junctionSetting(written),
    gain: sensor?.gain ?? 1,
    zero: sensor?.zero?.value ?? 0,
    junctionUncertainty: junction === undefined ? (sensor?.['junction-uncertainty'] ?? null) : null,
    gainUncertainty: sensor?.['gain-uncertainty'] ?? null,
    zeroUncertainty: sensor?.zero?.standardUncertainty ?? null,
  };
}

function junctionSetting(text: string): JunctionSetting {
  if (text === 'ice') return { kind: 'ice' };
  if (!/^[+-]?[\d.]/.test(text)) return { kind: 'channel', name: text };
  const parsed = parseQuantity(text, 'temperature');
  if (parsed.ok) return { kind: 'fixed', temperature: parsed.value };
  throw new SensorError('junction-written', text, `${parsed.problem} ${parsed.mend}`);
}

/**
 * The chain for a channel, by its unit: a voltage needs a thermocouple, ohm a resistance sensor, degrees nothing.
 *
 * @param recording what was read
 * @param zero a recording with the input shorted, or null
 * @throws SensorError where the channel's unit and the sensor do not go together; the message says what to give
 */
export function chainFor(recording: Recording, settings: SensorSettings, zero: Recording | null): Chain {
  const { unit, name } = recording.channel;
  if (unit === null) throw new SensorError('unit', recording.name, unitUnknown(recording));
  if (isDegrees(unit)) {
    const tolerance = toleratedSensor(settings);
    return { kind: 'degrees', ...(tolerance === null ? {} : { tolerance }) };
  }
  if (unit === 'ohm') {
    if (settings.resistance === null) {
      throw new SensorError('resistance', name, `channel "${name}" is in ohm`);
    }
    const toleranceClass = platinumClass(settings.tolerance);
    return {
      kind: 'resistance',
      nominal: settings.resistance === 'Pt100' ? 100 : 1000,
      ...(toleranceClass === null ? {} : { toleranceClass }),
    };
  }
  if (settings.thermocouple === null) {
    throw new SensorError('thermocouple', name, `channel "${name}" is in ${unit}`);
  }
  const toleranceClass = thermocoupleClass(settings.tolerance);
  return {
    kind: 'thermocouple',
    type: settings.thermocouple,
    junction: referenceJunction(recording, settings),
    gain: settings.gain,
    zero: zero ?? settings.zero,
    ...(settings.gainUncertainty === null ? {} : { gainUncertainty: settings.gainUncertainty }),
    ...(settings.zeroUncertainty === null || zero !== null
      ? {}
      : { zeroUncertainty: settings.zeroUncertainty }),
    ...(toleranceClass === null ? {} : { toleranceClass }),
  };
}

function referenceJunction(
  recording: Recording,
  { junction, junctionUncertainty }: SensorSettings,
): ReferenceJunction {
  if (junction === null) {
    const { name } = recording.channel;
    throw new SensorError('junction', name, `channel "${name}" is a thermocouple voltage`);
  }
  const known = junctionUncertainty === null ? {} : { standardUncertainty: junctionUncertainty };
  if (junction.kind !== 'channel') return { ...junction, ...known };
  const channel = recording.companions[0]?.channel;
  if (channel === undefined) {
    throw new SensorError('junction-channel', junction.name, 'the file has no such channel');
  }
  return { kind: 'channel', column: channel.column, ...known };
}

function unitUnknown(recording: Recording): string {
  const values = Array.from(recording.opening.subarray(0, 3), (value) => String(value)).join(', ');
  return `the unit of channel "${recording.channel.name}" is not written in the file (first readings ${values})`;
}

function isDegrees(unit: ChannelUnit): boolean {
  return unit === 'degC' || unit === 'degF' || unit === 'K';
}

function toleratedSensor({ tolerance, thermocouple }: SensorSettings): ToleratedSensor | null {
  if (tolerance === null) return null;
  if (thermocouple !== null) {
    const toleranceClass = thermocoupleClass(tolerance);
    return toleranceClass === null
      ? null
      : { sensor: 'thermocouple', type: thermocouple, class: toleranceClass };
  }
  const toleranceClass = platinumClass(tolerance);
  return toleranceClass === null ? null : { sensor: 'platinum', class: toleranceClass };
}

function thermocoupleClass(text: string | null): ThermocoupleClass | null {
  if (text === null) return null;
  if (text === '1') return 1;
  if (text === '2') return 2;
  if (text === '3') return 3;
  throw new SensorError('tolerance', text, 'a thermocouple has class 1, 2 or 3');
}

function platinumClass(text: string | null): PlatinumClass | null {
  if (text === null) return null;
  if (text === 'AA' || text === 'A' || text === 'B' || text === 'C') return text;
  const wrong =
    text === '1' || text === '2' || text === '3'
      ? 'that is a class of thermocouples, and no thermocouple is named beside it; '
      : '';
  throw new SensorError('tolerance', text, `${wrong}a platinum sensor has class AA, A, B or C`);
}
