import { analyzeDecay, type Decay, type DecaySettings, usualDecaySettings } from '../../src/decay/index.ts';
import { blocksOf } from '../../src/recording/index.ts';
import type { Trace } from '../../src/sensing/index.ts';
import { plainTrial, simulateTrial, type TrialSettings } from '../support/trial.ts';

/** A trace of readings in °C, as if the logger had given degrees and nothing were known of the sensor. */
export function traceOf(temperature: Float64Array, rate: number): Trace {
  return {
    name: 'simulated',
    blocks: blocksOf(temperature, 1 / rate),
    samplePeriod: 1 / rate,
    opening: temperature.slice(0, 65_536),
    chain: { offset: 0, scale: 0, nonlinearity: 0 },
    described: 'simulated',
    remarks: [],
  };
}

/** A simulated trial, from its readings to its time constant. */
export function analyzedTrial(trial: Partial<TrialSettings>, settings: Partial<DecaySettings> = {}): Decay {
  const whole = { ...plainTrial, ...trial };
  const { temperature } = simulateTrial(whole);
  return analyzeDecay(traceOf(temperature, whole.rate), { ...usualDecaySettings, ...settings });
}

/** The codes of the remarks, in order. */
export function codesOf(decay: Decay): string[] {
  return decay.remarks.map(({ code }) => code);
}
