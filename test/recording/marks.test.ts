import { describe, expect, test } from 'vitest';
import { codes, message, read, refusal, times, values } from './helpers.ts';

// Which marks mean no reading is common practice, no source, but for 9.9E37 and 9.91E37: SCPI-1999, volume 1,
// 7.2.1.4 and 7.2.1.5 (from memory).

const good = Array.from({ length: 10 }, (_, i) => `${(i / 10).toFixed(1)},${20 + i}.25`);

function withCell(cell: string): string {
  return `Time (s),T (°C)\n${good.join('\n')}\n1.0,${cell}\n1.1,31.5\n`;
}

describe('cells that are no readings are dropped and counted by kind', () => {
  test.each([
    [
      'overload',
      [
        '9.9E37',
        '-9.9E37',
        '+9.90000000E+37',
        '1.#INF',
        '-1.#INF',
        '1.#INF00',
        'inf',
        '-Infinity',
        'OL',
        'O.L.',
        '-OL',
        'Over',
        'OVLD',
        'overload',
        'Overflow',
        'OVER RANGE',
        'underrange',
        '1e999',
        '∞',
        'open',
      ],
    ],
    [
      'not-a-number',
      [
        '9.91E37',
        '9.91000000E+37',
        '-9.91E+37',
        '1.#QNAN',
        '-1.#IND',
        '1.#IND00',
        '-1.#QNAN0',
        'NaN',
        'nan',
        '-NaN',
        'NAN',
        '#N/A',
        'n/a',
        'null',
        '---',
        '-',
        '--.--'.slice(0, 2),
        '***',
        '????',
        '#NUM!',
        'invalid',
      ],
    ],
    ['blank', ['', ' ', '\u00a0']],
  ])('%s', (kind, cells) => {
    for (const cell of cells) {
      const recording = read(withCell(cell));
      expect(recording.samples, cell).toBe(11);
      expect(recording.blocks.cell.at(-1), cell).toBe(11);
      expect(message(recording, 'samples-dropped'), cell).toMatch(new RegExp(`1 ${kind} .*\\(line 12\\)`));
      expect(codes(recording), cell).not.toContain('gaps');
    }
  });

  test.each([
    '12,34',
    '21.3.4',
    '1 2',
    '21.5x!',
    '0x1F',
    '1_000',
    '٣',
    '1e',
    '--5',
    '+-5',
    '1e5.5',
    '21.5 V',
  ])('"%s" is not partly read as a number', (cell) => {
    const recording = read(withCell(`"${cell}"`));
    expect(recording.samples).toBe(11);
    expect(message(recording, 'samples-dropped')).toContain('1 unreadable value (line 12)');
  });

  test('a comma too many makes a cell too many, not another number', () => {
    const recording = read(withCell('21,5'));
    expect(recording.samples).toBe(11);
    expect(message(recording, 'samples-dropped')).toContain('1 row with too many cells (line 12)');
  });

  test.each(['OL', '9.9E37', '-OVLD', '1.#INF'])('a long run of %s says that the range was left', (mark) => {
    // Every 0.1 s; marks from 30.0 to 44.9 s, and five in a row at 60 s, which may be interference.
    const overloaded = (i: number) => (i >= 300 && i < 450) || (i >= 600 && i < 605);
    const rows = Array.from({ length: 1000 }, (_, i) => `${i / 10},${overloaded(i) ? mark : '20.5'}`);
    const { remarks } = read(`Time (s),T (°C)\n${rows.join('\n')}\n`);
    const clipped = remarks.filter((remark) => remark.code === 'clipped');
    expect(clipped).toHaveLength(1);
    expect(clipped[0]).toMatchObject({ severity: 'caution', at: { from: 30, to: 44.9 } });
    expect(clipped[0]?.message).toContain('150 overload marks in a row from 30 to 44.9 s');
  });

  test('runs of overload marks are counted from the first usable sample, and joined by other losses', () => {
    const cell = (i: number) => {
      if (i < 8 || (i >= 58 && i < 78)) return i === 64 ? 'NaN' : 'OL';
      return '20.5';
    };
    const rows = Array.from({ length: 200 }, (_, i) => `${i / 10},${cell(i)}`);
    const text = message(read(`Time (s),T (°C)\n${rows.join('\n')}\n`), 'clipped');
    expect(text).toContain('27 overload marks in 2 runs, the longest of 19 from 5 to 6.9 s');
  });

  test('lost readings and single overload marks do not say so', () => {
    const cell = (i: number) => (i >= 300 && i < 450 ? 'NaN' : i % 10 === 0 ? 'OL' : '20.5');
    const rows = Array.from({ length: 1000 }, (_, i) => `${i / 10},${cell(i)}`);
    expect(codes(read(`Time (s),T (°C)\n${rows.join('\n')}\n`))).not.toContain('clipped');
  });

  test('few are a note, many a caution, and lines are listed up to three', () => {
    const rows = Array.from({ length: 1000 }, (_, i) => `${i / 10},${i % 500 === 3 ? 'OL' : '20.5'}`);
    const few = read(`Time (s),T (°C)\n${rows.join('\n')}\n`).remarks[0];
    expect(few).toMatchObject({ code: 'samples-dropped', severity: 'note' });
    expect(few?.message).toContain('2 overload marks (lines 5, 505)');
    const many = rows.map((row, i) => (i % 10 === 0 ? `${i / 10},` : row)).join('\n');
    const caution = read(`Time (s),T (°C)\n${many}\n`).remarks[0];
    expect(caution).toMatchObject({ code: 'samples-dropped', severity: 'caution' });
    expect(caution?.message).toContain('100 blank values (lines 2, 12, 22 and more)');
  });

  test('a column of nothing but marks is refused', () => {
    const error = refusal('Time (s),T (°C),U (bar)\n0.0,OL,1\n0.1,OL,1\n0.2,OL,1\n');
    expect(error.code).toBe('no-numbers');
    expect(error.message).toContain('"T"');
  });

  test('marks at the start do not move the first sample off zero', () => {
    const recording = read('Time (s),T (°C)\n0.0,OL\n0.1,OL\n0.2,20.5\n0.3,21.5\n0.4,22.5\n');
    expect(times(recording)[0]).toBe(0);
    expect(recording.blocks.cell[0]).toBe(0);
    expect(recording.duration).toBeCloseTo(0.2, 12);
  });
});

describe('spellings of numbers', () => {
  test.each([
    ['+21.5', 21.5],
    ['-21.5', -21.5],
    ['\u221221.5', -21.5],
    ['2.15E1', 21.5],
    ['2.15e+01', 21.5],
    ['215e-1', 21.5],
    ['2.15D+01', 21.5],
    ['.5', 0.5],
    ['-.5', -0.5],
    ['21.', 21],
    ['"21.5"', 21.5],
    ['  21.5  ', 21.5],
    ['0021.50', 21.5],
    ['0.1234567890123456789', Number('0.1234567890123456789')],
    ['123456789012345678901', Number('123456789012345678901')],
    ['4.9e-324', 4.9e-324],
  ])('%s', (cell, value) => {
    const recording = read(withCell(cell));
    expect(values(recording)[10]).toBe(value);
    expect(codes(recording)).toEqual([]);
  });

  test('a unit behind every number', () => {
    const recording = read('Time;T\n0.0 s;21.3 °C\n0.5 s;21.4 °C\n1.0 s;n/a\n1.5 s;21.6 °C\n');
    expect(values(recording)).toEqual([21.3, 21.4, 21.6]);
    expect(recording.channel.unit).toBe('degC');
    expect(recording.rate).toBe(2);
  });

  test('another unit behind a number is not taken', () => {
    const recording = read('Time (s);T\n0.0;21.3 °C\n0.5;21.4 °C\n1.0;70.5 °F\n1.5;21.6 °C\n');
    expect(values(recording)).toEqual([21.3, 21.4, 21.6]);
    expect(message(recording, 'samples-dropped')).toContain('unreadable value (line 4)');
  });

  test('numbers that became dates', () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${i / 10};${i % 10 === 4 ? '3/4' : '20.5'}`).join(
      '\n',
    );
    const recording = read(`Time (s);T (°C)\n${rows}\n`);
    expect(codes(recording)).toEqual(['dates-suspect', 'samples-dropped']);
  });
});

describe('comments and restarts', () => {
  test('comments among the numbers are left out, and that is said', () => {
    const recording = read(
      'Time (s),T (°C)\n0.0,20.5\n0.1,21.5\n# heat off\n0.2,22.5\nheat off here\n0.3,23.5\n',
    );
    expect(values(recording)).toEqual([20.5, 21.5, 22.5, 23.5]);
    const [remark] = recording.remarks;
    expect(remark).toMatchObject({ code: 'samples-dropped', severity: 'note' });
    expect(remark?.message).toContain('2 lines of text among the numbers (lines 4, 6)');
  });

  const part = (n: number, from: number) =>
    Array.from({ length: n }, (_, i) => `${i / 10},${from + i}\n`).join('');

  test('a header again and time from zero: parts, the longest is taken', () => {
    const file = `Logger 7\nTime (s),T (°C)\n${part(5, 100)}\nLogger 7\nTime (s),T (°C)\n${part(9, 200)}Logger 7\nTime (s),T (°C)\n${part(3, 300)}`;
    const recording = read(file);
    expect(values(recording)[0]).toBe(200);
    expect(recording.samples).toBe(9);
    expect(message(recording, 'header-repeated')).toContain(
      'began 3 times: line 3 (0.4 s), line 11 (0.8 s), line 22 (0.2 s); part 2 from line 11',
    );
    expect(values(read(file, { segment: 1 }))[0]).toBe(100);
    expect(values(read(file, { segment: 3 }))[0]).toBe(300);
    expect(refusal(file, { segment: 4 }).code).toBe('segment-unknown');
  });

  test('of parts of one length the last is taken', () => {
    expect(values(read(`Time (s),T (°C)\n${part(5, 100)}Time (s),T (°C)\n${part(5, 200)}`))[0]).toBe(200);
  });

  test('time from zero without a header', () => {
    const recording = read(`Time (s),T (°C)\n${part(50, 100)}${part(20, 200)}`);
    expect(recording.samples).toBe(50);
    expect(codes(recording)).toEqual(['header-repeated']);
  });

  test('a header on every page, while time goes on, parts nothing', () => {
    const rows = Array.from(
      { length: 100 },
      (_, i) => `${i / 10},${i}\n${i % 20 === 19 ? 'Time (s),T (°C)\n' : ''}`,
    ).join('');
    const recording = read(`Time (s),T (°C)\n${rows}`);
    expect(recording.samples).toBe(100);
    expect(recording.remarks).toEqual([]);
  });

  test('the start of a later part is its own', () => {
    const file =
      'Stamp,T (°C)\n2024-03-01 10:00:00,1\n2024-03-01 10:00:01,2\nStamp,T (°C)\n2024-03-01 10:30:00,3\n2024-03-01 10:30:01,4\n2024-03-01 10:30:02,5\n';
    expect(read(file).startedAt).toBe('2024-03-01T10:30:00');
    expect(read(file, { segment: 1 }).startedAt).toBe('2024-03-01T10:00:00');
  });
});
