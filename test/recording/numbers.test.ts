import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createReader } from '../../src/recording/index.ts';
import { latin1 } from './helpers.ts';

// The value of a spelling is what ECMAScript's Number gives: the nearest double (ECMA-262, 7.1.4.1.2).

/** Spellings that loggers write, and harder ones. */
const spelling = fc
  .tuple(
    fc.constantFrom('', '-', '+'),
    fc.stringMatching(/^\d{1,20}$/),
    fc.option(fc.stringMatching(/^\d{0,22}$/), { nil: null }),
    fc.option(
      fc.tuple(fc.constantFrom('e', 'E'), fc.constantFrom('', '+', '-'), fc.stringMatching(/^\d{1,3}$/)),
      { nil: null, freq: 3 },
    ),
  )
  .map(
    ([sign, whole, fraction, exponent]) =>
      sign + whole + (fraction === null ? '' : `.${fraction}`) + (exponent ?? []).join(''),
  )
  .filter((text) => Math.abs(Number(text)) < 9e37);

/** The nearest double, and a zero for a minus zero: see `parseNumber`. */
const nearest = (cell: string): number => Number(cell) + 0;

/** Values of a column, one block a sample, so that nothing is summed up. */
function column(cells: readonly string[], slow: boolean): number[] {
  const reader = createReader({ rate: 1, decimal: '.', delimiter: ';', channel: 1, timeColumn: 'none' });
  // A quoted cell is read the careful way.
  const rows = cells.map((cell) => (slow ? `"${cell}";1\n` : `${cell};1\n`)).join('');
  reader.push(latin1(`0.5;1\n0.5;1\n0.5;1\n${rows}`));
  return [...reader.finish().blocks.min].slice(3);
}

describe('numbers', () => {
  test('the quick way and the careful way both give the nearest double', () => {
    fc.assert(
      fc.property(fc.array(spelling, { minLength: 1, maxLength: 50 }), (cells) => {
        const exact = cells.map(nearest);
        expect(column(cells, false)).toEqual(exact);
        expect(column(cells, true)).toEqual(exact);
      }),
      { seed: 1, numRuns: 200 },
    );
  });

  test('numbers as programs print them', () => {
    const printed = fc
      .tuple(
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        fc.nat(12),
        fc.constantFrom('fixed', 'exponential', 'shortest'),
      )
      .map(([x, digits, how]) =>
        how === 'fixed' ? x.toFixed(digits) : how === 'exponential' ? x.toExponential(digits) : String(x),
      );
    fc.assert(
      fc.property(fc.array(printed, { minLength: 1, maxLength: 50 }), (cells) => {
        expect(column(cells, false)).toEqual(cells.map(nearest));
      }),
      { seed: 2, numRuns: 200 },
    );
  });

  // Halfway and boundary cases: Paxson (1991), A program for testing IEEE decimal-binary conversion, tables
  // 1 to 4 (from memory); what they are worth is again what Number says.
  test.each([
    '5e-324',
    '2.2250738585072014e-308',
    '9007199254740993',
    '1e22',
    '1e23',
    '8.5e-22',
    '123456789012345e22',
    '123456789012345e-22',
    '999999999999999e22',
    '0.000000000000000000000001',
    '179769e32',
    '1.8e-5',
  ])('%s', (cell) => {
    expect(column([cell, `-${cell}`], false)).toEqual([Number(cell), -Number(cell)]);
  });
});
