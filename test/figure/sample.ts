import type { TraceFigureData } from '../../src/figure/index.ts';
import { thinCurve } from '../../src/figure/index.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';

/** Files of the text family, as installed. */
const family = new URL('../../node_modules/@expo-google-fonts/atkinson-hyperlegible-next/', import.meta.url);
export const fontFiles = {
  regular: new URL('400Regular/AtkinsonHyperlegibleNext_400Regular.ttf', family).pathname,
  semibold: new URL('600SemiBold/AtkinsonHyperlegibleNext_600SemiBold.ttf', family).pathname,
};

const hotTail = 0.4;
/**
 * Height of the exponential that is left once the hot tail has died away, K, referred to the moment at which
 * the heat went off: the lumped energy balance with a stream that dies away within 0.4 s, for a step of 90 K
 * and a heating of one time constant of 40 s.
 */
export const coolingHeight = 90 + ((90 / (1 - Math.exp(-1))) * (hotTail / 40)) / (1 - hotTail / 40);

/** A simulated sphere, with segments and fit set to what went into the simulation. */
export function sampleTrace(): TraceFigureData {
  const settings = { ...plainTrial, rate: 10, hotTail, correlatedNoise: 0.2 };
  const { temperature, heatOff } = simulateTrial(settings);
  const tau = settings.timeConstant;
  const time = Array.from(temperature, (_, i) => i / settings.rate);
  const end = time.at(-1) ?? 0;
  const window = { from: heatOff + tau * Math.log(1 / 0.9), to: heatOff + tau * Math.log(10) };
  const curve = thinCurve({ time, value: temperature }, 600);
  const points = curve.time
    .map((t, i) => ({
      time: t - window.from,
      errorFraction: ((curve.value[i] ?? 0) - settings.ambient) / 90,
      fitted: (coolingHeight / 90) * Math.exp(-(t - heatOff) / tau),
    }))
    .filter((p) => p.time >= 0 && p.time <= window.to - window.from);
  return {
    name: 'group 3, run 2',
    headline: 'Time constant 40.0 ± 0.4 s',
    verdict: 'usable with remarks',
    time: curve.time,
    temperature: curve.value,
    envelope: { low: curve.low, high: curve.high },
    segments: {
      baseline: { from: 0, to: 19 },
      heating: { from: 20, to: heatOff },
      hotTail: { from: heatOff, to: heatOff + 1.2 },
      cooling: { from: heatOff + 1.2, to: end },
      window,
      heatOff,
      peak: { time: heatOff, temperature: settings.peak },
    },
    ambient: { value: 22, u: 0.06 },
    fit: { tStart: heatOff, a: 22, b: coolingHeight, c: 0, tb: 10, tau },
    timeConstant: { value: tau, interval: [39.6, 40.4] },
    limits: [0.9, 0.1],
    points,
    remarks: [
      {
        code: 'baseline-short',
        severity: 'caution',
        message: 'The baseline of 19 s is short.',
        action: 'Record 30 s before heating.',
        at: { from: 0, to: 19 },
      },
      {
        code: 'zero-drift',
        severity: 'note',
        message: 'The levels differ by 0.2 K.',
        action: 'Read the zero.',
        at: { from: end - 40, to: end },
      },
      {
        code: 'time-assumed',
        severity: 'note',
        message: 'The time was built from a rate.',
        action: 'Check it.',
      },
    ],
  };
}

/** The data with every part missing that can be. */
export function bareTrace(): TraceFigureData {
  return {
    ...sampleTrace(),
    headline: 'No time constant',
    verdict: 'repeat: no cooling was found',
    segments: {
      baseline: null,
      heating: null,
      hotTail: null,
      cooling: null,
      window: null,
      heatOff: null,
      peak: null,
    },
    ambient: null,
    fit: null,
    timeConstant: null,
    points: [],
  };
}
