import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blocksOf, type ChannelUnit, type Recording } from '../../src/recording/index.ts';
import {
  type Chain,
  ChainError,
  platinumResistance,
  platinumTolerance,
  type ThermocoupleChain,
  thermocoupleEmf,
  thermocoupleReference,
  toTrace,
} from '../../src/sensing/index.ts';

const rate = 100;

/** A recording of evenly spaced readings, summed up in at most so many blocks. */
function recordingOf(values: readonly number[], unit: ChannelUnit | null, capacity = 1 << 17): Recording {
  const channel = { column: 2, name: 'sensor', unit };
  return {
    name: 'sphere-b.txt',
    samples: values.length,
    rate,
    duration: Math.max(0, values.length - 1) / rate,
    startedAt: null,
    channel,
    channels: [channel],
    blocks: blocksOf(values, 1 / rate, capacity),
    companions: [],
    opening: Float64Array.from(values.slice(0, 65_536)),
    dialect: {
      encoding: 'utf-8',
      delimiter: '\t',
      decimal: '.',
      thousands: null,
      firstDataLine: 1,
      time: { kind: 'none', rateFrom: 'caller' },
    },
    preamble: [],
    remarks: [],
  };
}

function withJunction(recording: Recording, temperatures: readonly number[], unit: ChannelUnit): Recording {
  const channel = { column: 3, name: 'block', unit };
  return { ...recording, companions: [{ channel, blocks: blocksOf(temperatures, 1 / rate) }] };
}

const direct: ThermocoupleChain = {
  kind: 'thermocouple',
  type: 'T',
  junction: { kind: 'ice' },
  gain: 1,
  zero: 0,
};

/** A cooling from 112 °C to 22 °C with a time constant of 1 s. */
const cooling = Array.from({ length: 500 }, (_, i) => 22 + 90 * Math.exp(-i / 100));

function expectClose(found: ArrayLike<number>, wanted: ArrayLike<number>, tolerance: number): void {
  expect(found.length).toBe(wanted.length);
  for (let i = 0; i < wanted.length; i++) {
    expect(Math.abs((found[i] ?? Number.NaN) - (wanted[i] ?? Number.NaN)), `at ${i}`).toBeLessThan(tolerance);
  }
}

describe('single readings through every chain', () => {
  it.each<[string, ChannelUnit, (t: number) => number, Chain]>([
    ['degrees Celsius', 'degC', (t) => t, { kind: 'degrees' }],
    ['degrees Fahrenheit', 'degF', (t) => 32 + 1.8 * t, { kind: 'degrees' }],
    ['kelvins', 'K', (t) => t + 273.15, { kind: 'degrees' }],
    ['a thermocouple in volts', 'V', (t) => thermocoupleEmf('T', t), direct],
    ['microvolts', 'uV', (t) => 1e6 * thermocoupleEmf('K', t), { ...direct, type: 'K' }],
    [
      'an amplifier with a zero',
      'mV',
      (t) => 1e3 * (0.012 + 200 * thermocoupleEmf('T', t, 23)),
      { ...direct, gain: 200, zero: 0.012, junction: { kind: 'fixed', temperature: 23 } },
    ],
    [
      'an inverting amplifier',
      'V',
      (t) => 0.01 - 100 * thermocoupleEmf('J', t),
      { ...direct, type: 'J', gain: -100, zero: 0.01 },
    ],
    ['a Pt100', 'ohm', (t) => platinumResistance(t, 100), { kind: 'resistance', nominal: 100 }],
    ['a Pt1000', 'ohm', (t) => platinumResistance(t, 1000), { kind: 'resistance', nominal: 1000 }],
    ['a straight sensor', 'V', (t) => (t + 50) / 100, { kind: 'linear', slope: 100, offset: -50 }],
  ])('%s', (_, unit, reading, chain) => {
    const trace = toTrace(recordingOf(cooling.map(reading), unit), chain);
    expectClose(trace.blocks.mean, cooling, 1e-8);
    expectClose(trace.blocks.min, cooling, 1e-8);
    expectClose(trace.opening, cooling, 1e-8);
    expect(trace.remarks).toEqual([]);
    expect(trace.samplePeriod).toBe(0.01);
    expect(trace.described.endsWith('.')).toBe(true);
  });

  it('takes the unit of the chain where the file says none', () => {
    const trace = toTrace(recordingOf([68, 212], null), { kind: 'degrees', unit: 'degF' });
    expectClose(trace.blocks.mean, [20, 100], 1e-12);
  });

  it('follows a reference junction that was recorded', () => {
    const junction = cooling.map((_, i) => 21 + i / 250);
    const emf = cooling.map((t, i) => thermocoupleEmf('T', t, junction[i] ?? 0));
    const chain: Chain = { ...direct, junction: { kind: 'channel', column: 3 } };
    const celsius = toTrace(withJunction(recordingOf(emf, 'V'), junction, 'degC'), chain);
    expectClose(celsius.blocks.mean, cooling, 1e-8);
    expectClose(celsius.opening, cooling, 1e-8);
    const kelvin = withJunction(
      recordingOf(emf, 'V'),
      junction.map((t) => t + 273.15),
      'K',
    );
    expectClose(toTrace(kelvin, chain).blocks.mean, cooling, 1e-8);
  });

  it('takes the zero from a recording', () => {
    const values = cooling.map((t) => 0.015 + 50 * thermocoupleEmf('T', t));
    const zero = recordingOf(
      Array.from({ length: 200 }, (_, i) => 15 + (i % 2 === 0 ? 0.1 : -0.1)),
      'mV',
    );
    const trace = toTrace(recordingOf(values, 'V'), { ...direct, gain: 50, zero });
    expectClose(trace.blocks.mean, cooling, 1e-8);
    expect(trace.described).toContain('15.00 mV from sphere-b.txt');
  });
});

describe('blocks of many readings', () => {
  const reading = (t: number) => thermocoupleEmf('T', t);

  it('have the mean of the temperatures, not the temperature of the mean', () => {
    // Readings from 20 °C to 60 °C in one block: on the bent scale the two differ by more than 0.1 K.
    const values = Array.from({ length: 128 }, (_, i) => 20 + (40 * i) / 127);
    const emf = values.map(reading);
    const recording = recordingOf(emf, 'V');
    const { blocks } = toTrace({ ...recording, blocks: oneBlock(emf) }, direct);
    const exact = values.reduce((a, b) => a + b, 0) / values.length;
    const plain = thermocoupleReference('T').temperature(emf.reduce((a, b) => a + b, 0) / emf.length);
    expect(Math.abs(plain - exact)).toBeGreaterThan(0.1);
    expect(Math.abs((blocks.mean[0] ?? Number.NaN) - exact)).toBeLessThan(0.003);
    expect(blocks.min[0]).toBeCloseTo(20, 9);
    expect(blocks.max[0]).toBeCloseTo(60, 9);
  });

  it('have mean, squares and extremes of the converted readings', () => {
    const temperature = (i: number) => 60 + 0.3 * Math.sin(7 * i) + 0.2 * Math.sin(1.3 * i);
    const values = Array.from({ length: 1024 }, (_, i) => temperature(i));
    const found = toTrace(recordingOf(values.map(reading), 'V', 64), direct).blocks;
    const wanted = blocksOf(values, 1 / rate, 64);
    expectClose(found.mean, wanted.mean, 1e-7);
    expectClose(found.min, wanted.min, 1e-6);
    expectClose(found.max, wanted.max, 1e-6);
    expectClose(found.cell, wanted.cell, 1e-12);
    expectClose(found.count, wanted.count, 1e-12);
    // The local slope changes by a part in a thousand over the spread of a block.
    for (let i = 0; i < wanted.length; i++) {
      expect(Math.abs((found.squares[i] ?? 0) / (wanted.squares[i] ?? 1) - 1)).toBeLessThan(2e-3);
    }
    expect(found.width).toBe(wanted.width);
  });

  it('stay in order and finite for any voltages', () => {
    const voltages = fc.array(fc.double({ noNaN: true, noDefaultInfinity: true }), {
      minLength: 1,
      maxLength: 40,
    });
    const mild = fc.array(fc.double({ min: -0.02, max: 0.03, noNaN: true }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(fc.oneof(voltages, mild), fc.constantFrom('T', 'K', 'B', 'S'), (values, type) => {
        const { blocks, opening, remarks } = toTrace(recordingOf(values, 'V', 4), { ...direct, type });
        for (let i = 0; i < blocks.length; i++) {
          const [low = 0, mean = 0, high = 0] = [blocks.min[i], blocks.mean[i], blocks.max[i]];
          expect(low <= mean && mean <= high && low >= -270 && high <= 1820).toBe(true);
        }
        expect(opening.every(Number.isFinite)).toBe(true);
        expect(opening.length).toBeLessThanOrEqual(values.length);
        expect(remarks.every(({ code }) => code === 'chain-out-of-range')).toBe(true);
      }),
      { seed: 11, numRuns: 300 },
    );
  });
});

function oneBlock(values: readonly number[]) {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return {
    length: 1,
    width: values.length / rate,
    cell: Float64Array.of(0),
    time: Float64Array.of((values.length - 1) / (2 * rate)),
    count: Float64Array.of(values.length),
    mean: Float64Array.of(mean),
    squares: Float64Array.of(values.reduce((sum, value) => sum + (value - mean) ** 2, 0)),
    min: Float64Array.of(Math.min(...values)),
    max: Float64Array.of(Math.max(...values)),
  };
}

describe('readings outside the range', () => {
  it('are left out and said, with their times', () => {
    const emf = cooling.map((t) => thermocoupleEmf('T', t));
    const values = emf.map((e, i) => (i >= 100 && i < 120 ? 0.05 : e));
    const trace = toTrace(recordingOf(values, 'V'), direct);
    expect(trace.blocks.length).toBe(480);
    expectClose(
      trace.blocks.mean,
      cooling.filter((_, i) => i < 100 || i >= 120),
      1e-8,
    );
    expect(trace.blocks.cell[100]).toBe(120);
    const [remark, ...others] = trace.remarks;
    expect(others).toEqual([]);
    expect(remark).toMatchObject({ code: 'chain-out-of-range', severity: 'caution' });
    expect(remark?.at?.from).toBeCloseTo(1, 9);
    expect(remark?.at?.to).toBeCloseTo(1.19, 9);
    expect(remark?.message).toContain('4.0 % of the readings');
    expect(remark?.message).toContain('-270 to 400 °C');
    // In the opening the last good sample stands in, so that the spacing stays even.
    expect(trace.opening.length).toBe(500);
    expect(trace.opening[110]).toBe(trace.opening[99]);
  });

  it('leave nothing of a recording in the wrong unit', () => {
    const trace = toTrace(recordingOf([100, 90, 80], 'V'), direct);
    expect(trace.blocks.length).toBe(0);
    expect(trace.opening.length).toBe(0);
    expect(trace.remarks).toMatchObject([{ code: 'chain-out-of-range', severity: 'repeat' }]);
  });

  it('include temperatures below absolute zero', () => {
    const trace = toTrace(recordingOf([20, -300, 20], 'degC'), { kind: 'degrees' });
    expectClose(trace.blocks.mean, [20, 20], 1e-12);
    expect(trace.remarks.length).toBe(1);
  });

  it('keep the remarks of the recording', () => {
    const remark = { code: 'gaps', severity: 'note', message: 'a', action: 'b' } as const;
    const trace = toTrace({ ...recordingOf([20], 'degC'), remarks: [remark] }, { kind: 'degrees' });
    expect(trace.remarks).toEqual([remark]);
  });
});

describe('what is known of the accuracy', () => {
  const emf = (t: number, junction = 0) => thermocoupleEmf('T', t, junction);
  const span = Array.from({ length: 91 }, (_, i) => 22 + i);
  const traceOf = (chain: ThermocoupleChain, temperatures = span) =>
    toTrace(
      recordingOf(
        temperatures.map((t) => emf(t)),
        'V',
      ),
      chain,
    );
  const exact = { kind: 'ice', standardUncertainty: 0 } as const;

  it('is the tolerance class, as a uniform distribution', () => {
    // IEC 60584-1, type T class 1: 0.5 K up to 125 °C.
    const { chain } = traceOf({ ...direct, junction: exact, toleranceClass: 1 });
    expect(chain.offset).toBeCloseTo(0.5 / Math.sqrt(3), 9);
    expect(chain.scale).toBeCloseTo(0.5 / Math.sqrt(3) / 90, 9);
    expect(chain.nonlinearity).toBeCloseTo(0.5 / Math.sqrt(3) / 4, 9);
  });

  it('is that of the sensor in a logger that converts by itself', () => {
    const platinum = toTrace(recordingOf([22, 112], 'degC'), {
      kind: 'degrees',
      tolerance: { sensor: 'platinum', class: 'B' },
      accuracy: { offset: 0.2 },
    });
    expect(platinum.chain.offset).toBeCloseTo(
      Math.hypot(0.2, (platinumTolerance('B', 22) ?? 0) / Math.sqrt(3)),
      9,
    );
    expect(platinum.described).toContain('class B');
    const unknown = toTrace(recordingOf([22, 112], 'degC'), { kind: 'degrees' });
    expect(unknown.chain).toEqual({ offset: 0, scale: 0, nonlinearity: 0 });
    expect(unknown.described).toContain('nothing is known');
  });

  // The effect of each source is what the conversion itself does when that source is moved by one standard
  // uncertainty: taken apart here by converting twice.
  it.each<[string, Partial<ThermocoupleChain>, Partial<ThermocoupleChain>]>([
    ['the gain', { gainUncertainty: 0.01 }, { gain: 1 / 1.01 }],
    ['the zero', { zeroUncertainty: 2e-5 }, { zero: -2e-5 }],
    [
      'the reference junction',
      { junction: { kind: 'ice', standardUncertainty: 0.3 } },
      { junction: { kind: 'fixed', temperature: 0.3 } },
    ],
  ])('follows %s', (_, uncertain, moved) => {
    const plain = traceOf({ ...direct, junction: exact }).blocks.mean;
    const shifted = traceOf({ ...direct, junction: exact, ...moved }).blocks.mean;
    const effect = span.map((_, i) => (shifted[i] ?? Number.NaN) - (plain[i] ?? Number.NaN));
    const [cold = 0, hot = 0] = [effect[0], effect.at(-1)];
    const departures = effect.map((value, i) => Math.abs(value - cold - ((hot - cold) * i) / 90));
    const { chain } = traceOf({ ...direct, junction: exact, ...uncertain });
    // First order against the full effect: 2 % of it.
    expect(Math.abs(chain.offset - Math.abs(cold))).toBeLessThan(0.02 * Math.abs(cold));
    expect(Math.abs(chain.scale - Math.abs(hot - cold) / 90)).toBeLessThan(0.02 * chain.scale + 1e-6);
    expect(Math.abs(chain.nonlinearity - Math.max(...departures))).toBeLessThan(0.05 * chain.nonlinearity);
  });

  it('assumes a usual reference junction where nothing is said', () => {
    // At the ice point the sensitivity is 38.75 µV/K (NIST Monograph 175), at 22 °C it is 40.4 µV/K.
    const { chain } = traceOf(direct);
    expect(chain.offset).toBeCloseTo((0.1 * 38.75) / 40.4, 2);
  });

  it('takes the scatter of a zero recording', () => {
    const steps = Array.from({ length: 100 }, (_, i) => 1e-5 * (Math.floor(i / 10) % 2 === 0 ? 1 : -1));
    const zero = recordingOf(steps, 'V');
    const { chain } = traceOf({ ...direct, junction: exact, zero });
    // Ten stretches of alternating ±10 µV: standard deviation 10.54 µV, by √10 3.33 µV.
    const u = (1e-5 * Math.sqrt(10 / 9)) / Math.sqrt(10);
    expect(chain.offset).toBeCloseTo(u / thermocoupleReference('T').seebeck(22), 6);
  });

  it('is as given for a straight sensor', () => {
    const { chain } = toTrace(recordingOf([0.2, 0.9], 'V'), {
      kind: 'linear',
      slope: 100,
      offset: 0,
      slopeUncertainty: 0.01,
      offsetUncertainty: 0.5,
    });
    expect(chain).toEqual({ offset: 0.5, scale: 0.01, nonlinearity: 0 });
  });
});

describe('chains that do not fit', () => {
  const volts = recordingOf([0.001, 0.002], 'V');
  it.each<[string, Recording, Chain, string]>([
    ['no unit', recordingOf([1], null), { kind: 'degrees' }, 'has no unit'],
    ['volts for degrees', volts, { kind: 'degrees' }, 'give its unit as degC, degF or K'],
    ['degrees for volts', recordingOf([20], 'degC'), direct, 'is in degC'],
    ['volts for ohm', volts, { kind: 'resistance', nominal: 100 }, 'starts from a resistance'],
    ['no nominal', recordingOf([100], 'ohm'), { kind: 'resistance', nominal: 0 }, 'above 0'],
    ['no gain', volts, { ...direct, gain: 0 }, 'gain'],
    ['a gain that is no number', volts, { ...direct, gain: Number.NaN }, 'gain'],
    ['a zero that is no number', volts, { ...direct, zero: Number.NaN }, 'zero'],
    ['an empty zero', volts, { ...direct, zero: recordingOf([], 'V') }, 'holds no readings'],
    ['a zero in degrees', volts, { ...direct, zero: recordingOf([20], 'degC') }, 'is in degC'],
    ['a missing junction', volts, { ...direct, junction: { kind: 'channel', column: 7 } }, 'column 7'],
    [
      'a hot junction',
      volts,
      { ...direct, junction: { kind: 'fixed', temperature: 900 } },
      'outside the range',
    ],
    ['no slope', volts, { kind: 'linear', slope: 0, offset: 0 }, 'other than 0'],
  ])('%s', (_, recording, chain, words) => {
    expect(() => toTrace(recording, chain)).toThrow(ChainError);
    expect(() => toTrace(recording, chain)).toThrow(words);
  });
});
