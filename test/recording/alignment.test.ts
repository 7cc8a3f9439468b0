import { describe, expect, test } from 'vitest';
import { codes, read, refusal, times, values } from './helpers.ts';

// Headers that leave out the name of a column: common practice, no source. Expected values are read off by hand.

/** A cooling with a little noise, in hundredths. */
const cooling = (i: number): string => (60 - i / 5 + ((7 * i) % 5) / 50).toFixed(2);
const lines = (n: number, row: (i: number) => string): string =>
  Array.from({ length: n }, (_, i) => `${row(i)}\n`).join('');

describe('rows that begin with their number, which the header does not name', () => {
  const comma = (text: string): string => text.replaceAll('.', ',');
  const rows = (n: number, step = 0.05): string =>
    lines(n, (i) => `${i + 1};${(i * step).toFixed(2)};${cooling(i)}`);

  test.each([
    ['an empty last name and decimal commas', `Time [s];Junction [°C];\n${comma(rows(30))}`],
    ['no last name', `Time [s];Junction [°C]\n${rows(30)}`],
    ['tabs and decimal points', `Time [s]\tJunction [°C]\t\n${rows(30).replaceAll(';', '\t')}`],
    ['a row of units', `Time;Junction;\ns;°C;\n${rows(30)}`],
    ['names without units', `Sample rate: 20 Hz;;\nTime;Junction;\n${rows(30)}`],
    ['delimiters at the end', `Time [s];Junction [°C];;\n${rows(30).replaceAll('\n', ';\n')}`],
    ['a logger that began again', `Time [s];Junction [°C];\n${rows(15)}Time [s];Junction [°C];\n${rows(30)}`],
  ])('%s', (_, file) => {
    const recording = read(file, file.includes('°') ? {} : { unit: 'degC' });
    expect(recording.channel).toEqual({ column: 3, name: 'Junction', unit: 'degC' });
    expect(recording.dialect.time).toEqual({ kind: 'column', column: 2, format: 'seconds' });
    expect(recording.rate).toBe(20);
    expect(values(recording)).toEqual(Array.from({ length: 30 }, (_, i) => Number(cooling(i))));
  });

  test('times cut to hundredths, several rows to one', () => {
    const file = lines(
      200,
      (i) => `${i + 1};${(Math.floor((100 * i) / 256) / 100).toFixed(2)};${cooling(i)}`,
    );
    const recording = read(`Sample rate: 256 Hz;;\nTime [s];Junction [°C];\n${file}`);
    expect(recording.channel).toEqual({ column: 3, name: 'Junction', unit: 'degC' });
    expect(recording.rate).toBe(256);
  });

  test('a sensor alone', () => {
    const file = `Sample rate: 20 Hz;\nJunction [°C];\n${lines(30, (i) => `${i + 1};${cooling(i)}`)}`;
    expect(read(file).channel).toEqual({ column: 2, name: 'Junction', unit: 'degC' });
    expect(read(file).rate).toBe(20);
  });

  test('a clock', () => {
    const file = `Stamp;Junction [°C];\n${lines(30, (i) => `${i + 1};10:12:${10 + i};${cooling(i)}`)}`;
    expect(read(file).channel).toEqual({ column: 3, name: 'Junction', unit: 'degC' });
    expect(times(read(file)).slice(0, 3)).toEqual([0, 1, 2]);
  });
});

describe('a last column that the header does not name', () => {
  test.each([
    ['numbers', (i: number) => ((3 * i) % 7).toFixed(1)],
    ['words', () => 'ok'],
  ])('behind seconds that count: %s', (_, last) => {
    for (const header of ['Time [s];Junction [°C];', 'Time [s];Junction [°C]']) {
      const recording = read(`${header}\n${lines(30, (i) => `${i + 1};${cooling(i)};${last(i)}`)}`);
      expect(recording.channel).toEqual({ column: 2, name: 'Junction', unit: 'degC' });
      expect(recording.rate).toBe(1);
    }
  });

  test('behind a number of the row that has a name', () => {
    const file = `Sample rate: 20 Hz;;\nSample;Junction [°C];\n${lines(30, (i) => `${i + 1};${cooling(i)};${(i % 3) / 2}`)}`;
    expect(read(file).channel.column).toBe(2);
    expect(read(file).rate).toBe(20);
  });
});

test.each(['-;°C;', '#;°C;', ';°C;'])('units below names that stand where they belong: %s', (units) => {
  const file = `Sample rate: 20 Hz;;\nSample;Reading;Flag\n${units}\n${lines(30, (i) => `${i + 1};${cooling(i)};${(i % 3) / 2}`)}`;
  expect(read(file).channel).toEqual({ column: 2, name: 'Reading', unit: 'degC' });
});

test('an empty first name stands for the number of the row', () => {
  const file = `Sample rate: 20 Hz;;;\n;Reading [°C];Room [°C];\n${lines(30, (i) => `${i + 1};${cooling(i)};21.5;${(i % 3) / 2}`)}`;
  expect(read(file).channel).toEqual({ column: 2, name: 'Reading', unit: 'degC' });
});

test('names that fit one column as well as the next are used for none', () => {
  const file = `Sample rate: 20 Hz;;\nRun;Reading;\n${lines(30, (i) => `${i + 1};${cooling(i)};${(i % 3) / 2}`)}`;
  expect(refusal(file).code).toBe('channel-needed');
  const recording = read(file, { channel: 2, unit: 'degC' });
  expect(recording.channel).toEqual({ column: 2, name: 'column 2', unit: 'degC' });
  expect(recording.rate).toBe(20);
});

test('date and time below one name and an empty one', () => {
  const file = `Date and time;Junction [°C];\n${lines(30, (i) => `09.03.2026;10:12:${10 + i};${cooling(i)}`)}`;
  expect(read(file).channel).toEqual({ column: 3, name: 'Junction', unit: 'degC' });
  expect(codes(read(file))).toEqual([]);
});
