import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type DecayFit, type DecayFitInput, fitDecay } from '../../src/decay/index.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { armaCovariance, stepsBetween } from '../../src/statistics/index.ts';
import { type Scenario, scenario, simulate } from './simulated.ts';

function fitted(input: DecayFitInput): DecayFit {
  const result = fitDecay(input);
  if (result.kind === 'failed') throw new Error(result.message);
  return result;
}

const airy: Scenario = { ...scenario, correlated: [[0.3, 0.5]], offset: 0.35, drift: 0.5 / 600 };

/** Blocks without noise, from a curve that is known. */
function exact(tau: number, n = 300): DecayFitInput {
  const time = Float64Array.from({ length: n }, (_, i) => 61 + (4 * tau * i) / n);
  return {
    time,
    value: time.map((t) => 22.5 + 80 * Math.exp(-(t - 61) / tau)),
    blockWidth: (4 * tau) / n,
    baseline: null,
    ambient: { kind: 'fitted' },
    driftUncertainty: 1e-3,
    guess: { timeConstant: 1.3 * tau, ambient: 22, amplitude: 70 },
  };
}

/** White noise of one standard deviation on a long exponential of amplitude 90 K from its first block. */
function white(deviation: number, n: number, lengths: number, seed: number): DecayFitInput {
  const random = seededRandom(seed);
  const input = exact(40, n);
  const time = Float64Array.from({ length: n }, (_, i) => (lengths * 40 * i) / n);
  return {
    ...input,
    time,
    value: time.map((t) => 20 + 90 * Math.exp(-t / 40) + deviation * random.normal()),
    blockWidth: (lengths * 40) / n,
    ambient: { kind: 'given', value: 20, standardUncertainty: 1e-4 },
    driftUncertainty: 1e-9,
    guess: { timeConstant: 35, ambient: 20, amplitude: 85 },
  };
}

describe('the exponential fit', () => {
  it.each([0.3, 12, 40, 900])('finds a curve without noise to rounding: tau %d s', (tau) => {
    const fit = fitted(exact(tau));
    expect(fit.timeConstant / tau).toBeCloseTo(1, 9);
    expect(fit.amplitude).toBeCloseTo(80, 7);
    expect(fit.ambient).toBeCloseTo(22.5, 7);
    expect(fit.relativeUncertainty).toBeLessThan(1e-9);
  });

  it('finds the same minimum from any guess within a factor of four', () => {
    const input = simulate(airy, 5);
    const values = [10.1, 25, 40, 80, 159].map(
      (timeConstant) => fitted({ ...input, guess: { ...input.guess, timeConstant } }).lnTimeConstant,
    );
    for (const value of values) expect(value).toBeCloseTo(values[0] ?? Number.NaN, 9);
  });

  it('has the derivatives of its curve', () => {
    const fit = fitted(simulate(airy, 2, 200));
    const at = (j: number, change: number) => {
      const p = [fit.lnTimeConstant, fit.amplitude, fit.ambient, fit.drift * fit.geometry.window];
      p[j] = (p[j] ?? Number.NaN) + change;
      const [ln = 0, b = 0, a = 0, c = 0] = p;
      return fit.time.map(
        (t) =>
          a +
          (c * (t - fit.driftOrigin)) / fit.geometry.window +
          b * Math.exp(-(t - fit.start) / Math.exp(ln)),
      );
    };
    [1e-5, 1e-3, 1e-3, 1e-3].forEach((h, j) => {
      const up = at(j, h);
      const down = at(j, -h);
      up.forEach((value, i) => {
        const numeric = (value - (down[i] ?? Number.NaN)) / (2 * h);
        expect(Math.abs((fit.geometry.jacobian[j]?.[i] ?? Number.NaN) - numeric)).toBeLessThan(1e-6);
      });
    });
    const curve = at(0, 0);
    fit.fitted.forEach((value, i) => {
      expect(value).toBeCloseTo(curve[i] ?? Number.NaN, 9);
      expect(value + (fit.residual[i] ?? Number.NaN)).toBeCloseTo(simulate(airy, 2, 200).value[i] ?? 0, 10);
    });
  });

  it('says how ln tau answers to each block, to the ambient and to a drift', () => {
    const input = simulate({ ...airy, white: 0.05, correlated: [[0.1, 0.5]] }, 7, 150);
    const fit = fitted(input);
    const change = (other: Partial<DecayFitInput>) =>
      fitted({ ...input, ...other }).lnTimeConstant - fit.lnTimeConstant;
    // Steps are smaller than the noise, so that the noise, and with it the priors' weight, stay as they were.
    for (const i of [0, 10, 40, 90, fit.time.length - 1]) {
      const value = Float64Array.from(input.value);
      value[i] = (value[i] ?? Number.NaN) + 1e-4;
      const expected = (fit.sensitivity[i] ?? Number.NaN) * 1e-4;
      expect(Math.abs(change({ value }) - expected)).toBeLessThan(
        0.05 * 1e-4 * Math.max(...fit.sensitivity.map(Math.abs)),
      );
    }
    const baseline = input.baseline === null ? null : { ...input.baseline, mean: input.baseline.mean + 0.01 };
    expect(change({ baseline }) / 0.01).toBeCloseTo(fit.ambientSensitivity, 4);
  });

  it('adds up its contributions', () => {
    for (const slowMisfit of ['never', 'gated', 'always'] as const) {
      const fit = fitted({ ...simulate(airy, 8), slowMisfit });
      const c = fit.contributions;
      const sum = Object.values(c).reduce((squares, u) => squares + u * u, 0);
      expect(Math.sqrt(sum)).toBeCloseTo(fit.relativeUncertainty, 12);
      expect(fit.standardUncertainty).toBeCloseTo(fit.timeConstant * fit.relativeUncertainty, 12);
      const steps = stepsBetween(fit.geometry.positions);
      expect(c.noise ** 2).toBeCloseTo(
        armaCovariance(fit.noise, steps, fit.sensitivity, fit.sensitivity),
        12,
      );
      expect(Math.abs(fit.ambientSensitivity) * 0.3).toBeCloseTo(c.ambientOffset, 12);
      expect(Math.abs(fit.driftSensitivity) * (0.5 / 600)).toBeCloseTo(c.drift, 12);
    }
  });

  // u(ln tau) = K (s/DT) sqrt(D/tau) for white noise, ambient known: K^2 is the inverse of the integral of
  // (x e^-x)^2 less the square of that of x e^-2x over that of e^-2x; sqrt(8) for an endless record.
  it('has the closed form of the uncertainty with the ambient known', () => {
    const input = white(0.5, 1000, 8, 4);
    const fit = fitted({ ...input, slowMisfit: 'never' });
    const K = fit.contributions.noise / ((Math.sqrt(fit.noise.longRunVariance) / 90) * Math.sqrt(8 / 1000));
    expect(K / Math.sqrt(8)).toBeGreaterThan(0.97);
    expect(K / Math.sqrt(8)).toBeLessThan(1.03);
    expect(Math.sqrt(fit.noise.variance)).toBeGreaterThan(0.46);
    expect(Math.sqrt(fit.noise.variance)).toBeLessThan(0.54);
  });

  it('widens as the closed form says when the ambient must be fitted', () => {
    // K_free over K_fix for a record of 4 time constants, by the same integrals with a constant as third column.
    const known = fitted({ ...white(0.5, 1000, 4, 4), slowMisfit: 'never' });
    const free = fitted({ ...white(0.5, 1000, 4, 4), ambient: { kind: 'fitted' }, slowMisfit: 'never' });
    const X = 4;
    const grid = Array.from({ length: 40000 }, (_, i) => ((i + 0.5) * X) / 40000);
    const inner = (f: (x: number) => number) => grid.reduce((sum, x) => sum + f(x), 0) * (X / 40000);
    const e = (x: number) => Math.exp(-x);
    const a = inner((x) => (x * e(x)) ** 2);
    const b = inner((x) => x * e(x) ** 2);
    const c = inner((x) => e(x) ** 2);
    const f = inner((x) => x * e(x));
    const g = inner(e);
    const fix = 1 / (a - b ** 2 / c);
    // Schur complement with the two columns e^-x and 1.
    const det = c * X - g * g;
    const loose = 1 / (a - (b * b * X - 2 * b * f * g + f * f * c) / det);
    const ratio = free.contributions.noise / known.contributions.noise;
    expect(ratio / Math.sqrt(loose / fix)).toBeGreaterThan(0.98);
    expect(ratio / Math.sqrt(loose / fix)).toBeLessThan(1.02);
  });

  it('holds an ambient that is known well, and the drift with it', () => {
    const input = simulate(airy, 6);
    const fit = fitted({
      ...input,
      ambient: { kind: 'given', value: 22.1, standardUncertainty: 1e-6 },
      driftUncertainty: 1e-12,
    });
    expect(fit.ambient).toBeCloseTo(22.1, 6);
    expect(fit.drift).toBeCloseTo(0, 9);
    expect(fit.contributions.ambientOffset).toBe(0);
    expect(fit.driftOrigin).toBe(fit.start);
  });

  it('gives a band that is the uncertainty of the curve', () => {
    const many = Array.from({ length: 200 }, (_, k) =>
      fitted(simulate({ ...scenario, correlated: [[0.3, 0.5]] }, 900 + k, 120)),
    );
    for (const i of [0, 30, 60, 100]) {
      const truth = 22 + 90 * Math.exp(-((many[0]?.time[i] ?? 0) - 60) / 40);
      const rms = Math.sqrt(
        many.reduce((sum, f) => sum + ((f.fitted[i] ?? 0) - truth) ** 2, 0) / many.length,
      );
      const band = many.reduce((sum, f) => sum + (f.band[i] ?? 0), 0) / many.length;
      expect(rms / band).toBeGreaterThan(0.6);
      expect(rms / band).toBeLessThan(1.25);
    }
  });

  it('goes over gaps', () => {
    const whole = simulate(airy, 12, 400);
    const kept = (_: number, i: number) => i % 10 !== 3 && (i < 120 || i > 150);
    const holed = fitted({ ...whole, time: whole.time.filter(kept), value: whole.value.filter(kept) });
    const full = fitted(whole);
    expect(Math.abs(holed.lnTimeConstant - full.lnTimeConstant)).toBeLessThan(2 * full.relativeUncertainty);
    expect(holed.noise.correlationTime / full.noise.correlationTime).toBeGreaterThan(0.6);
    expect(holed.noise.correlationTime / full.noise.correlationTime).toBeLessThan(1.6);
  });
});

describe('what the time constant does not depend on', () => {
  const seeds = fc.integer({ min: 1, max: 1e6 });
  const runs = { seed: 3, numRuns: 25 };

  it('the temperature scale', () => {
    fc.assert(
      fc.property(
        seeds,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: -500, max: 500, noNaN: true }),
        fc.boolean(),
        (seed, factor, shift, upsideDown) => {
          const input = simulate(airy, seed, 150);
          const k = upsideDown ? -factor : factor;
          const { baseline } = input;
          if (baseline?.noise == null) throw new Error('no baseline');
          const n = baseline.noise;
          const other: DecayFitInput = {
            ...input,
            value: input.value.map((v) => k * v + shift),
            baseline: {
              ...baseline,
              mean: k * baseline.mean + shift,
              standardUncertainty: factor * baseline.standardUncertainty,
              noise: {
                ...n,
                innovation: factor * n.innovation,
                variance: k * k * n.variance,
                longRunVariance: k * k * n.longRunVariance,
              },
            },
            ambient: { kind: 'baseline', offsetUncertainty: 0.3 * factor },
            driftUncertainty: input.driftUncertainty * factor,
            guess: {
              ...input.guess,
              ambient: k * input.guess.ambient + shift,
              amplitude: k * input.guess.amplitude,
            },
          };
          const a = fitted(input);
          const b = fitted(other);
          expect(Math.abs(b.lnTimeConstant - a.lnTimeConstant)).toBeLessThan(1e-9);
          expect(b.relativeUncertainty / a.relativeUncertainty).toBeCloseTo(1, 6);
        },
      ),
      runs,
    );
  });

  it('where the recording starts; and it scales with the clock', () => {
    fc.assert(
      fc.property(
        seeds,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.double({ min: -1000, max: 1e5, noNaN: true }),
        (seed, k, shift) => {
          const input = simulate(airy, seed, 150);
          const { baseline } = input;
          if (baseline?.noise == null) throw new Error('no baseline');
          const other: DecayFitInput = {
            ...input,
            time: input.time.map((t) => k * (t + shift)),
            blockWidth: k * input.blockWidth,
            baseline: {
              ...baseline,
              midTime: k * (baseline.midTime + shift),
              duration: k * baseline.duration,
              noise: {
                ...baseline.noise,
                blockWidth: k * baseline.noise.blockWidth,
                correlationTime: k * baseline.noise.correlationTime,
              },
            },
            driftUncertainty: input.driftUncertainty / k,
            guess: { ...input.guess, timeConstant: k * input.guess.timeConstant },
          };
          const a = fitted(input);
          const b = fitted(other);
          expect(Math.abs(b.lnTimeConstant - a.lnTimeConstant - Math.log(k))).toBeLessThan(1e-9);
        },
      ),
      runs,
    );
  });
});

describe('when there is no time constant', () => {
  const input = simulate(airy, 4, 200);
  const cut = (n: number, other: Partial<DecayFitInput> = {}) =>
    fitDecay({ ...input, time: input.time.slice(0, n), value: input.value.slice(0, n), ...other });

  it('says that there are too few blocks', () => {
    expect(cut(11)).toMatchObject({ kind: 'failed', reason: 'too-few-blocks' });
    expect(cut(0)).toMatchObject({ kind: 'failed', reason: 'too-few-blocks' });
  });

  it('says that the ambient is not determined by a short window without a baseline', () => {
    const results = Array.from({ length: 8 }, (_, k) => {
      const { time, value, ...rest } = simulate({ ...airy, correlated: [[1, 0.5]] }, 40 + k, 200);
      const short = { time: time.slice(0, 13), value: value.slice(0, 13) };
      return fitDecay({ ...rest, ...short, ambient: { kind: 'fitted' }, baseline: null });
    });
    const blamed = results.filter((r) => r.kind === 'failed' && r.parameter === 'ambient');
    expect(blamed.length).toBeGreaterThan(0);
    for (const result of blamed) {
      expect(result).toMatchObject({ reason: 'not-determined' });
      expect(result).toHaveProperty(
        'message',
        expect.stringMatching(/time constants .*record the cooling to its end/),
      );
    }
  });

  it('says that noise hides the cooling', () => {
    const random = seededRandom(1);
    const result = fitDecay({ ...input, value: input.value.map(() => 22 + random.normal()) });
    expect(result.kind).toBe('failed');
  });

  it('says that a rise is not a cooling', () => {
    const result = fitDecay({ ...input, value: input.value.map((v) => 44 - v) });
    expect(result).toMatchObject({ kind: 'failed' });
  });

  it('refuses what is not what it says', () => {
    const broken: Partial<DecayFitInput>[] = [
      { value: input.value.slice(1) },
      { value: input.value.map((v, i) => (i === 5 ? Number.NaN : v)) },
      { time: input.time.map((t, i) => (i === 5 ? 0 : t)) },
      { baseline: null },
      { blockWidth: 0 },
      { driftUncertainty: 0 },
      { guess: { ...input.guess, timeConstant: -1 } },
      { ambient: { kind: 'given', value: 22, standardUncertainty: 0 } },
      { ambient: { kind: 'given', value: Number.NaN, standardUncertainty: 1 } },
    ];
    for (const part of broken) expect(() => fitDecay({ ...input, ...part })).toThrow(RangeError);
  });

  it('never crashes or hangs, and never gives a number that is not one', () => {
    const number = fc.oneof(
      fc.double({ noNaN: true, noDefaultInfinity: true }),
      fc.double({ min: -100, max: 100, noNaN: true }),
      fc.constant(0),
    );
    fc.assert(
      fc.property(
        fc.array(number, { minLength: 12, maxLength: 40 }),
        number,
        number,
        (values, ambient, amplitude) => {
          const n = values.length;
          const time = Float64Array.from({ length: n }, (_, i) => i);
          const attempt = () =>
            fitDecay({
              time,
              value: Float64Array.from(values),
              blockWidth: 1,
              baseline: null,
              ambient: { kind: 'fitted' },
              driftUncertainty: 0.001,
              guess: { timeConstant: 5, ambient, amplitude },
            });
          const result = attempt();
          if (result.kind === 'failed') return;
          const numbers = [
            result.timeConstant,
            result.standardUncertainty,
            ...result.interval,
            ...result.band,
          ];
          expect(numbers.every(Number.isFinite)).toBe(true);
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});
