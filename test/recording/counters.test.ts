import { describe, expect, test } from 'vitest';
import { codes, message, read, refusal, times, values } from './helpers.ts';

// What a first column of unnamed unit means: common practice, no source. Expected values by hand.

/** 40 readings that go up and down. */
const reading = (i: number): string => (20 + (i % 7) / 10).toFixed(2);

function file(header: string, first: (i: number) => string, n = 40): string {
  return `${header}\n${Array.from({ length: n }, (_, i) => `${first(i)},${reading(i)}\n`).join('')}`;
}

describe('columns that are named after their unit', () => {
  test.each([
    ['millis', 1e3],
    ['ms', 1e3],
    ['msec', 1e3],
    ['millis()', 1e3],
    ['elapsedMillis', 1e3],
    ['timeMs', 1e3],
    ['time_ms', 1e3],
    ['t_us', 1e6],
    ['micros', 1e6],
    ['us', 1e6],
    ['seconds', 1],
    ['s', 1],
  ])('%s', (name, perSecond) => {
    const recording = read(file(`${name},Sphere (°C)`, (i) => String(50 * i)));
    expect(recording.rate).toBeCloseTo(perSecond / 50, 9);
    expect(codes(recording)).toEqual([]);
  });

  test('S is a signal as often as seconds', () => {
    const recording = read(file('elapsedMillis,S', (i) => String(50 * i)));
    expect(recording.channel).toEqual({ column: 2, name: 'S', unit: null });
  });

  test('min is a minimum as often as minutes', () => {
    expect(refusal(file('min,Sphere (°C)', (i) => String(50 + (i % 3)))).code).toBe('rate-needed');
  });
});

describe('counters of 32 bits', () => {
  // 2^32 = 4 294 967 296: what a counter of 32 bits holds, by hand.
  const wrap = 2 ** 32;

  test.each([
    ['millis', wrap, 50, 0.05, 0],
    ['micros', wrap, 20_000, 0.02, 0],
    ['Time (s)', wrap / 1e3, 0.05, 0.05, 3],
    ['Time (s)', wrap / 1e6, 0.02, 0.02, 6],
    ['Time (ms)', wrap / 1e3, 20, 0.02, 3],
  ])('%s rolls over at %d', (name, size, step, seconds, decimals) => {
    const stamp = (i: number): string => ((size - 20.5 * step + i * step) % size).toFixed(decimals);
    const recording = read(file(`${name},Sphere (°C)`, stamp));
    expect(recording.samples).toBe(40);
    times(recording).forEach((t, i) => {
      expect(t).toBeCloseTo(i * seconds, 6);
    });
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(message(recording, 'time-repaired')).toContain('began again at zero once');
    expect(message(recording, 'time-repaired')).toContain('line 23');
  });

  test('a logger that starts again is no roll-over', () => {
    const recording = read(file('millis,Sphere (°C)', (i) => String(i < 30 ? 4e9 + 50 * i : 50 * (i - 30))));
    expect(codes(recording)).toEqual(['header-repeated']);
    expect(recording.samples).toBe(30);
  });
});

describe('a first column that rises evenly', () => {
  const position = (i: number): string => (i / 100).toFixed(6);

  test('X_Value is the time in seconds, and that is said', () => {
    const recording = read(file('X_Value,Value', position));
    expect(recording.channel.name).toBe('Value');
    expect(recording.rate).toBe(100);
    expect(message(recording, 'time-assumed')).toContain('read as seconds');
  });

  test('another name is taken as well, with a caution', () => {
    const recording = read(file('pos,Value', position));
    expect(recording.channel.name).toBe('Value');
    expect(recording.rate).toBe(100);
    expect(recording.remarks).toMatchObject([{ code: 'time-assumed', severity: 'caution' }]);
    expect(recording.remarks[0]?.message).toContain('"pos" rises evenly');
    expect(recording.remarks[0]?.action).toContain('--time-unit');
    expect(recording.remarks[0]?.action).toContain('--time-column');
  });

  test.each([
    ['a rate that agrees', { rate: 100 }],
    ['a rate that does not', { rate: 50 }],
    ['no time column', { rate: 50, timeColumn: 'none' }],
  ])('it does not become the sensor: %s', (_, options) => {
    const recording = read(file('pos,Value', position), options);
    expect(recording.channel.name).toBe('Value');
    expect(recording.rate).toBe(options.rate);
    expect(values(recording).slice(0, 3)).toEqual([20, 20.1, 20.2]);
  });

  test('a sensor that rises evenly stays a sensor', () => {
    expect(refusal(file('Temp 1,Value', position)).code).toBe('rate-needed');
  });

  test('whole steps are asked about, with the options that answer', () => {
    const error = refusal(file('pos,Value', (i) => String(i)));
    expect(error.code).toBe('rate-needed');
    expect(error.mend).toContain('--rate');
    expect(error.mend).toContain('--time-unit s');
    expect(refusal(file('pos,Value', (i) => String(10 * i))).mend).toContain('--time-unit');
  });

  test('a row of two numbers in the preamble is no row of units', () => {
    const recording = read(`Channels,1\n${file('X_Value,Sphere', position)}`);
    expect(recording.channel).toEqual({ column: 2, name: 'Sphere', unit: null });
  });
});
