import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  formatAtPlace,
  formatSignificant,
  formatWithInterval,
  formatWithUncertainty,
  type UncertaintyStyle,
  withUnit,
} from '../../src/quantity/index.ts';

const text = (value: number, u: number, style?: UncertaintyStyle) =>
  formatWithUncertainty(value, u, style).text;

describe('a value and its uncertainty, rounded together', () => {
  // JCGM 100:2008, 7.2.2 and H.3.4: results as the guide prints them.
  it('prints the results of the guide as the guide does', () => {
    expect(text(100.02147, 0.00035)).toBe('100.02147 ± 0.00035');
    expect(text(-0.17120379, 0.0028776)).toBe('-0.1712 ± 0.0029');
    expect(text(0.00218269774, 0.000667938773)).toBe('0.00218 ± 0.00067');
  });

  // Common practice, no source: one or two figures of the uncertainty, the value to the same place.
  it.each<[number, number, UncertaintyStyle, string]>([
    [12.3456, 0.0996, {}, '12.35 ± 0.10'],
    [12.3456, 0.0994, {}, '12.346 ± 0.099'],
    [12.3456, 0.0996, { figures: 1 }, '12.3 ± 0.1'],
    [9.96, 9.96, { figures: 1 }, '10 ± 10'],
    [1234, 56, {}, '1234 ± 56'],
    [1234, 56, { figures: 1 }, '1230 ± 60'],
    [123_456, 5678, {}, '123500 ± 5700'],
    [0, 0.5, {}, '0.00 ± 0.50'],
    [-0.001, 0.5, {}, '0.00 ± 0.50'],
    [-12.34, 0.056, { minus: 'true' }, '−12.340 ± 0.056'],
    [0.15, 0.15, { figures: 1 }, '0.2 ± 0.2'],
    [2.675, 0.012, { figures: 1 }, '2.68 ± 0.01'],
    [3, 40, {}, '3 ± 40'],
    [40.21, 0.34, { unit: 's' }, '(40.21 ± 0.34) s'],
    [1.5e-5, 2e-6, { unit: 'm²/s' }, '(1.50 ± 0.20) × 10⁻⁵ m²/s'],
    [3e9, 1e7, {}, '(3.000 ± 0.010) × 10⁹'],
    [40, 0, { unit: 's' }, '(40 ± 0) s'],
    [40.123, Number.POSITIVE_INFINITY, {}, '40 ± ∞'],
    [40, Number.NaN, {}, '40 ± unknown'],
    [40, -1, {}, '40 ± unknown'],
    [Number.NaN, 1, { unit: 's' }, 'unknown'],
    [Number.NEGATIVE_INFINITY, 1, {}, 'unknown'],
  ])('%d with %d %j', (value, u, style, expected) => {
    expect(text(value, u, style)).toBe(expected);
  });

  it('never shows more figures of the uncertainty than asked, and is right to half of the last place', () => {
    const magnitude = fc.double({ min: 1e-9, max: 1e9, noNaN: true });
    fc.assert(
      fc.property(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        magnitude,
        fc.constantFrom<1 | 2>(1, 2),
        (v, u, f) => {
          const shown = formatWithUncertainty(v, u, { figures: f });
          const scale = 10 ** shown.exponent;
          const half = 0.5 * 10 ** (shown.place ?? Number.NaN) * (1 + 1e-9) + 4e-16 * Math.abs(v);
          expect(Math.abs(Number(shown.value) * scale - v)).toBeLessThanOrEqual(half);
          expect(Math.abs(Number(shown.uncertainty) * scale - u)).toBeLessThanOrEqual(half);
          const figures = shown.uncertainty.replace('.', '').replace(/^0+/, '').replace(/0+$/, '');
          expect(figures.length).toBeLessThanOrEqual(f);
          const decimals = (digits: string) => digits.split('.')[1]?.length ?? 0;
          expect(decimals(shown.value)).toBe(decimals(shown.uncertainty));
        },
      ),
      { seed: 2, numRuns: 1000 },
    );
  });

  it('survives any pair of doubles with a short text', () => {
    fc.assert(
      fc.property(fc.double(), fc.double(), (v, u) => {
        expect(text(v, u).length).toBeLessThan(80);
      }),
      { seed: 3, numRuns: 1000 },
    );
  });
});

describe('a value and an interval, rounded together', () => {
  // JCGM 100:2008, 7.2.6, for half of the width; that the ends share its place: common practice, no source.
  it.each<[number, [number, number | null], UncertaintyStyle, [string, string, string]]>([
    [39.42, [30.52, 55.61], {}, ['39', '31', '56']],
    [39.42, [30.52, 55.61], { figures: 1 }, ['40', '30', '60']],
    [41.593, [41.294, 41.896], {}, ['41.59', '41.29', '41.90']],
    [1.455, [1.424, 1.487], { figures: 1 }, ['1.46', '1.42', '1.49']],
    [20.3, [8.14, null], {}, ['20', '8', '∞']],
    [20.3, [8.14, Number.POSITIVE_INFINITY], {}, ['20', '8', '∞']],
    [2.5, [2.5, 2.5], {}, ['2.5', '2.5', '2.5']],
    [0.4, [-0.31, 1.11], { minus: 'true' }, ['0.40', '−0.31', '1.11']],
  ])('%s in %j, %j', (value, interval, style, [shown, low, high]) => {
    expect(formatWithInterval(value, interval, style)).toEqual({ value: shown, low, high });
  });

  it('writes the value as it stands beside half of an even interval', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 1e4 }), fc.double({ min: 1e-4, max: 0.9 }), (value, part) => {
        const half = value * part;
        const even = formatWithInterval(value, [value - half, value + half]);
        expect(even.value).toBe(formatWithUncertainty(value, half).value);
      }),
    );
  });
});

describe('single numbers', () => {
  it.each<[number, number, string]>([
    [1234.5678, 3, '1230'],
    [0.00123456, 3, '0.00123'],
    [99.96, 3, '100'],
    [0, 3, '0'],
    [-2.5, 1, '-3'],
    [6.02214076e23, 3, '6.02 × 10²³'],
    [Number.NaN, 3, 'unknown'],
    [Number.NEGATIVE_INFINITY, 3, '-∞'],
  ])('%d to %d figures', (value, figures, expected) => {
    expect(formatSignificant(value, figures)).toBe(expected);
  });

  it('to a decimal place', () => {
    expect(formatAtPlace(12.345, -2)).toBe('12.35');
    expect(formatAtPlace(-0.004, -2)).toBe('0.00');
    expect(formatAtPlace(1234, 2)).toBe('1200');
    expect(formatAtPlace(-7.5, 0, { minus: 'true' })).toBe('−8');
    expect(formatAtPlace(Number.POSITIVE_INFINITY, 0)).toBe('∞');
  });

  // ISO 80000-1:2009, 7.1.4 (number of the clause from memory).
  it('puts a space before every unit but those of plane angle', () => {
    expect(withUnit('22.5', '°C')).toBe('22.5 °C');
    expect(withUnit('90', '%')).toBe('90 %');
    expect(withUnit('45', '°')).toBe('45°');
    expect(withUnit('0.9', '1')).toBe('0.9');
  });
});
