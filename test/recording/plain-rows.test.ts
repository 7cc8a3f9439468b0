import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { digits, read, utf8 } from './helpers.ts';

/** One number in three spellings of the same value: plain, with an exponent, and with more digits than are quick. */
const spellings = {
  plain: (cell: string) => cell,
  exponent: (cell: string) => (/^[^E]*\d$/.test(cell) ? `${cell}e0` : cell),
  digits: (cell: string) =>
    /\d$/.test(cell) ? `${cell}${cell.includes('.') ? '' : '.'}${'0'.repeat(16)}` : cell,
};

interface Row {
  readonly step: number;
  readonly value: string;
  readonly room: string;
  readonly idle: string;
}

const step = fc.oneof(
  { weight: 40, arbitrary: fc.constant(1) },
  { weight: 2, arbitrary: fc.constantFrom(0, 2, 7, 400, -1, -3, -5000) },
);
const reading = fc.oneof(
  {
    weight: 30,
    arbitrary: fc
      .tuple(fc.integer({ min: -99_999_999, max: 99_999_999 }), fc.nat(7))
      .map(([n, places]) => (n / 10 ** places).toFixed(places)),
  },
  {
    weight: 2,
    arbitrary: fc.constantFrom('OL', '', 'NaN', '9.9E37', '+21.5', '-0', '.5', '7.', ' 21.25', '21.25 '),
  },
);
const row: fc.Arbitrary<Row> = fc.record({
  step,
  value: reading,
  room: reading,
  idle: fc.constantFrom('on', '', '3', '"a,b"'),
});

/** Rows as text. The first ones say how the file is written and are the same in every spelling. */
function text(rows: readonly Row[], spelling: (cell: string) => string, end: string): string {
  let ticks = 0;
  const lines = ['Time (s),T (°C),State,Room (°C)'];
  for (let i = 0; i < 20; i++) lines.push(`${(ticks++ / 10).toFixed(1)},20.5,on,21.5`);
  for (const { step, value, room, idle } of rows) {
    ticks = Math.max(0, ticks + step);
    lines.push([spelling((ticks / 10).toFixed(1)), spelling(value), idle, spelling(room)].join(','));
  }
  return lines.join(end) + end;
}

/** What is the same however numbers are spelled, to the last digit. */
function seen(file: string): string {
  const recording = read(utf8(file), { channel: 2, companions: ['Room'], unit: 'degC' });
  const { blocks, companions, opening, samples, duration, remarks } = recording;
  return digits({ blocks, companions, opening, samples, duration, remarks });
}

describe('rows of plain numbers', () => {
  test('make the recording that the same numbers make in spellings that are read with more care', () => {
    fc.assert(
      fc.property(
        fc.array(row, { minLength: 1, maxLength: 400 }),
        fc.constantFrom('\n', '\r\n', '\r'),
        (rows, end) => {
          const plain = seen(text(rows, spellings.plain, end));
          expect(seen(text(rows, spellings.exponent, end))).toBe(plain);
          expect(seen(text(rows, spellings.digits, end))).toBe(plain);
        },
      ),
      { seed: 5, numRuns: 150 },
    );
  });

  test('are summed up in the same blocks where cells grow on the way', () => {
    const rows: Row[] = Array.from({ length: 140_000 }, (_, i) => ({
      step: i % 50_000 === 49_999 ? 3 : 1,
      value: i % 30_011 === 30_010 ? 'OL' : (20 + ((i * 7919) % 10_007) / 1000).toFixed(3),
      room: (21 + ((i * 104_729) % 997) / 1000).toFixed(3),
      idle: 'on',
    }));
    expect(seen(text(rows, spellings.exponent, '\n'))).toBe(seen(text(rows, spellings.plain, '\n')));
  });

  test('keep the nearest double with as many digits as fit, and with more', () => {
    // The value of a spelling is what ECMAScript's Number gives: the nearest double (ECMA-262, 7.1.4.1.2).
    const cells = [
      '999999999.999999',
      '123456789.123456',
      '0.000000001',
      '1234567890.5',
      '0.1234567891',
      '000000001.5',
    ];
    const recording = read(`0.5;1\n0.5;1\n0.5;1\n${cells.map((cell) => `${cell};1\n`).join('')}`, {
      rate: 1,
      channel: 1,
      timeColumn: 'none',
      delimiter: ';',
      decimal: '.',
    });
    expect([...recording.blocks.min].slice(3)).toEqual(cells.map(Number));
  });
});
