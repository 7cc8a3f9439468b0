import { describe, expect, test } from 'vitest';
import { message, read, refusal, times, values } from './helpers.ts';

// Forms of rows that need more than a delimiter: common practice, no source. Expected values by hand.

describe('decimal commas between commas', () => {
  const rows = Array.from({ length: 30 }, (_, i) => `0,${String(i).padStart(2, '0')},20,${40 + (i % 7)}\n`);
  const file = `Zeit,Temp\n${rows.join('')}`;

  test('are refused with what to do', () => {
    const error = refusal(file);
    expect(error.code).toBe('numbers-ambiguous');
    expect(error.message).toContain('The header names 2 columns');
    expect(error.message).toContain('"0,00,20,40" have 4 whole numbers');
    expect(error.mend).toContain('tabs or semicolons');
    expect(error.mend).toContain('--decimal ,');
  });

  test.each([{ decimal: ',' as const }, { decimal: ',' as const, delimiter: ',' as const }])(
    'are read in pairs where the caller says so: %j',
    (options) => {
      const recording = read(file, options);
      expect(recording.channel).toMatchObject({ column: 2, name: 'Temp' });
      expect(recording.samples).toBe(30);
      expect(recording.dialect).toMatchObject({ delimiter: ',', decimal: ',', firstDataLine: 2 });
      times(recording).forEach((t, i) => {
        expect(t).toBeCloseTo(i / 100, 12);
      });
      values(recording).forEach((value, i) => {
        expect(value).toBe((2040 + (i % 7)) / 100);
      });
    },
  );

  test('three columns, signs and an unfinished last line', () => {
    const three = rows.map((row) => `${row.trim()},-3,5\n`).join('');
    const recording = read(`Zeit,Temp,U\n${three}0,30,20`, { decimal: ',', channel: 'U' });
    expect(recording.samples).toBe(30);
    expect(new Set(values(recording))).toEqual(new Set([-3.5]));
  });

  test('a row that does not come out even later on is left out, not misread', () => {
    const many = Array.from({ length: 900 }, (_, i) => `${Math.floor(i / 10)},${i % 10},20,5\n`);
    many[300] = '30,0,20\n';
    const recording = read(`Zeit,Temp\n${many.join('')}`, { decimal: ',' });
    expect(recording.samples).toBe(899);
    expect(new Set(values(recording))).toEqual(new Set([20.5]));
    expect(message(recording, 'samples-dropped')).toContain('line 302');
  });

  test('rows that do not come out even are refused even so', () => {
    const uneven = [...rows];
    uneven[7] = '0,07,20\n';
    for (const options of [{}, { decimal: ',' as const }]) {
      const error = refusal(`Zeit,Temp\n${uneven.join('')}`, options);
      expect(error.code).toBe('numbers-ambiguous');
      expect(error.mend).toContain('tabs or semicolons');
    }
  });

  test('behind a time of day they are refused as well', () => {
    const stamped = rows.map((row, i) => `2026-03-02T10:00:${String(i).padStart(2, '0')}.5,${row}`).join('');
    const error = refusal(`Zeit,Temp,Luft\n${stamped}`);
    expect(error.code).toBe('numbers-ambiguous');
    expect(error.message).toContain('The header names 3 columns');
    expect(error.message).toContain('have 4 whole numbers');
    const named = read(`Zeit,A,B,Temp,Luft\n${stamped}`, { channel: 'Luft' });
    expect(named.samples).toBe(30);
    expect(values(named)[1]).toBe(41);
  });

  test('whole numbers where the caller says so', () => {
    expect(read(file, { decimal: '.', channel: 3, timeColumn: 2, timeUnit: 'ms' }).samples).toBe(30);
  });

  test('four columns of whole numbers with four names are whole numbers', () => {
    const recording = read(
      `ms,Fan,Temp,Room\n${rows.map((row, i) => row.replace('0,', `${10 * i},`)).join('')}`,
    );
    expect(recording.rate).toBe(100);
    expect(recording.channel.name).toBe('Temp');
  });
});

describe('what a serial monitor writes', () => {
  const stamp = (i: number): string => `09:59:${String(30 + Math.floor(i / 10))}.${i % 10}00`;
  const lines = (form: (i: number) => string): string =>
    Array.from({ length: 40 }, (_, i) => `${form(i)}\n`).join('');
  const value = (i: number): string => (22 + (i % 4) / 4).toFixed(2);

  test.each([
    ['a name and a unit', (i: number) => `${stamp(i)} -> T=${value(i)} C`, 'T', 'degC'],
    ['a name with a colon', (i: number) => `${stamp(i)} -> Temp: ${value(i)} °C`, 'Temp', 'degC'],
    ['a number', (i: number) => `${stamp(i)} -> ${value(i)}`, 'column 2', null],
    ['two numbers', (i: number) => `${stamp(i)} -> T=${value(i)} C, H=40.1 %`, 'T', 'degC'],
    ['two numbers after spaces', (i: number) => `${stamp(i)} -> T1=${value(i)} room=21.0`, 'T1', null],
  ])('%s', (_, form, name, unit) => {
    const recording = read(lines(form));
    expect(recording.channel).toEqual({ column: 2, name, unit });
    expect(recording.samples).toBe(40);
    expect(recording.rate).toBeCloseTo(10, 6);
    expect(recording.dialect.time).toMatchObject({ column: 1, format: 'time-of-day' });
    values(recording).forEach((x, i) => {
      expect(x).toBe(Number(value(i)));
    });
  });

  test('names and units without a time stamp', () => {
    const recording = read(
      lines((i) => `T=${value(i)} C`),
      { rate: 10 },
    );
    expect(recording.channel).toEqual({ column: 1, name: 'T', unit: 'degC' });
    expect(recording.samples).toBe(40);
    expect(recording.dialect.delimiter).toBe('space');
    const two = read(lines((i) => `ms=${100 * i},T=${value(i)}`));
    expect(two.rate).toBeCloseTo(10, 12);
    expect(two.channel).toEqual({ column: 2, name: 'T', unit: null });
  });

  test('lines of text among them are counted and left out', () => {
    const recording = read(
      `09:59:29.900 -> Ready\n${lines((i) => (i === 20 ? `${stamp(i)} -> sensor checked` : `${stamp(i)} -> T=${value(i)} C`))}`,
    );
    expect(recording.samples).toBe(39);
    expect(message(recording, 'samples-dropped')).toContain('line 22');
  });
});
