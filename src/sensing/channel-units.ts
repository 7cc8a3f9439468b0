import type { Channel, ChannelUnit } from '../recording/index.ts';
import { ChainError } from './chain.ts';

const voltUnits: Partial<Record<ChannelUnit, number>> = { V: 1, mV: 1e-3, uV: 1e-6 };
const degreeUnits: Partial<Record<ChannelUnit, { factor: number; offset: number }>> = {
  degC: { factor: 1, offset: 0 },
  K: { factor: 1, offset: -273.15 },
  degF: { factor: 5 / 9, offset: -160 / 9 },
};

/** An error that says what the channel holds and what the chain wants. */
export function misfit(channel: Channel, wanted: string, units: string): ChainError {
  const found = channel.unit === null ? 'has no unit' : `is in ${channel.unit}`;
  return new ChainError(
    `Channel "${channel.name}" ${found}, but the chain starts from ${wanted}; give its unit as ${units}, or another chain.`,
  );
}

/**
 * Volts per unit of a channel.
 *
 * @throws ChainError where the channel is not a voltage
 */
export function voltsPerUnit(channel: Channel): number {
  const volts = channel.unit === null ? undefined : voltUnits[channel.unit];
  if (volts === undefined) throw misfit(channel, 'a voltage', 'V, mV or uV');
  return volts;
}

/**
 * Temperature in °C = offset + factor × number, for a channel in degrees.
 *
 * @throws ChainError where the channel is not a temperature
 */
export function degreesPerUnit(channel: Channel): { readonly factor: number; readonly offset: number } {
  const degrees = channel.unit === null ? undefined : degreeUnits[channel.unit];
  if (degrees === undefined) throw misfit(channel, 'a temperature', 'degC, degF or K');
  return degrees;
}
