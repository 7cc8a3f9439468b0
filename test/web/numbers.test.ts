import { describe, expect, it } from 'vitest';
import { halfWidth, measuredWords, mostDecimals, splitAtMark } from '../../web/src/frame/numbers.ts';
import { csvOf } from '../../web/src/frame/table-csv.ts';

describe('numbers as they are written', () => {
  it('rounds value and uncertainty together', () => {
    // Two figures of the uncertainty (JCGM 100:2008, 7.2.6).
    expect(measuredWords(37.284, 0.412, 's')).toMatchObject({
      value: '37.28',
      uncertainty: '0.41',
      scale: '',
    });
    expect(measuredWords(37.284, 0.412, 's').text).toBe('(37.28 ± 0.41) s');
  });

  it('keeps a power of ten apart', () => {
    const { value, uncertainty, scale } = measuredWords(1.234e-6, 2e-8, 'm');
    expect([value, uncertainty, scale]).toEqual(['1.234', '0.020', ' × 10⁻⁶']);
  });

  it('cuts at the decimal mark', () => {
    expect(splitAtMark('37.28')).toEqual({ whole: '37', part: '.28' });
    expect(splitAtMark('1230')).toEqual({ whole: '1230', part: '' });
    expect(mostDecimals(['1230', '37.28', '4.5'])).toBe(2);
    expect(mostDecimals([])).toBe(0);
  });

  it('takes half of an interval', () => {
    expect(halfWidth([36.9, 37.7])).toBeCloseTo(0.4, 12);
  });
});

describe('a table as CSV', () => {
  const columns = [
    { name: 'Recording', unit: null },
    { name: 'Time', unit: 's' },
  ];

  it('quotes what RFC 4180 wants quoted', () => {
    const table = {
      caption: '',
      columns,
      rows: [
        ['a "b", c', 1.5],
        [null, null],
      ],
    };
    expect(csvOf(table)).toBe('Recording,Time (s)\r\n"a ""b"", c",1.5\r\n,\r\n');
  });

  it('lets no text become a formula of a spreadsheet', () => {
    expect(csvOf({ caption: '', columns, rows: [['=1+1', -2]] })).toContain("'=1+1,-2");
  });
});
