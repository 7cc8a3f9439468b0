import type { Experiment } from '../experiment/index.ts';
import type { ChannelUnit, Recording } from '../recording/index.ts';
import {
  type Chain,
  type PlatinumClass,
  type ReferenceJunction,
  type ThermocoupleClass,
  type ThermocoupleType,
  type ToleratedSensor,
  thermocoupleTypes,
} from '../sensing/index.ts';
import { type AnalyzeOptions, OptionError, quantity } from './wishes.ts';

/** What is known of the sensor chain: options over the experiment file. */
export interface ChainWishes {
  readonly thermocouple: ThermocoupleType | null;
  readonly resistance: 'Pt100' | 'Pt1000' | null;
  readonly tolerance: string | null;
  /** `ice`, a temperature in °C, or the name of a channel. */
  readonly junction:
    | { readonly kind: 'ice' }
    | { readonly kind: 'fixed'; readonly temperature: number }
    | { readonly kind: 'channel'; readonly name: string }
    | null;
  readonly gain: number;
  /** V at the logger. */
  readonly zero: number;
  /** Standard uncertainties of the file, where it is the file that counts: K, a part of the gain, V at the logger. */
  readonly junctionUncertainty: number | null;
  readonly gainUncertainty: number | null;
  readonly zeroUncertainty: number | null;
}

/** @throws OptionError where an option or the experiment file contradicts itself or cannot be understood */
export function chainWishes(options: AnalyzeOptions, experiment: Experiment | null): ChainWishes {
  const sensor = experiment?.sensor;
  const ownSensor = options.thermocouple !== undefined || options.resistance !== undefined;
  if (options.thermocouple !== undefined && options.resistance !== undefined) {
    throw new OptionError('--thermocouple and --resistance: a channel is one or the other');
  }
  const junction = options.junction ?? sensor?.junction;
  return {
    thermocouple: letter(options.thermocouple ?? (ownSensor ? undefined : sensor?.thermocouple)),
    resistance: options.resistance ?? (ownSensor ? null : (sensor?.resistance ?? null)),
    tolerance: options.tolerance ?? sensor?.['tolerance-class'] ?? null,
    junction: junction === undefined ? null : junctionOf(junction),
    gain: options.gain === undefined ? (sensor?.gain ?? 1) : gainOf(options.gain),
    zero:
      options.zero === undefined ? (sensor?.zero?.value ?? 0) : quantity('--zero', options.zero, 'voltage'),
    junctionUncertainty: options.junction === undefined ? (sensor?.['junction-uncertainty'] ?? null) : null,
    gainUncertainty: options.gain === undefined ? (sensor?.['gain-uncertainty'] ?? null) : null,
    zeroUncertainty: options.zero === undefined ? (sensor?.zero?.standardUncertainty ?? null) : null,
  };
}

/**
 * The chain for a channel, by its unit: a voltage needs a thermocouple, ohm a resistance sensor, degrees nothing.
 *
 * @param recording what was read
 * @param zero a recording with the input shorted, or null
 * @throws OptionError where the channel's unit and the sensor do not go together; the message says what to give
 */
export function chainFor(recording: Recording, wishes: ChainWishes, zero: Recording | null): Chain {
  const { unit } = recording.channel;
  if (unit === null) throw new OptionError(unitUnknown(recording));
  if (isDegrees(unit)) {
    const tolerance = toleratedSensor(wishes);
    return { kind: 'degrees', ...(tolerance === null ? {} : { tolerance }) };
  }
  if (unit === 'ohm') {
    if (wishes.resistance === null) {
      throw new OptionError(
        `channel "${recording.channel.name}" is in ohm: say which sensor it is, with --resistance Pt100`,
      );
    }
    const toleranceClass = platinumClass(wishes.tolerance);
    return {
      kind: 'resistance',
      nominal: wishes.resistance === 'Pt100' ? 100 : 1000,
      ...(toleranceClass === null ? {} : { toleranceClass }),
    };
  }
  if (wishes.thermocouple === null) {
    throw new OptionError(
      `channel "${recording.channel.name}" is in ${unit}: say which thermocouple it is, with --thermocouple T (and --gain, --zero where an amplifier stands between)`,
    );
  }
  const toleranceClass = thermocoupleClass(wishes.tolerance);
  return {
    kind: 'thermocouple',
    type: wishes.thermocouple,
    junction: referenceJunction(recording, wishes),
    gain: wishes.gain,
    zero: zero ?? wishes.zero,
    ...(wishes.gainUncertainty === null ? {} : { gainUncertainty: wishes.gainUncertainty }),
    ...(wishes.zeroUncertainty === null || zero !== null ? {} : { zeroUncertainty: wishes.zeroUncertainty }),
    ...(toleranceClass === null ? {} : { toleranceClass }),
  };
}

function referenceJunction(
  recording: Recording,
  { junction, junctionUncertainty }: ChainWishes,
): ReferenceJunction {
  if (junction === null) {
    throw new OptionError(
      `channel "${recording.channel.name}" is a thermocouple voltage: say where its reference junction is, with --junction ice, --junction "22.5 degC" or --junction <channel>`,
    );
  }
  const known = junctionUncertainty === null ? {} : { standardUncertainty: junctionUncertainty };
  if (junction.kind !== 'channel') return { ...junction, ...known };
  const channel = recording.companions[0]?.channel;
  if (channel === undefined) {
    throw new OptionError(`--junction ${junction.name}: the file has no such channel`);
  }
  return { kind: 'channel', column: channel.column, ...known };
}

function unitUnknown(recording: Recording): string {
  const values = Array.from(recording.opening.subarray(0, 3), (value) => String(value)).join(', ');
  return `${recording.name}: the unit of channel "${recording.channel.name}" is not written in the file (first readings ${values}); say it with --unit: degC, degF, K, V, mV, uV or ohm`;
}

function isDegrees(unit: ChannelUnit): boolean {
  return unit === 'degC' || unit === 'degF' || unit === 'K';
}

function letter(text: string | undefined): ThermocoupleType | null {
  if (text === undefined) return null;
  const found = thermocoupleTypes.find((type) => type === text.toUpperCase());
  if (found !== undefined) return found;
  throw new OptionError(`--thermocouple ${text}: write one of ${thermocoupleTypes.join(', ')}`);
}

function junctionOf(text: string): NonNullable<ChainWishes['junction']> {
  if (text === 'ice') return { kind: 'ice' };
  if (/^[+-]?[\d.]/.test(text)) {
    return { kind: 'fixed', temperature: quantity('--junction', text, 'temperature') };
  }
  return { kind: 'channel', name: text };
}

function gainOf(text: string): number {
  const gain = Number(text);
  if (Number.isFinite(gain) && gain !== 0) return gain;
  throw new OptionError(`--gain ${text}: write a plain number such as 200`);
}

function toleratedSensor(wishes: ChainWishes): ToleratedSensor | null {
  if (wishes.tolerance === null) return null;
  if (wishes.thermocouple !== null) {
    const toleranceClass = thermocoupleClass(wishes.tolerance);
    return toleranceClass === null
      ? null
      : { sensor: 'thermocouple', type: wishes.thermocouple, class: toleranceClass };
  }
  const toleranceClass = platinumClass(wishes.tolerance);
  return toleranceClass === null ? null : { sensor: 'platinum', class: toleranceClass };
}

function thermocoupleClass(text: string | null): ThermocoupleClass | null {
  if (text === null) return null;
  if (text === '1') return 1;
  if (text === '2') return 2;
  if (text === '3') return 3;
  throw new OptionError(`--tolerance ${text}: a thermocouple has class 1, 2 or 3`);
}

function platinumClass(text: string | null): PlatinumClass | null {
  if (text === null) return null;
  if (text === 'AA' || text === 'A' || text === 'B' || text === 'C') return text;
  throw new OptionError(`--tolerance ${text}: a platinum sensor has class AA, A, B or C`);
}
