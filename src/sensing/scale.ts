import type { Channel, Recording } from '../recording/index.ts';
import { type Chain, ChainError, type DegreesChain, type ThermocoupleChain } from './chain.ts';
import { degreesPerUnit, misfit, voltsPerUnit } from './channel-units.ts';
import { platinumCurvature, platinumInverse, platinumSlope, resistanceRange } from './resistance.ts';
import { thermocoupleReference } from './thermocouple.ts';
import { thermocoupleZero } from './zero.ts';

/** How a channel's numbers become degrees. */
export interface Scale {
  /**
   * Temperature, °C; NaN outside the range.
   *
   * @param x in the channel's unit
   * @param shift from `shiftAt`
   * @param near a temperature close by, if one is known
   */
  temperature(x: number, shift: number, near?: number): number;
  /** What the reference junction adds at a time, s, in the scale's own unit; 0 for chains without one. */
  shiftAt(time: number): number;
  /** Derivative of the temperature by the channel's number, at temperature t in °C. */
  slope(t: number): number;
  /** The second derivative; the first is asked back, for it is at hand. */
  curvature(t: number, slope: number): number;
  /** Range in words. */
  readonly range: string;
}

/**
 * The scale that a chain gives a recording's channel.
 *
 * @throws ChainError where chain and channel do not fit, or the chain's numbers make no scale
 */
export function scaleOf(recording: Recording, chain: Chain): Scale {
  switch (chain.kind) {
    case 'degrees':
      return degreesScale(recording.channel, chain);
    case 'thermocouple':
      return thermocoupleScale(recording, chain);
    case 'resistance': {
      const { nominal } = chain;
      if (recording.channel.unit !== 'ohm') throw misfit(recording.channel, 'a resistance', 'ohm');
      if (!(nominal > 0 && Number.isFinite(nominal))) {
        throw new ChainError(`The resistance at 0 °C is ${nominal} ohm; give one above 0, such as 100.`);
      }
      return {
        temperature: (x) => platinumInverse(x / nominal),
        shiftAt: () => 0,
        slope: (t) => platinumSlope(t) / nominal,
        curvature: (t) => platinumCurvature(t) / nominal ** 2,
        range: `the platinum scale, ${resistanceRange.from} to ${resistanceRange.to} °C`,
      };
    }
    case 'linear': {
      const slope = chain.slope * voltsPerUnit(recording.channel);
      if (!Number.isFinite(slope) || slope === 0 || !Number.isFinite(chain.offset)) {
        throw new ChainError(
          'The slope of a linear sensor must be a number other than 0 K/V, its offset a number.',
        );
      }
      return straight(slope, chain.offset);
    }
  }
}

/** Degrees by a straight line. */
function straight(slope: number, offset: number): Scale {
  return {
    temperature: (x) => {
      const t = offset + slope * x;
      return t >= absoluteZero ? t : Number.NaN;
    },
    shiftAt: () => 0,
    slope: () => slope,
    curvature: () => 0,
    range: 'what a temperature can be, above -273.15 °C',
  };
}

const absoluteZero = -273.15;

function degreesScale(channel: Channel, chain: DegreesChain): Scale {
  const { factor, offset } = degreesPerUnit({ ...channel, unit: chain.unit ?? channel.unit });
  return straight(factor, offset);
}

function thermocoupleScale(recording: Recording, chain: ThermocoupleChain): Scale {
  const { gain } = chain;
  if (!Number.isFinite(gain) || gain === 0) {
    throw new ChainError(`The gain of the amplifier is ${gain}; give a number other than 0, or 1 for none.`);
  }
  const reference = thermocoupleReference(chain.type);
  const perUnit = voltsPerUnit(recording.channel) / gain;
  const zero = thermocoupleZero(chain).volts / gain;
  return {
    temperature: (x, shift, near) => reference.temperature(x * perUnit - zero + shift, near),
    shiftAt: junctionEmf(recording, chain),
    slope: (t) => perUnit / reference.seebeck(t),
    curvature: (t, slope) => (-reference.seebeckSlope(t) * slope ** 3) / perUnit,
    range: `the type ${chain.type} reference function, ${Math.round(reference.tellsFrom)} to ${reference.to} °C`,
  };
}

/** Emf of the reference junction, V, at a time, s. */
function junctionEmf(recording: Recording, chain: ThermocoupleChain): (time: number) => number {
  const { junction } = chain;
  const reference = thermocoupleReference(chain.type);
  if (junction.kind !== 'channel') {
    const emf = junction.kind === 'ice' ? 0 : reference.emf(junction.temperature);
    if (Number.isNaN(emf)) {
      throw new ChainError(
        `The reference junction is outside the range of type ${chain.type}; give its temperature in °C.`,
      );
    }
    return () => emf;
  }
  const companion = recording.companions.find(({ channel }) => channel.column === junction.column);
  if (companion === undefined) {
    throw new ChainError(
      `The reference junction is said to be in column ${junction.column} of ${recording.name}, which was not read; ask for it along with the temperature.`,
    );
  }
  const toDegrees = degreesScale(companion.channel, { kind: 'degrees' });
  const { time, mean, length } = companion.blocks;
  const emf = mean.map((x) => reference.emf(toDegrees.temperature(x, 0)));
  let at = 0;
  // Asked in order of time; the last block that had begun counts.
  return (t) => {
    if (t < (time[at] ?? 0)) at = 0;
    while (at + 1 < length && (time[at + 1] ?? Number.NaN) <= t) at++;
    return emf[at] ?? Number.NaN;
  };
}
