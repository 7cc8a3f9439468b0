import type { Remark, Span } from '../remark/index.ts';
import type { Clipping, RawNoise } from './raw-noise-types.ts';
import { figures } from './segment-words.ts';

/** Where the noise matters. */
export interface NoiseFacts {
  readonly noise: RawNoise;
  /** Clean cooling, s; null without one. */
  readonly cooling: Span | null;
  /** From the start of the cooling to the ambient, K. */
  readonly step: number;
  /** Whether the blocks span whole mains periods. */
  readonly humFree: boolean;
}

/** A converter step of this part of the temperature step is coarse, and of that one limits the result. */
const coarse = 0.005;
const veryCoarse = 0.02;

/** Hum of this part of the temperature step is worth a word. */
const heavyHum = 0.01;

/** A logger slower than this part of the mains frequency cannot be asked to follow it. */
const slowestForAdvice = 0.2;

/** Remarks on the readings as such: `clipped`, `coarse-resolution`, `hum-heavy`. */
export function rawNoiseRemarks(facts: NoiseFacts): Remark[] {
  return [
    ...facts.noise.clipping.map((clipping) => clipped(clipping, facts)),
    ...coarseResolution(facts),
    ...humHeavy(facts),
  ];
}

function clipped(clipping: Clipping, { cooling }: NoiseFacts): Remark {
  const inCooling = cooling !== null && clipping.to >= cooling.from && clipping.from <= cooling.to;
  return {
    code: 'clipped',
    severity: inCooling ? 'repeat' : 'caution',
    message: `${clipping.readings} readings from ${figures(clipping.from)} to ${figures(clipping.to)} s sit exactly at ${figures(clipping.level, 5)} °C, the ${
      clipping.end === 'top' ? 'highest' : 'lowest'
    } value of the recording.`,
    action: 'Choose a wider input range or a smaller gain.',
    at: { from: clipping.from, to: clipping.to },
  };
}

function coarseResolution({ noise, step }: NoiseFacts): Remark[] {
  const lsb = noise.step;
  if (lsb === null || !(lsb > coarse * step)) return [];
  // Noise of a third of a step or more smooths the stairs out: averages are then finer than the step.
  const dithered = Math.hypot(noise.white, noise.correlated) >= lsb / 3;
  return [
    {
      code: 'coarse-resolution',
      severity: lsb > veryCoarse * step && !dithered ? 'caution' : 'note',
      message: `The converter step is ${figures(lsb, 2)} K, ${figures((100 * lsb) / step, 2)} % of the temperature step.`,
      action: dithered
        ? 'Averages still resolve finer than that because the noise covers a step; a higher gain would be safer.'
        : 'Choose a smaller input range or a higher gain.',
    },
  ];
}

function humHeavy({ noise, step, humFree }: NoiseFacts): Remark[] {
  const { amplitude, mains, appearsAt, foldedLow } = noise.hum;
  const heavy = amplitude !== null && amplitude > Math.max(heavyHum * step, 3 * noise.white);
  const action = `Sample at more than ${figures(2.5 * mains)} Hz, or let the logger average over whole mains periods.`;
  if (foldedLow && heavy) {
    return [
      {
        code: 'hum-heavy',
        severity: 'caution',
        message: `Hum of ${figures(amplitude, 2)} K amplitude shows at ${figures(appearsAt, 2)} Hz, where ${figures(mains)} Hz mains appear at this sampling rate and look like a slow change.`,
        action,
      },
    ];
  }
  if (foldedLow && amplitude === null) {
    // Where hum itself cannot be told, only a slow wandering of the baseline gives it away.
    const rate = (noise.readings - 1) / (noise.to - noise.from);
    if (!(noise.correlated > heavyHum * step) || !(rate >= slowestForAdvice * mains)) return [];
    return [
      {
        code: 'hum-heavy',
        severity: 'note',
        message: `The baseline wanders slowly by ${figures(noise.correlated, 2)} K; hum of ${figures(mains)} Hz would look like that at ${figures(rate)} readings a second.`,
        action,
      },
    ];
  }
  if (!heavy) return [];
  return [
    {
      code: 'hum-heavy',
      severity: humFree ? 'note' : 'caution',
      message: `Mains hum of ${figures(amplitude, 2)} K amplitude at ${figures(mains)} Hz is on the signal${
        humFree ? '; the blocks average it out' : ''
      }.`,
      action: 'Twist and shield the leads, and ground the rig at one point.',
    },
  ];
}
