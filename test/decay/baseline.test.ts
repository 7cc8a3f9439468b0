import { mean, sampleStandardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { baselineLevel } from '../../src/decay/baseline.ts';
import { baselineRemarks } from '../../src/decay/baseline-remarks.ts';
import { defaultProtocolLimits } from '../../src/decay/segment-limits.ts';
import { cutBlocks } from '../../src/decay/window.ts';
import { seededRandom } from '../../src/practice/random.ts';
import { traceOf } from './segment-trials.ts';

/** Twenty seconds at 50 Hz of noise with a correlation time, about 22 °C, with a slope. */
function baselineOf(seed: number, deviation: number, correlationTime: number, slope = 0) {
  const random = seededRandom(seed * 7919 + 17);
  const memory = correlationTime > 0 ? Math.exp(-0.02 / correlationTime) : 0;
  let wander = random.normal();
  const values = Float64Array.from({ length: 1000 }, (_, i) => {
    wander = memory * wander + Math.sqrt(1 - memory * memory) * random.normal();
    return 22 + deviation * wander + slope * i * 0.02;
  });
  return cutBlocks(traceOf(values, 0.02), { from: 0, to: 20 }, { cells: 5, width: 0.1, humFree: true });
}

describe('baselineLevel', () => {
  it('has the mean, the middle and the standard error of the mean for white noise', () => {
    const blocks = baselineOf(1, 0.3, 0);
    const level = baselineLevel(blocks);
    const values = Array.from(blocks.value);
    expect(level?.mean).toBeCloseTo(mean(values), 10);
    expect(level?.midTime).toBeCloseTo(9.99, 9);
    expect(level?.duration).toBeCloseTo(20, 9);
    expect(level?.blocks).toBe(200);
    const plain = sampleStandardDeviation(values) / Math.sqrt(200);
    expect(Math.abs((level?.standardUncertainty ?? 0) / plain - 1)).toBeLessThan(0.35);
  });

  it.each([
    ['with its noise found', undefined],
    ['by the fallback', null],
  ] as const)('states how the mean of correlated noise scatters (%s)', (_, noise) => {
    const runs = 200;
    const means: number[] = [];
    let stated = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const level = baselineLevel(baselineOf(seed, 0.3, 0.5), noise);
      means.push(level?.mean ?? Number.NaN);
      stated += (level?.standardUncertainty ?? Number.NaN) ** 2 / runs;
    }
    // Long mean of exponentially correlated noise: s sqrt(2 t_c/T) = 0.3 sqrt(1/20) = 0.067 K.
    expect(sampleStandardDeviation(means)).toBeCloseTo(0.067, 1.8);
    expect(Math.abs(Math.sqrt(stated) / 0.067 - 1)).toBeLessThan(0.25);
  });

  it('calls a slope unsteady only where it is real and matters', () => {
    expect(baselineLevel(baselineOf(3, 0.1, 0.3, 0.05))?.steady).toBe(false);
    expect(baselineLevel(baselineOf(3, 0.1, 0.3, 0.05))?.change).toBeCloseTo(1, 0);
    expect(baselineLevel(baselineOf(3, 0.1, 0.3, 0.005))?.steady).toBe(true);
    let alarms = 0;
    for (let seed = 1; seed <= 60; seed++) if (!baselineLevel(baselineOf(seed, 0.3, 0.5))?.steady) alarms++;
    expect(alarms).toBeLessThanOrEqual(6);
  });

  it('gives nothing for less than two blocks', () => {
    const one = cutBlocks(
      traceOf(new Float64Array(5).fill(20), 0.02),
      { from: 0, to: 0.1 },
      {
        cells: 5,
        width: 0.1,
        humFree: true,
      },
    );
    expect(baselineLevel(one)).toBeNull();
  });
});

describe('baselineRemarks', () => {
  const reading = baselineLevel(baselineOf(2, 0.1, 0.2));
  const span = { from: 0, to: 20 };
  const facts = { reading, span, ambientGiven: false, endFraction: 0.03 };

  it('says nothing of a good baseline, nor of one that a recording without a cooling lacks', () => {
    expect(baselineRemarks(facts, defaultProtocolLimits)).toEqual([]);
    const none = { ...facts, reading: null, span: null, endFraction: null };
    expect(baselineRemarks(none, defaultProtocolLimits)).toEqual([]);
  });

  it.each([
    [false, 0.03, 'caution'],
    [false, 0.4, 'repeat'],
    [true, 0.4, 'note'],
  ] as const)('grades a missing one (given %s, cooling to %d: %s)', (ambientGiven, endFraction, severity) => {
    const missing = { reading: null, span: null, ambientGiven, endFraction };
    const [remark] = baselineRemarks(missing, defaultProtocolLimits);
    expect(remark?.code).toBe('baseline-missing');
    expect(remark?.severity).toBe(severity);
  });

  it('says how much of a long stretch was steady, and nothing where that is enough', () => {
    if (reading === null) throw new Error('the baseline has blocks enough');
    const some = { ...facts, recorded: 20 };
    const [remark] = baselineRemarks(
      { ...some, reading: { ...reading, duration: 3.2 } },
      defaultProtocolLimits,
    );
    expect(remark?.code).toBe('baseline-short');
    expect(remark?.message).toContain('Of the 20 s before the heating only 3.2 s were steady');
    const most = { ...reading, duration: 12 };
    expect(baselineRemarks({ ...some, reading: most }, defaultProtocolLimits)).toEqual([]);
  });

  it('asks for as much longer as the uncertainty needs', () => {
    if (reading === null) throw new Error('the baseline has blocks enough');
    const short = { ...reading, duration: 6, standardUncertainty: 0.6 };
    const [remark] = baselineRemarks({ ...facts, reading: short }, defaultProtocolLimits);
    expect(remark?.code).toBe('baseline-short');
    expect(remark?.severity).toBe('caution');
    // Half the uncertainty needs four times the length.
    expect(remark?.action).toContain('24 s');
    const quiet = { ...reading, duration: 6, standardUncertainty: 0.05 };
    expect(baselineRemarks({ ...facts, reading: quiet }, defaultProtocolLimits)[0]?.severity).toBe('note');
  });
});
