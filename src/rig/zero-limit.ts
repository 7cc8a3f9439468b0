import type { Experiment } from '../experiment/index.ts';
import { thermocoupleEmf } from '../sensing/index.ts';

/** Part of the time constant that a zero which has moved may cost: common practice, no source. */
const bearable = 0.01;

/** Where the file states none, °C: a usual heating, and a room. */
const usualTarget = 90;
const usualRoom = 20;
/** A record that is shorter, in time constants, says nothing. */
const shortest = 0.05;

/**
 * How much an ambient that is off moves ln tau: C = (d ln tau / d ambient) × step, of a fit of amplitude and time
 * constant with the ambient held, in evenly spaced readings over a record of a length.
 *
 * Least squares on a e^(-x) + error: with the derivatives e^(-x) and x e^(-x), and a constant error in the data,
 * C = (I00 r1 - I01 r0) / (I00 I11 - I01²), where Iij are the integrals of the products of the derivatives over the
 * record and ri those of the derivatives alone. For an endless record that is 4.
 *
 * @param length of the record in time constants, > 0
 */
export function ambientLever(length: number): number {
  const e = Math.exp(-length);
  const e2 = e * e;
  const r0 = 1 - e;
  const r1 = 1 - (1 + length) * e;
  const i00 = (1 - e2) / 2;
  const i01 = (1 - (1 + 2 * length) * e2) / 4;
  const i11 = (1 - (1 + 2 * length + 2 * length ** 2) * e2) / 4;
  return (i00 * r1 - i01 * r0) / (i00 * i11 - i01 ** 2);
}

/**
 * How far the zero of the amplifier may lie from the one that is stated, V at the logger: as far as moves the time
 * constant by 1 % where the ambient does not come from the same channel, or where the zero moves between the baseline
 * and the cooling. A zero that is off by the same all the time cancels in the error fraction.
 *
 * @returns null where the experiment file names no thermocouple, so that volts are not known as kelvin
 */
export function zeroTolerance({ sensor, protocol, supply, room }: Experiment): number | null {
  const { thermocouple, gain = 1 } = sensor;
  if (thermocouple === undefined) return null;
  const ambient = supply?.temperature.value ?? room?.temperature.value ?? usualRoom;
  const step = (protocol.target ?? usualTarget) - ambient;
  const end = protocol['end-fraction'];
  const lever = ambientLever(Math.max(shortest, -Math.log(end)));
  const perKelvin =
    thermocoupleEmf(thermocouple, ambient + 0.5) - thermocoupleEmf(thermocouple, ambient - 0.5);
  const allowed = ((bearable * Math.abs(step)) / lever) * Math.abs(perKelvin) * gain;
  return Number.isFinite(allowed) ? allowed : null;
}
