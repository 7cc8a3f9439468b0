import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { headingOf, quantityColumns } from '../../src/marking/index.ts';
import { sheetOf, sheetOfBytes, valuesOf } from './sheet.ts';

const plain = `group,recording,time constant at 36.8 % / s,time constant through origin / s,h / W/(m2 K),Re,note
A1,recordings/A/A1/brass-12_120-1.txt,41.2,41.30,166,14100,guest
A1,recordings/A/A1/brass-12_60-1.txt,55,,,,
`;

describe('a sheet', () => {
  test('gives its rows with their values, and what their last digits are worth', () => {
    const { rows, faults } = sheetOf(plain);
    expect(faults).toEqual([]);
    expect(rows).toHaveLength(2);
    expect(rows[0]).toMatchObject({
      line: 2,
      group: 'A1',
      recording: 'recordings/A/A1/brass-12_120-1.txt',
      note: 'guest',
    });
    const [point, origin, h, re] = rows[0]?.values ?? [];
    expect(point).toMatchObject({ quantity: 'point', value: 41.2, written: '41.2 s' });
    expect(point?.rounding).toBeCloseTo(0.05, 10);
    expect(origin?.rounding).toBeCloseTo(0.005, 10);
    expect(h).toMatchObject({ quantity: 'heat-transfer-coefficient', value: 166, written: '166 W/(m² K)' });
    // A whole number with zeros at its end counts to its third figure.
    expect(re).toMatchObject({ quantity: 'reynolds', value: 14100, rounding: 50 });
    expect(rows[1]?.values).toMatchObject([{ quantity: 'point', value: 55, rounding: 0.5 }]);
  });

  test.each(quantityColumns)('understands the heading that Emberline writes itself: $name', (column) => {
    const sheet = sheetOf(`group;recording;${headingOf(column)}\nA1;x.txt;1.5\n`);
    expect(sheet.faults).toEqual([]);
    expect(sheet.rows[0]?.values).toMatchObject([{ quantity: column.quantity, value: 1.5 }]);
  });

  test.each([
    ['tau point [ms]', '41200', 'point', 41.2],
    ['τ_origin (min)', '0.69', 'origin', 41.4],
    ['tau intercept in s', '41.2', 'intercept', 41.2],
    ['TAU ORIGIN/s', '41.2', 'origin', 41.2],
    ['u(tau) / s', '0.1', 'standard-uncertainty', 0.1],
    ['U(tau) / s', '0.2', 'expanded-uncertainty', 0.2],
    ['Standard error (s)', '0.1', 'standard-uncertainty', 0.1],
    ['h [W/m²K]', '166', 'heat-transfer-coefficient', 166],
    ['h / Btu/(h ft2 degF)', '29.2', 'heat-transfer-coefficient', 165.80528],
    ['Re [-]', '14100', 'reynolds', 14100],
    ['Nu', '72.6', 'nusselt', 72.6],
    ['Biot', '0.29 %', 'biot', 0.0029],
    ['tau predicted / s', '0.657 min', 'predicted', 39.42],
    ['time constant, 36.8 % point / s', '41.2', 'point', 41.2],
  ])('understands %s with %s', (heading, cell, quantity, value) => {
    const sheet = sheetOf(`group;recording;"${heading}"\nA1;x.txt;${cell}\n`);
    expect(valuesOf(sheet)[quantity]).toBeCloseTo(value, 4);
    expect(sheet.faults).toEqual([]);
  });

  // NIST SP 811 (2008), B.8: 1 Btu_IT/(h ft² °F) is 5.678263 W/(m² K).
  test('converts a heat transfer coefficient by the published factor', () => {
    const sheet = sheetOf('group;recording;h / Btu/(h ft2 degF)\nA1;x.txt;1\n');
    expect(valuesOf(sheet)['heat-transfer-coefficient']).toBeCloseTo(5.678263, 6);
  });

  test('takes an uncertainty in percent as a part of the time constant of its row', () => {
    const sheet = sheetOf('group,recording,tau point / s,tau origin / s,u(tau) / %\nA1,x.txt,50,40,2\n');
    expect(valuesOf(sheet)['standard-uncertainty']).toBeCloseTo(0.8, 10);
    expect(sheet.rows[0]?.values.at(-1)?.written).toBe('2 %');
    const without = sheetOf('group,recording,u(tau) / %\nA1,x.txt,2\n');
    expect(valuesOf(without)).toEqual({});
    expect(without.faults).toMatchObject([{ line: 2, message: expect.stringContaining('does not hold') }]);
  });

  test.each([
    ['semicolons and decimal commas', 'group;recording;tau origin / s;Re\nA1;x.txt;41,3;14.100\n', 14100],
    ['tabs and decimal commas', 'group\trecording\ttau origin / s\tRe\nA1\tx.txt\t41,3\t14100\n', 14100],
    ['quoted cells between commas', 'group,recording,tau origin / s,Re\nA1,x.txt,"41,3","1,41e4"\n', 14100],
    ['thousands marks and points', 'group,recording,tau origin / s,Re\nA1,x.txt,41.3,"14,100"\n', 14100],
    ['blanks as thousands marks', 'group;recording;tau origin / s;Re\nA1;x.txt;41,3;14 100\n', 14100],
    ['a named separator', 'sep=;\ngroup;recording;tau origin / s;Re\nA1;x.txt;41,3;14100\n', 14100],
    ['carriage returns alone', 'group;recording;tau origin / s;Re\rA1;x.txt;41.3;1.41·10^4\r', 14100],
  ])('is read with %s', (_, text, re) => {
    const sheet = sheetOf(text);
    expect(sheet.faults).toEqual([]);
    expect(valuesOf(sheet)).toEqual({ origin: 41.3, reynolds: re });
  });

  test('says where a number can be read in two ways, and takes neither', () => {
    const sheet = sheetOf('group;recording;tau origin / s;Re\nA1;x.txt;41;14,100\n');
    expect(valuesOf(sheet)).toEqual({ origin: 41 });
    expect(sheet.faults).toMatchObject([
      { line: 2, column: 'Re', message: expect.stringContaining('two ways') },
    ]);
  });

  test.each([
    ['UTF-8 with a mark', (text: string) => Buffer.from(`\uFEFF${text}`, 'utf8')],
    ['UTF-16, little end first', (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le')],
    ['UTF-16, big end first', (text: string) => Buffer.from(`\uFEFF${text}`, 'utf16le').swap16()],
    ['Latin-1', (text: string) => Buffer.from(text, 'latin1')],
  ])('is read in %s', (_, encode) => {
    const text = 'group;recording;h / W/(m² K);note\nA1;x.txt;166;Größe\n';
    const sheet = sheetOfBytes(encode(text));
    expect(sheet.faults).toEqual([]);
    expect(valuesOf(sheet)).toEqual({ 'heat-transfer-coefficient': 166 });
    expect(sheet.rows[0]?.note).toBe('Größe');
  });

  test.each([
    [
      'a column that is none of ours',
      'group;recording;colour;tau origin / s\nA1;x.txt;red;41\n',
      'colour',
      'none of those',
    ],
    [
      'a unit that is none',
      'group;recording;tau origin / kg;tau point / s\nA1;x.txt;41;41\n',
      'tau origin / kg',
      'no unit',
    ],
    [
      'a column that stands twice',
      'group;recording;tau origin / s;tau through origin / s\nA1;x.txt;41;42\n',
      'tau through origin / s',
      'twice',
    ],
    ['a heading without a unit', 'group;recording;tau origin\nA1;x.txt;41\n', 'tau origin', 'no unit'],
    [
      'a value with its uncertainty',
      'group;recording;tau origin / s;tau point / s\nA1;x.txt;41 ± 1;41\n',
      'tau origin / s',
      'column of its own',
    ],
    [
      'a text',
      'group;recording;tau origin / s;tau point / s\nA1;x.txt;about forty;41\n',
      'tau origin / s',
      'no number',
    ],
    [
      'a number in a unit of something else',
      'group;recording;tau origin / s;tau point / s\nA1;x.txt;41 mm;41\n',
      'tau origin / s',
      'no unit',
    ],
    [
      'a number beyond all numbers',
      'group;recording;tau origin / s;tau point / s\nA1;x.txt;1e999;41\n',
      'tau origin / s',
      'no number',
    ],
  ])('names %s', (_, text, column, words) => {
    const sheet = sheetOf(text);
    expect(sheet.faults).toMatchObject([{ column, message: expect.stringContaining(words) }]);
    expect(sheet.rows).toHaveLength(1);
  });

  test('takes formulas, links and markup for what they are: text', () => {
    const sheet = sheetOf(
      'group;recording;tau origin / s;note\nA1;x.txt;=1+1;"\'=HYPERLINK(""http://elsewhere.example"")"\nA1;x.txt;<b>41</b>;<script>\n',
    );
    expect(valuesOf(sheet)).toEqual({});
    expect(sheet.faults.map(({ line }) => line)).toEqual([2, 3]);
    expect(sheet.rows[0]?.note).toBe('=HYPERLINK("http://elsewhere.example")');
  });

  test('counts lines as an editor does, with breaks in cells', () => {
    const sheet = sheetOf(
      'group,recording,tau origin / s,note\n\nA1,x.txt,41,"two\nlines"\n\nA1,y.txt,forty,\n',
    );
    expect(sheet.rows.map(({ line }) => line)).toEqual([3, 6]);
    expect(sheet.faults).toMatchObject([{ line: 6 }]);
  });

  test.each([[''], ['\n\n'], ['\0\0\0\0'], ['"'], ['group,recording\n'], ['a'.repeat(99)]])(
    'is nothing where there is nothing: %j',
    (text) => {
      const bytes = new TextEncoder().encode(text);
      let rows = 0;
      try {
        rows = sheetOfBytes(bytes).rows.length;
      } catch (error) {
        expect(error).toMatchObject({ message: expect.stringContaining('no text has') });
      }
      expect(rows).toBe(0);
    },
  );

  test('reads whatever bytes without an error that is none of its own', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), (bytes) => {
        try {
          for (const { values } of sheetOfBytes(bytes).rows) {
            for (const { value, rounding } of values) expect(Number.isFinite(value + rounding)).toBe(true);
          }
        } catch (error) {
          expect(error).toMatchObject({ message: expect.stringContaining('no text has') });
        }
      }),
    );
  });

  test('gives the same value for every way to write a number', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 99_999_999 }),
        fc.integer({ min: 0, max: 4 }),
        (digits, places) => {
          const text = (digits / 10 ** places).toFixed(places);
          const withComma = `group;recording;tau origin / s;Nu\nA1;x;${text.replace('.', ',')};1,5\n`;
          const withPoint = `group;recording;tau origin / s;Nu\nA1;x;${text};1.5\n`;
          const comma = sheetOf(withComma).rows[0]?.values[0];
          const point = sheetOf(withPoint).rows[0]?.values[0];
          expect(comma?.value).toBe(Number(text));
          expect(point?.value).toBe(Number(text));
          expect(comma?.rounding).toBe(point?.rounding);
        },
      ),
    );
  });
});
