import { describe, expect, test } from 'vitest';
import { seededRandom } from '../../src/practice/random.ts';
import { ByteSink } from '../../src/practice/write-sink.ts';

const point = 46;
const text = (write: (sink: ByteSink) => void, capacity = 16): string => {
  const sink = new ByteSink(capacity);
  write(sink);
  return new TextDecoder().decode(sink.take());
};

describe('a number with fixed decimals', () => {
  // The standard of the language says what toFixed gives (ECMA-262, Number.prototype.toFixed): the exact value of
  // the double decides.
  test('is what toFixed writes, over a million random numbers', () => {
    const random = seededRandom(8);
    const sink = new ByteSink(1 << 16);
    let expected = '';
    for (let i = 0; i < 1_000_000; i++) {
      const decimals = i % 10;
      const value = (random.uniform() - 0.5) * 10 ** (Math.floor(random.uniform() * 14) - 4);
      sink.fixed(value, decimals, point);
      sink.byte(10);
      expected += `${value.toFixed(decimals)}\n`;
      if (i % 5000 === 4999) {
        if (new TextDecoder().decode(sink.take()) !== expected) throw new Error(`near number ${i}`);
        expected = '';
      }
    }
  });

  test.each([
    [0.5, 0],
    [1.5, 0],
    [2.5, 0],
    [-0.5, 0],
    [1.005, 2],
    [8.345, 2],
    [1.45, 1],
    [0.145, 2],
    [1.255, 2],
    [-1.115, 2],
    [0.000_000_5, 6],
    [123_456.785, 2],
    [2 ** 51 + 0.5, 1],
    [2 ** 52 + 0.5, 0],
    [1e21, 2],
    [0, 3],
    [-0, 3],
    [-0.0004, 3],
    [2 ** 31, 0],
    [2 ** 31 - 0.001, 2],
    [12_345_678_901.234, 3],
    [99.999_5, 3],
    [0.1, 20],
  ])('%d with %d decimals, a tie or an end of a range', (value, decimals) => {
    expect(text((sink) => sink.fixed(value, decimals, point))).toBe(value.toFixed(decimals));
  });

  test('is what toFixed writes at all ties of short decimals', () => {
    const values = Array.from({ length: 50_000 }, (_, i) => (2 * i + 1) / 2000);
    const written = text((sink) => {
      for (const value of values) {
        sink.fixed(value, 2, point);
        sink.byte(10);
      }
    });
    expect(written).toBe(values.map((value) => `${value.toFixed(2)}\n`).join(''));
  });

  test('takes another decimal mark', () => {
    expect(text((sink) => sink.fixed(-12.5, 2, 44))).toBe('-12,50');
    expect(text((sink) => sink.fixed(0.5, 0, 44))).toBe('1');
    expect(text((sink) => sink.fixed(1.005, 2, 44))).toBe('1,00');
  });
});

test('whole numbers have at least the digits asked for', () => {
  expect(text((sink) => sink.whole(0))).toBe('0');
  expect(text((sink) => sink.whole(7, 3))).toBe('007');
  expect(text((sink) => sink.whole(2_147_483_648))).toBe('2147483648');
  expect(text((sink) => sink.whole(9_007_199_254_740_991))).toBe('9007199254740991');
  expect(text((sink) => sink.whole(3_000_000_007))).toBe('3000000007');
});

test('cells are filled with spaces, and a sink grows as it must', () => {
  const written = text((sink) => {
    sink.ascii('ab');
    const from = sink.length;
    sink.fixed(1.5, 1, point);
    sink.padStart(from, 6);
    sink.padStart(from, 2);
    sink.ascii('x'.repeat(200));
  }, 1);
  expect(written).toBe(`ab   1.5${'x'.repeat(200)}`);
});
