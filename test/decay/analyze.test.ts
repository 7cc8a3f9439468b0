import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyzeDecay, finishDecay, prepareDecay, usualDecaySettings } from '../../src/decay/index.ts';
import { blocksOf } from '../../src/recording/index.ts';
import { plainTrial, simulateTrial, type TrialSettings } from '../support/trial.ts';
import { analyzedTrial, codesOf, traceOf } from './trials.ts';

const turbulent = {
  ...plainTrial,
  rate: 20,
  correlatedNoise: 0.2,
  correlationTime: 0.4,
  whiteNoise: 0.05,
};

/** Relative difference of two positive numbers. */
function apart(a: number | undefined, b: number | undefined): number {
  return Math.abs(Math.log((a ?? Number.NaN) / (b ?? Number.NaN)));
}

describe('the time constant of a recording', () => {
  test('does not change with the scale of the thermometer, offset and gain, as long as the ambient is on the same channel', () => {
    const { temperature } = simulateTrial(turbulent);
    const own = analyzeDecay(traceOf(temperature, turbulent.rate));
    fc.assert(
      fc.property(fc.integer({ min: 50, max: 200 }), fc.integer({ min: -30, max: 30 }), (percent, offset) => {
        const gain = percent / 100;
        const scaled = analyzeDecay(
          traceOf(
            temperature.map((t) => offset + gain * t),
            turbulent.rate,
          ),
          // What is known of ambient and drift is told on the same scale.
          {
            ...usualDecaySettings,
            ambientOffset: gain * usualDecaySettings.ambientOffset,
            drift: gain * usualDecaySettings.drift,
          },
        );
        expect(apart(scaled.timeConstant?.value, own.timeConstant?.value)).toBeLessThan(1e-6);
        expect(
          apart(scaled.timeConstant?.standardUncertainty, own.timeConstant?.standardUncertainty),
        ).toBeLessThan(1e-3);
      }),
      { numRuns: 12, seed: 4 },
    );
  });

  test('scales with time', () => {
    const { temperature } = simulateTrial({ ...turbulent, hum: 0 });
    const quiet = { ...usualDecaySettings, drift: 1e-9 };
    // A slower clock by a factor that keeps the fixed times of the method (1 s after the heat is off) out of play.
    const own = analyzeDecay(traceOf(temperature, 20), quiet);
    const slower = analyzeDecay(traceOf(temperature, 10), quiet);
    expect(apart(slower.timeConstant?.value, 2 * (own.timeConstant?.value ?? 0))).toBeLessThan(2e-4);
  });

  test('does not depend on where the recording starts', () => {
    const { temperature } = simulateTrial(turbulent);
    const own = analyzeDecay(traceOf(temperature, turbulent.rate));
    for (const cut of [37, 80]) {
      const later = analyzeDecay(traceOf(temperature.slice(cut), turbulent.rate));
      // The baseline is shorter, which may move the ambient by a part of its uncertainty.
      expect(apart(later.timeConstant?.value, own.timeConstant?.value)).toBeLessThan(5e-4);
      const [a, b] = [later.segments.heatOff, own.segments.heatOff];
      expect((a ?? 0) + cut / turbulent.rate).toBeCloseTo(b ?? Number.NaN, 1);
    }
  });

  test('is the same from fine blocks and from coarse ones', () => {
    const settings = { ...turbulent, rate: 200 };
    const { temperature } = simulateTrial(settings);
    const fine = traceOf(temperature, 200);
    const coarse = { ...fine, blocks: blocksOf(temperature, 1 / 200, 4096) };
    expect(coarse.blocks.width).toBeGreaterThan(fine.blocks.width);
    const [a, b] = [analyzeDecay(fine), analyzeDecay(coarse)];
    expect(apart(a.timeConstant?.value, b.timeConstant?.value)).toBeLessThan(2e-4);
  });

  test('is quoted with a budget whose shares add up, and with three classroom estimates beside it', () => {
    const decay = analyzedTrial(turbulent);
    const total = decay.budget.reduce((sum, line) => sum + line.contribution ** 2, 0);
    expect(Math.sqrt(total)).toBeCloseTo(decay.timeConstant?.standardUncertainty ?? Number.NaN, 12);
    expect(decay.budget.reduce((sum, line) => sum + line.share, 0)).toBeCloseTo(1, 12);
    expect(decay.estimates.map(({ method }) => method)).toEqual([
      'exponential-fit',
      'point-36.8',
      'log-linear-origin',
      'log-linear-intercept',
    ]);
    expect(decay.verdict).toBe('usable');
  });

  test('carries what the chain leaves open: its bend always, its offset only with an ambient from elsewhere', () => {
    const { temperature, settings } = simulateTrial(turbulent);
    const plain = traceOf(temperature, settings.rate);
    const offset = { ...plain, chain: { offset: 1, scale: 0.01, nonlinearity: 0 } };
    const bent = { ...plain, chain: { offset: 0, scale: 0, nonlinearity: 0.3 } };
    const given = {
      ...usualDecaySettings,
      ambient: { kind: 'given', value: 22, standardUncertainty: 0.1 },
    } as const;
    const chainShare = (trace: typeof plain, s = usualDecaySettings) =>
      analyzeDecay(trace, s).budget.find(({ source }) => source === 'chain')?.contribution ?? Number.NaN;
    expect(chainShare(offset)).toBe(0);
    expect(chainShare(offset, given)).toBeGreaterThan(0.1);
    expect(chainShare(bent)).toBeGreaterThan(0.05);
  });

  test('single readings make the classroom values of a coarse trace exact', () => {
    const { temperature, settings } = simulateTrial({ ...turbulent, rate: 200 });
    const fine = traceOf(temperature, settings.rate);
    const coarse = { ...fine, blocks: blocksOf(temperature, 1 / settings.rate, 4096) };
    const prepared = prepareDecay(coarse, usualDecaySettings);
    expect(prepared.readingsWanted.length).toBeGreaterThan(0);
    const exact = finishDecay(prepared, ({ from, to }) => {
      const first = Math.max(0, Math.ceil(from * settings.rate));
      const value = temperature.slice(first, Math.floor(to * settings.rate) + 1);
      return { time: value.map((_, i) => (first + i) / settings.rate), value };
    });
    const crossing = (decay: typeof exact) =>
      decay.estimates.find(({ method }) => method === 'point-36.8')?.classroom?.value ?? Number.NaN;
    // The ambients of the two traces differ in their last digits, and the crossing with them.
    expect(crossing(exact)).toBeCloseTo(crossing(analyzeDecay(fine)), 2);
  });
});

describe('what is said about a recording', () => {
  const cases: readonly [string, Partial<TrialSettings>, string][] = [
    ['no baseline', { baseline: 0 }, 'baseline-missing'],
    ['a short baseline', { baseline: 6 }, 'baseline-short'],
    ['a cooling that was cut', { coolingTimeConstants: 1.2 }, 'cooling-short'],
    ['nothing heated', { peak: 22.2, correlatedNoise: 0.1 }, 'heating-missing'],
    ['a hot start', { baseline: 0, heating: 0 }, 'starts-hot'],
    ['a coarse converter', { step: 4, whiteNoise: 0, correlatedNoise: 0 }, 'coarse-resolution'],
    ['an ambient that is 4 K off', { ambientShift: 4 }, 'zero-drift'],
    ['few readings', { timeConstant: 4, heating: 10, rate: 2, correlatedNoise: 0.02 }, 'sampling-sparse'],
  ];
  test.each(cases)('%s', (_, trial, code) => {
    expect(codesOf(analyzedTrial({ ...turbulent, ...trial }))).toContain(code);
  });

  test('a target not reached and a limit passed', () => {
    expect(codesOf(analyzedTrial(turbulent, { target: 130 }))).toContain('peak-low');
    expect(codesOf(analyzedTrial(turbulent, { limit: 100 }))).toContain('peak-over-limit');
  });

  test('an ambient from elsewhere that the cooling contradicts', () => {
    const given = (value: number) => {
      const ambient = { kind: 'given', value, standardUncertainty: 0.2 } as const;
      return analyzedTrial(turbulent, { ambient });
    };
    expect(codesOf(given(22))).not.toContain('ambient-doubtful');
    expect(codesOf(given(25))).toContain('ambient-doubtful');
    expect(given(25).verdict).toBe('usable-with-remarks');
    expect(given(5).verdict).toBe('repeat');
  });

  test('a signal cut off at the end of a range', () => {
    const { temperature } = simulateTrial(turbulent);
    const clipped = analyzeDecay(
      traceOf(
        temperature.map((t) => Math.min(t, 90)),
        20,
      ),
    );
    expect(codesOf(clipped)).toContain('clipped');
  });

  test('a second heating', () => {
    const first = simulateTrial({ ...turbulent, coolingTimeConstants: 1 }).temperature;
    const second = simulateTrial({ ...turbulent, seed: 2, baseline: 0, ambient: 22 }).temperature;
    const both = new Float64Array([...first, ...second]);
    expect(codesOf(analyzeDecay(traceOf(both, 20)))).toContain('heated-again');
  });

  test('a body that keeps a second time constant is not called first order', () => {
    const { temperature, heatOff } = simulateTrial(turbulent);
    const slow = temperature.map((t, i) => {
      const later = i / 20 - heatOff;
      return later < 0 ? t : t + 9 * (Math.exp(-later / 120) - Math.exp(-later / 40));
    });
    const decay = analyzeDecay(traceOf(slow, 20));
    expect(decay.adequacy?.firstOrder).toBe(false);
    expect(codesOf(decay)).toContain('not-first-order');
    expect(decay.verdict).toBe('usable-with-remarks');
  });

  test('nothing, where nothing is to be said', () => {
    const quiet = Array.from({ length: 20 }, (_, i) => analyzedTrial({ ...turbulent, seed: 100 + i }));
    const silent = quiet.filter((decay) => decay.remarks.every(({ severity }) => severity === 'note'));
    expect(silent.length).toBeGreaterThanOrEqual(19);
  });

  test('every remark has a place inside the recording, or none, and two whole sentences', () => {
    for (const [, trial] of cases) {
      for (const { message, action, at } of analyzedTrial({ ...turbulent, ...trial }).remarks) {
        expect(message).toMatch(/^[A-Z\d].*[.]$/s);
        expect(action).toMatch(/^[A-Z].*[.]$/s);
        if (at !== undefined) expect(at.to).toBeGreaterThanOrEqual(at.from);
      }
    }
  });

  test('anything at all is answered: no readings, equal readings, rubbish', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -400, max: 4000 }), { maxLength: 400 }),
        fc.constantFrom(0.5, 10, 1000),
        (values, rate) => {
          const decay = analyzeDecay(
            traceOf(
              Float64Array.from(values, (v) => v / 10),
              rate,
            ),
          );
          expect(['usable', 'usable-with-remarks', 'repeat']).toContain(decay.verdict);
          if (decay.timeConstant !== null) expect(decay.timeConstant.value).toBeGreaterThan(0);
        },
      ),
      { numRuns: 150, seed: 11 },
    );
  });
});
