import type { Experiment } from '../experiment/index.ts';
import { bearableZeroShift } from '../live/index.ts';
import { thermocoupleEmf } from '../sensing/index.ts';

/** Where the file states none, °C: a usual heating, and a room. */
const usualTarget = 90;
const usualRoom = 20;

/**
 * How far the zero of the amplifier may lie from the one that is stated, V at the logger: as far as moves the time
 * constant by no more than it can bear where the ambient does not come from the same channel, or where the zero moves
 * between the baseline and the cooling. A zero that is off by the same all the time cancels in the error fraction.
 *
 * @returns null where the experiment file names no thermocouple, so that volts are not known as kelvin
 */
export function zeroTolerance({ sensor, protocol, supply, room }: Experiment): number | null {
  const { thermocouple, gain = 1 } = sensor;
  if (thermocouple === undefined) return null;
  const ambient = supply?.temperature.value ?? room?.temperature.value ?? usualRoom;
  const step = (protocol.target ?? usualTarget) - ambient;
  const shift = bearableZeroShift(Math.abs(step), protocol['end-fraction']);
  const perKelvin =
    thermocoupleEmf(thermocouple, ambient + 0.5) - thermocoupleEmf(thermocouple, ambient - 0.5);
  const allowed = shift * Math.abs(perKelvin) * gain;
  return Number.isFinite(allowed) ? allowed : null;
}
