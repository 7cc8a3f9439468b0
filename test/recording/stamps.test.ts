import { describe, expect, test } from 'vitest';
import { codes, message, read, refusal, times, values } from './helpers.ts';

// Stamps as spreadsheets and coarse clocks leave them: common practice, no source. Expected values by hand.

const cooling = (i: number): string => (60 - i / 50 + ((7 * i) % 5) / 50).toFixed(2);
const two = (x: number): string => String(x).padStart(2, '0');
const lines = (n: number, stamp: (i: number) => string): string =>
  Array.from({ length: n }, (_, i) => `${stamp(i)};${cooling(i)}\n`).join('');

/** 10:12:31 and so many seconds on, to the minute. */
const toTheMinute = (seconds: number, hours = 10): string => {
  const minutes = 12 + Math.floor((31 + seconds) / 60);
  return `09.03.2026 ${two(hours)}:${two(minutes)}`;
};

function expectEven(found: readonly number[], rate: number): void {
  const off = found.map((t, i) => Math.abs(t - i / rate));
  expect(Math.max(...off)).toBeLessThan(1 / rate);
}

describe('minutes, seconds and a tenth', () => {
  const stamp = (tenths: number, mark: string): string =>
    `${two(Math.floor(tenths / 600) % 60)}:${two(Math.floor(tenths / 10) % 60)}${mark}${tenths % 10}`;
  const started = 'Started: 2026-03-09T10:59:58\n';

  test.each([
    [',', ',', ';'],
    ['.', '.', ';'],
    ['.', '.', ','],
    [',', ',', '\t'],
  ])('with the mark %s between %s and %s', (mark, decimal, delimiter) => {
    const rows = Array.from(
      { length: 50 },
      (_, i) => `${stamp(7300 + i, mark)}${delimiter}${cooling(i).replace('.', decimal)}\n`,
    );
    const recording = read(`Clock time${delimiter}Junction [°C]\n${rows.join('')}`);
    expect(recording.channel).toEqual({ column: 2, name: 'Junction', unit: 'degC' });
    expect(recording.rate).toBe(10);
    expect(values(recording).slice(0, 2)).toEqual([Number(cooling(0)), Number(cooling(1))]);
    expect(codes(recording)).toEqual([]);
  });

  test('go on over the full hour, which they do not show', () => {
    const recording = read(`${started}Clock time;Junction [°C]\n${lines(50, (i) => stamp(35980 + i, '.'))}`);
    expect(recording.duration).toBeCloseTo(4.9, 9);
    expect(recording.samples).toBe(50);
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(message(recording, 'time-repaired')).toContain('passed a full hour once (line 23)');
  });

  test('leave the start to the header', () => {
    const file = `Clock time;Junction [°C]\n${lines(50, (i) => stamp(35980 + i, '.'))}`;
    expect(read(`${started}${file}`).startedAt).toBe('2026-03-09T10:59:58');
    expect(read(file).startedAt).toBeNull();
  });
});

test('a time in no known spelling does not let the cells be parted elsewhere', () => {
  const rows = Array.from(
    { length: 30 },
    (_, i) => `10h12m${10 + i},5;${cooling(i).replace('.', ',')}\n`,
  ).join('');
  expect(refusal(`Clock;Junction [°C]\n${rows}`).code).toBe('rate-needed');
  const recording = read(`Sample rate: 1 Hz;\nClock;Junction [°C]\n${rows}`);
  expect(recording.channel).toEqual({ column: 2, name: 'Junction', unit: 'degC' });
  expect(recording.rate).toBe(1);
});

describe('stamps of which none is seen whole', () => {
  const rate = 50;
  const file = (n: number): string => `Stamp;Junction [°C]\n${lines(n, (i) => toTheMinute(i / rate))}`;

  test('do not tell the rate: it is asked for', () => {
    // 29 s of the first minute and 31 s of the next.
    const error = refusal(file(60 * rate));
    expect(error.code).toBe('rate-needed');
    expect(error.message).toContain('come every 60 s');
    expect(error.mend).toContain('--rate');
  });

  test.each([
    ['stated', `Sample rate: ${rate} Hz\n`, {}, 'stated in line 1, 50 Hz'],
    ['given', '', { rate }, 'given, 50 Hz'],
  ])('the rate is %s', (_, head, options, said) => {
    const recording = read(`${head}${file(60 * rate)}`, options);
    expect(recording.rate).toBe(rate);
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(message(recording, 'time-repaired')).toContain(said);
    expectEven(times(recording), rate);
  });

  test('the header’s rate holds where the head of a long file ends within a minute', () => {
    // 15 360 rows of 23 bytes in a minute are 353 KB; a head of 256 KiB ends in the second minute.
    const recording = read(
      `Sample rate: 256 Hz\nStamp;Junction [°C]\n${lines(40_000, (i) => toTheMinute(i / 256))}`,
    );
    expect(recording.rate).toBe(256);
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(recording.samples).toBe(40_000);
    expect(recording.duration).toBeCloseTo(39_999 / 256, 3);
  });

  test('nor where it ends within the first minute', () => {
    const recording = read(
      `Sample rate: 1000 Hz\nStamp;Junction [°C]\n${lines(40_000, (i) => toTheMinute(i / 1000))}`,
    );
    expect(recording.rate).toBe(1000);
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(message(recording, 'time-repaired')).not.toContain('NaN');
    expect(recording.duration).toBeCloseTo(39.999, 3);
  });

  test('a rate that the rows of one stamp contradict is asked about', () => {
    const error = refusal(`Sample rate: 10 Hz\n${file(60 * rate)}`);
    expect(error.code).toBe('rate-needed');
    expect(error.message).toContain('10 Hz stated in line 1');
    expect(read(`Sample rate: 10 Hz\n${file(60 * rate)}`, { rate }).rate).toBe(rate);
  });
});

test.each([
  ['back', 9],
  ['forward', 11],
])('a clock put %s an hour within a stamp goes on within it', (way, hours) => {
  // From 10:12:31, 200 s at 10 Hz; the clock is changed after 66 s, 37 s into 10:13.
  const rows = lines(2000, (i) => toTheMinute(i / 10, i < 660 ? 10 : hours));
  const recording = read(`Stamp;Junction [°C]\n${rows}`);
  expect(recording.rate).toBeCloseTo(10, 9);
  expect(recording.samples).toBe(2000);
  expectEven(times(recording), 10);
  expect(recording.remarks.map(({ message }) => message).join()).toContain(
    `put ${way} an hour once (line 662)`,
  );
  expect(recording.remarks.map(({ message }) => message).join()).not.toContain('repeated');
  expect(recording.remarks.map(({ severity }) => severity)).toEqual(['note', 'note']);
});

describe('stamps too coarse to state the rate exactly', () => {
  const hundredths = (per: number) => (i: number) => (Math.floor(i * per * 100 + 1e-9) / 100).toFixed(2);

  test.each([
    ['hundredths of a second', 256, 's', hundredths(1 / 256)],
    ['hundredths of a minute', 256, 'min', hundredths(1 / 256 / 60)],
    ['ten-thousandths of a second, rounded', 60, 's', (i: number) => (i / 60).toFixed(4)],
    ['milliseconds, rounded', 300, 's', (i: number) => (i / 300).toFixed(3)],
  ])('take the rate that the header states: %s', (_, rate, unit, stamp) => {
    const recording = read(`Sample rate: ${rate} Hz\nTime [${unit}];Junction [°C]\n${lines(6000, stamp)}`);
    expect(recording.rate).toBe(rate);
    expect(codes(recording)).not.toContain('rate-disagrees');
  });

  test.each([
    ['another rate than stamps can hide', 250, 256, hundredths(1 / 256)],
    ['stamps that are exact', 99.99, 100, (i: number) => (i / 100).toFixed(3)],
    ['stamps that all have ten samples', 999.9, 1000, hundredths(1 / 1000)],
  ])('but not against %s', (_, stated, rate, stamp) => {
    const recording = read(`Sample rate: ${stated} Hz\nTime [s];Junction [°C]\n${lines(6000, stamp)}`);
    expect(Math.abs(recording.rate / rate - 1)).toBeLessThan(1e-3);
    expect(recording.rate).not.toBe(stated);
  });
});
