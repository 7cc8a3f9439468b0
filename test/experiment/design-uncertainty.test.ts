import { describe, expect, test } from 'vitest';
import { analyzeDecay, usualDecaySettings } from '../../src/decay/index.ts';
import { designUncertainty, type TrialDesign, usualNoise } from '../../src/experiment/design-uncertainty.ts';
import { BlockAssembler } from '../../src/recording/index.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';

const design: TrialDesign = {
  timeConstant: 40,
  step: 90,
  from: 1,
  to: Math.exp(-2.3),
  rate: 100,
  noise: usualNoise,
  resolution: 0,
  ambientOffset: 0.3,
  drift: 0.5 / 600,
  baseline: 20,
  heating: 40,
  timeBase: 0,
  nonlinearity: 0,
};

/** K of u = (K/step) sqrt(S/tau). */
function factorOf(length: number, ambient: 'free' | 'known'): number {
  const { relative } = designUncertainty({
    ...design,
    to: Math.exp(-length),
    ambientOffset: ambient === 'free' ? 1e6 : 0,
    baseline: 1e12,
    heating: -5e11,
    drift: 0,
  });
  const { white, correlated, correlationTime } = usualNoise;
  const density = 2 * correlated ** 2 * correlationTime + white ** 2 / design.rate;
  return (relative * design.step) / Math.sqrt(density / design.timeConstant);
}

/** The analysis of simulated temperatures, °C. @param nonlinearity of the sensor, K */
function analyzed(temperature: Float64Array, nonlinearity: number) {
  const samplePeriod = 1 / plainTrial.rate;
  const assembler = new BlockAssembler(samplePeriod);
  temperature.forEach((value, i) => {
    assembler.add(i / plainTrial.rate, value);
  });
  return analyzeDecay(
    {
      name: 'simulated',
      blocks: assembler.blocks(),
      samplePeriod,
      opening: temperature.slice(0, 100),
      chain: { offset: 0, scale: 0, nonlinearity },
      described: '',
      remarks: [],
    },
    usualDecaySettings,
  );
}

describe('uncertainty that a trial can reach', () => {
  test('without priors has the factors of the information matrix worked out by hand', () => {
    // ∫x²e^-2x = ∫xe^-2x = 1/4 and ∫e^-2x = 1/2 over all x: with the ambient known and an endless record the inverse
    // has 1/(1/4 - (1/4)²/(1/2)) = 8, so K = √8.
    expect(factorOf(30, 'known')).toBeCloseTo(Math.sqrt(8), 3);
    // Simulated coolings and the same bound by another program: K to two figures for records of 1 to 5 time constants.
    const known = [
      [1, 5.8],
      [1.6, 3.9],
      [2.3, 3.2],
      [3, 3.0],
      [5, 2.8],
    ] as const;
    for (const [length, k] of known) expect(factorOf(length, 'known')).toBeCloseTo(k, 0.9);
    const free = [
      [1, 43.8],
      [1.6, 18.0],
      [2.3, 10.0],
      [3, 7.0],
      [4, 5.2],
      [5, 4.3],
      [8, 3.5],
    ] as const;
    for (const [length, k] of free) expect(Math.abs(factorOf(length, 'free') / k - 1)).toBeLessThan(0.015);
  });

  test('is what the analysis of simulated trials finds, within 30 %', () => {
    const cases = [
      { timeConstant: 40, noise: usualNoise, coolingTimeConstants: 2.5 },
      { timeConstant: 40, noise: { white: 0.2, correlated: 1, correlationTime: 1 }, coolingTimeConstants: 4 },
      { timeConstant: 12, noise: usualNoise, coolingTimeConstants: 3 },
      {
        timeConstant: 120,
        noise: { white: 0.3, correlated: 0.1, correlationTime: 0.5 },
        coolingTimeConstants: 2.5,
      },
    ];
    for (const { timeConstant, noise, coolingTimeConstants } of cases) {
      const found = [1, 2, 3].map((seed) => {
        const trial = simulateTrial({
          ...plainTrial,
          seed,
          timeConstant,
          whiteNoise: noise.white,
          correlatedNoise: noise.correlated,
          correlationTime: noise.correlationTime,
          coolingTimeConstants,
        });
        const decay = analyzed(trial.temperature, 0);
        if (decay.timeConstant === null) throw new Error('no time constant was found');
        return decay.timeConstant.standardUncertainty / decay.timeConstant.value;
      });
      const middle = found.sort((a, b) => a - b)[1] ?? Number.NaN;
      const { relative } = designUncertainty({
        ...design,
        timeConstant,
        noise,
        from: 0.9,
        to: Math.exp(-coolingTimeConstants),
        timeBase: usualDecaySettings.timeBase,
      });
      expect(middle / relative).toBeGreaterThan(0.77);
      expect(middle / relative).toBeLessThan(1.3);
    }
  });

  test('names the instrument that limits', () => {
    // A short record in little noise: what is not known of the ambient is not found from the cooling either.
    const short = {
      noise: { white: 0.05, correlated: 0.02, correlationTime: 0.5 },
      to: Math.exp(-1),
      ambientOffset: 0.005,
      drift: 0,
    };
    const limit = (change: Partial<TrialDesign>) =>
      designUncertainty({ ...design, ...short, ...change }).limitedBy;
    expect(limit({ noise: usualNoise })).toBe('noise');
    expect(limit({ ambientOffset: 0.05 })).toBe('ambient');
    const quiet = { white: 0.01, correlated: 0, correlationTime: 0.5 };
    expect(limit({ noise: quiet, ambientOffset: 5e-4, drift: 2e-5 })).toBe('drift');
    expect(limit({ resolution: 0.18 })).toBe('resolution');
    expect(limit({ timeBase: 0.05 })).toBe('time-base');
    expect(limit({ nonlinearity: 0.5 })).toBe('chain');
  });

  test('carries the bend of the sensor chain, by an integral worked out by hand', () => {
    // An endless record with the ambient known and the drift none. With y = A e^-x the row of ln tau of the inverse is
    // (8/A², -4/A); ∫A x e^-x b = 4 A (1/4 - 1/9), ∫e^-x b = 4 (1/2 - 1/3) for b = 4 e^-x (1 - e^-x): together
    // (8 * 5/9 - 4 * 2/3)/A = (16/9)/A.
    const { sources } = designUncertainty({
      ...design,
      to: Math.exp(-30),
      ambientOffset: 0,
      baseline: 1e12,
      heating: -5e11,
      drift: 0,
      nonlinearity: 0.45,
    });
    const chain = sources.find(({ source }) => source === 'chain');
    expect(chain?.relative).toBeCloseTo((16 / 9) * (0.45 / 90), 5);
  });

  test('carries the same bend as the analysis of a simulated trial, within 15 %', () => {
    const trial = simulateTrial({
      ...plainTrial,
      seed: 5,
      coolingTimeConstants: 2.5,
      whiteNoise: usualNoise.white,
      correlatedNoise: usualNoise.correlated,
      correlationTime: usualNoise.correlationTime,
    });
    const decay = analyzed(trial.temperature, 0.1);
    const line = decay.budget.find(({ source }) => source === 'chain');
    const { timeConstant } = decay;
    if (line === undefined || timeConstant === null) throw new Error('no time constant was found');
    const { sources } = designUncertainty({
      ...design,
      timeConstant: timeConstant.value,
      step: decay.fit?.amplitude ?? 90,
      from: 0.9,
      to: Math.exp(-2.5),
      nonlinearity: 0.1,
    });
    const chain = sources.find(({ source }) => source === 'chain')?.relative ?? Number.NaN;
    expect(chain / (line.contribution / timeConstant.value)).toBeGreaterThan(0.85);
    expect(chain / (line.contribution / timeConstant.value)).toBeLessThan(1.15);
  });

  test('falls with the step in proportion, and shares add up', () => {
    const free = { ambientOffset: 1e9, drift: 0 };
    const one = designUncertainty({ ...design, ...free });
    const half = designUncertainty({ ...design, ...free, step: 45 });
    expect(half.relative / one.relative).toBeCloseTo(2, 6);
    const { sources } = designUncertainty({ ...design, resolution: 0.5, timeBase: 1e-4 });
    expect(sources.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  });

  test('is unknown for what is impossible', () => {
    for (const change of [{ timeConstant: 0 }, { step: -1 }, { to: 1 }, { rate: Number.NaN }, { from: 2 }]) {
      expect(designUncertainty({ ...design, ...change }).relative).toBeNaN();
    }
    const silent = designUncertainty({
      ...design,
      noise: { white: 0, correlated: 0, correlationTime: 0 },
      drift: 0,
      ambientOffset: 0,
    });
    expect(silent.relative).toBeLessThan(1e-6);
  });
});
