import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Dimension,
  dimensions,
  fromSI,
  parseQuantity,
  type QuantityProblem,
  toSI,
  unitsOf,
} from '../../src/quantity/index.ts';

function read(text: string, dimension: Dimension): number {
  const parsed = parseQuantity(text, dimension);
  if (!parsed.ok) throw new Error(parsed.problem);
  return parsed.value;
}

function refused(text: string, dimension: Dimension): QuantityProblem {
  const parsed = parseQuantity(text, dimension);
  if (parsed.ok) throw new Error(`${text} was read as ${parsed.value}`);
  return parsed;
}

describe('reading a quantity', () => {
  // Conversion factors: NIST SP 811 (2008), Appendix B.8, as printed there to 7 figures.
  it.each<[string, Dimension, number]>([
    ['12 mm', 'length', 0.012],
    ['0.5 in', 'length', 0.0127],
    ['1 ft', 'length', 0.3048],
    ['120 L/min', 'flow', 120 * 1.666667e-5],
    ['250 ft3/h', 'flow', 250 * 7.865791e-6],
    ['1 ft3/min', 'flow', 4.719474e-4],
    ['1 gal/min', 'flow', 6.30902e-5],
    ['2.5 bar', 'pressure', 250_000],
    ['35 psi', 'pressure', 35 * 6894.757],
    ['760 mmHg', 'pressure', 101_325],
    ['29.92 inHg', 'pressure', 101_320.8],
    ['1 inH2O', 'pressure', 249.0889],
    ['65 degF', 'temperature', (65 - 32) / 1.8],
    ['300 K', 'temperature', 26.85],
    ['9 degF', 'temperature-difference', 5],
    ['20 s', 'time', 20],
    ['3 min', 'time', 180],
    ['0.25 K', 'temperature-difference', 0.25],
    ['4.5 mV', 'voltage', 0.0045],
    ['50 uV/K', 'thermoelectric', 5e-5],
    ['1 kHz', 'frequency', 1000],
    ['90 %', 'ratio', 0.9],
    ['0.9', 'ratio', 0.9],
    ['100 ohm', 'resistance', 100],
    ['1 lb', 'mass', 0.4535924],
    ['1 lb/ft3', 'density', 16.01846],
    ['1 mph', 'speed', 0.44704],
    ['-5 degC', 'temperature', -5],
    ['1.5e-3 V', 'voltage', 0.0015],
    ['.5 s', 'time', 0.5],
    ['12mm', 'length', 0.012],
  ])('%s', (text, dimension, si) => {
    expect(Math.abs(read(text, dimension) - si)).toBeLessThanOrEqual(5e-7 * Math.abs(si));
  });

  it.each<[string, string, Dimension]>([
    ['50 µV/K', '50 uV/K', 'thermoelectric'],
    ['50 μV/K', '50 uV/K', 'thermoelectric'],
    ['50 µV/°C', '50 uV/K', 'thermoelectric'],
    ['65 °F', '65 degF', 'temperature'],
    ['65 ℉', '65 degF', 'temperature'],
    ['65 ° F', '65 degF', 'temperature'],
    ['21 ºC', '21 degC', 'temperature'],
    ['2 m³/h', '2 m3/h', 'flow'],
    ['2 m^3/h', '2 m3/h', 'flow'],
    ['2 m³·h⁻¹', '2 m3/h', 'flow'],
    ['2 m3 / h', '2 m3/h', 'flow'],
    ['2 m3 per h', '2 m3/h', 'flow'],
    ['100 Ω', '100 ohm', 'resistance'],
    ['100 \u2126', '100 ohm', 'resistance'],
    ['0.5″', '0.5 in', 'length'],
    ['\u00a012\u202fmm ', '12 mm', 'length'],
    ['−5 °C', '-5 degC', 'temperature'],
    ['385 J/(kg·K)', '385 J/kg/K', 'specific-heat'],
    ['200 W/(m·K)', '200 W/m/K', 'conductivity'],
  ])('takes %s for %s', (fancy, plain, dimension) => {
    expect(read(fancy, dimension)).toBe(read(plain, dimension));
  });

  it('tells gauge from absolute pressure', () => {
    const reference = (text: string) => {
      const parsed = parseQuantity(text, 'pressure');
      return parsed.ok ? parsed.reference : parsed.problem;
    };
    for (const text of [
      '2 bar(g)',
      '2 barg',
      '2 bar g',
      '2 bar gauge',
      '30 psig',
      '30 psi (g)',
      '200 kPag',
    ]) {
      expect(reference(text), text).toBe('gauge');
    }
    for (const text of [
      '3 bar(a)',
      '3 bara',
      '3 bar abs',
      '3 bar absolute',
      '45 psia',
      '300 kPaa',
      '1 atm abs',
    ]) {
      expect(reference(text), text).toBe('absolute');
    }
    for (const text of ['3 bar', '45 psi', '300 kPa', '300 Pa', '760 mmHg']) {
      expect(reference(text), text).toBe('unstated');
    }
    expect(parseQuantity('12 mm', 'length')).toMatchObject({ reference: null });
    expect(refused('-1 psia', 'pressure').problem).toContain('below zero');
    expect(read('-0.2 bar(g)', 'pressure')).toBe(-20_000);
  });
});

describe('refusing what could be misread', () => {
  it.each<[string, Dimension, string, string]>([
    ['20', 'time', '"20" has no unit.', 'such as 20 s'],
    ['12,5 mm', 'length', 'comma', '12.5'],
    ['1,200 L/min', 'flow', 'decimal comma or a thousands mark', '1.200 or 1200'],
    ['1 200 L/min', 'flow', 'thousands mark', '1200'],
    ["1'200 L/min", 'flow', 'thousands mark', '1200'],
    ['1.200.000 Pa', 'pressure', 'two decimal points', 'one decimal point'],
    ['1/2 in', 'length', 'fraction', '0.5'],
    ['½ in', 'length', 'fraction', '0.5'],
    ['5 MV', 'voltage', 'not a unit of voltage', 'Write mV'],
    ['250 scfh', 'flow', 'not a unit of flow', 'reference pressure and temperature'],
    ['12 furlong', 'length', '"furlong" in "12 furlong"', 'm, mm, cm'],
    ['12 s', 'length', 'not a unit of length', 'm, mm'],
    ['twelve mm', 'length', 'does not start with a number', '12.5 m'],
    ['', 'length', 'does not start with a number', '12.5 m'],
    ['nan mm', 'length', 'does not start with a number', '12.5 m'],
    ['1e999 mm', 'length', 'too large', 'smaller'],
    ['-300 °C', 'temperature', 'absolute zero', 'sign'],
    ['12 mm or so', 'length', 'not a unit of length', 'm, mm'],
    ['0x10 mm', 'length', 'not a unit of length', 'm, mm'],
    ['0.5 K/10min', 'temperature-rate', 'not a unit of temperature rate', 'K/min'],
  ])('%s as %s', (text, dimension, problem, mend) => {
    const answer = refused(text, dimension);
    expect(answer.problem).toContain(problem);
    expect(answer.mend).toContain(mend);
    expect(answer.problem.length).toBeLessThan(300);
    expect(answer.allowed).toEqual(unitsOf(dimension).map((unit) => unit.spellings[0]));
  });

  it('looks at no more text than a quantity needs', () => {
    const answer = refused(`${'9'.repeat(10_000)} mm`, 'length');
    expect(answer.problem).toContain('too long');
    expect(answer.problem.length).toBeLessThan(150);
  });

  it('answers to any text', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 200 }),
        fc.constantFrom(...dimensions),
        (text, dimension) => {
          const parsed = parseQuantity(text, dimension);
          expect(parsed.ok ? Number.isFinite(parsed.value) : parsed.mend.length > 0).toBe(true);
        },
      ),
      { seed: 1, numRuns: 300 },
    );
  });
});

describe('the table of units', () => {
  it('reads every spelling as its own unit and nothing twice within a dimension', () => {
    for (const dimension of dimensions) {
      const seen = new Set<string>();
      for (const unit of unitsOf(dimension)) {
        for (const spelling of unit.spellings) {
          expect(seen.has(spelling), `${spelling} twice in ${dimension}`).toBe(false);
          seen.add(spelling);
          const parsed = parseQuantity(`300 ${spelling}`, dimension);
          expect(parsed.ok && parsed.unit, spelling).toBe(unit);
        }
        // The printed symbol can be read back.
        expect(parseQuantity(`300 ${unit.symbol}`, dimension), unit.symbol).toMatchObject({ ok: true, unit });
      }
    }
  });

  it('converts there and back', () => {
    for (const dimension of dimensions) {
      for (const unit of unitsOf(dimension)) {
        expect(fromSI(toSI(300, unit), unit)).toBeCloseTo(300, 9);
      }
    }
  });
});
