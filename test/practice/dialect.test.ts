import { createHash } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import type {
  BenchReadings,
  DialectName,
  SimulatedLogger,
  SimulatedOutput,
} from '../../src/practice/bench-types.ts';
import { type DialectInfo, dialects } from '../../src/practice/dialect.ts';
import { lastPartStart, recordingBytes } from '../../src/practice/write-recording.ts';
import { createReader, type ReadOptions, type Recording } from '../../src/recording/index.ts';
import { benchTrial } from './bench.ts';

const simulated = simulateRecording(benchTrial);
const again = simulateRecording(benchTrial);

/** The same readings, written by another logger. */
function written(logger: Partial<SimulatedLogger>, readings: BenchReadings = simulated): BenchReadings {
  return { ...readings, trial: { ...readings.trial, logger: { ...readings.trial.logger, ...logger } } };
}

const simulateWith = (output: SimulatedOutput) =>
  simulateRecording({ ...benchTrial, chain: { ...benchTrial.chain, output } });

const bytesOf = (readings: BenchReadings) => Buffer.concat([...recordingBytes(readings)]);
const hashOf = (readings: BenchReadings) => createHash('sha256').update(bytesOf(readings)).digest('hex');
const textOf = (dialect: DialectName, logger: Partial<SimulatedLogger> = {}) =>
  bytesOf(written({ dialect, ...logger })).toString(
    logger.resaved === true || dialect === 'semicolon-comma'
      ? 'latin1'
      : dialect === 'utf-16'
        ? 'utf16le'
        : 'utf8',
  );

/** What a caller must say because the file does not. */
function needed(dialect: DialectInfo, readings: BenchReadings): ReadOptions {
  const { logger, chain } = readings.trial;
  return {
    name: dialect.name,
    ...(dialect.statesRate || dialect.writesTime ? {} : { rate: logger.rate }),
    ...(dialect.statesUnit ? {} : { unit: chain.output.unit }),
  };
}

function readBack(readings: BenchReadings, options: ReadOptions): Recording {
  const reader = createReader(options);
  for (const piece of recordingBytes(readings)) reader.push(piece);
  return reader.finish();
}

/** Readings that a file leaves out: what a cut takes, what marks stand for, what stands in an earlier part. */
const leftOut: Partial<Record<DialectName, number>> = {
  'cut-last-line': 1,
  'overload-words': 3,
  'indefinite-words': 3,
  'overload-numbers': 3,
  restarted: 60,
};

const volts: BenchReadings = simulateRecording({
  ...benchTrial,
  length: 60,
  chain: {
    ...benchTrial.chain,
    output: {
      kind: 'volts',
      unit: 'mV',
      type: 'T',
      reference: 23,
      compensated: false,
      gain: 200,
      zero: 0.1,
      range: { from: -0.5, to: 1.5 },
      bits: 14,
    },
  },
  logger: { ...benchTrial.logger, rate: 50 },
});

describe.each(dialects)('dialect $name', (dialect) => {
  const { name } = dialect;

  test.each([
    // A step of 0.01 has two decimals; 2000 mV over 2^14 codes are 0.12 mV, which takes one and one more.
    { of: 'degrees', readings: written({ dialect: name }), decimals: 2 },
    { of: 'volts', readings: written({ dialect: name }, volts), decimals: 2 },
  ])('is read back with rate, unit and all values: $of', ({ readings, decimals }) => {
    const { trial, logged } = readings;
    const recording = readBack(readings, needed(dialect, readings));
    const { rate } = trial.logger;
    expect(Math.abs(recording.rate / rate - 1)).toBeLessThan(1e-6);
    expect(recording.channel.unit).toBe(trial.chain.output.unit);
    const missing = name === 'restarted' ? lastPartStart(trial) * rate : (leftOut[name] ?? 0);
    expect(recording.samples).toBe(logged.length - missing);
    const first = Math.round(lastPartStart(trial) * rate);
    const { blocks } = recording;
    expect(blocks.width).toBeCloseTo(1 / rate, 9);
    const expected = Array.from(blocks.cell, (cell) =>
      Number((logged[first + cell] ?? Number.NaN).toFixed(decimals)),
    );
    expect([...blocks.mean]).toEqual(expected);
    expect(recording.duration).toBeCloseTo(
      (logged.length - 1 - first - (name === 'cut-last-line' ? 1 : 0)) / rate,
      2,
    );
  });

  test('is the same bytes for the same trial', () => {
    expect(hashOf(written({ dialect: name }, again))).toBe(hashOf(written({ dialect: name })));
  });

  test('says truly whether it states rate, unit and time', () => {
    const text = textOf(name, { statedRate: 17 });
    expect(/17 Hz/.test(text)).toBe(dialect.statesRate);
    expect(/°C|degC/.test(text)).toBe(dialect.statesUnit);
    const recording = readBack(written({ dialect: name, statedRate: 17 }), {
      ...needed(dialect, simulated),
      ...(dialect.statesRate ? {} : { rate: 17 }),
    });
    const own = recording.dialect.time.kind === 'column';
    expect(own || recording.remarks.some((remark) => remark.code === 'rate-disagrees')).toBe(
      dialect.writesTime,
    );
  });
});

describe('a list of dialects', () => {
  test('says in one line what each is', () => {
    expect(new Set(dialects.map(({ about }) => about)).size).toBe(dialects.length);
    for (const { about } of dialects) expect(about).toMatch(/^[\w.][^\n]{15,100}$/);
  });
});

describe('what a dialect is for', () => {
  const rows = (text: string) => text.split(/\r?\n/);

  test.each([
    ['byte-order-mark', [0xef, 0xbb, 0xbf, 0x54]],
    ['utf-16', [0xff, 0xfe, 0x42, 0x00]],
  ] as const)('%s begins with its mark', (name, first) => {
    expect([...bytesOf(written({ dialect: name })).subarray(0, first.length)]).toEqual(first);
  });

  test('a sign of degrees takes one byte in one encoding and two in another', () => {
    expect(
      bytesOf(written({ dialect: 'semicolon-comma' })).includes(Buffer.from('[\u00b0C]', 'latin1')),
    ).toBe(true);
    expect(bytesOf(written({ dialect: 'plain-tab' })).includes(Buffer.from('[\u00b0C]', 'utf8'))).toBe(true);
  });

  test('head and rows of some', () => {
    expect(rows(textOf('plain-tab')).slice(0, 4)).toEqual([
      'Bench: Thornwick, bench 2',
      'Sample rate: 20 Hz',
      'Started: 2026-03-09T10:12:31',
      'Time [s]\tJunction [°C]',
    ]);
    expect(rows(textOf('bare-column'))[0]).toMatch(/^\d\d\.\d\d$/);
    expect(rows(textOf('semicolon-comma'))[4]).toMatch(/^0,00;\d\d,\d\d$/);
    expect(rows(textOf('comment-block')).filter((row) => row.startsWith('#')).length).toBeGreaterThan(20);
    expect(rows(textOf('milliseconds'))[5]).toMatch(/^50,\d\d\.\d\d$/);
    expect(rows(textOf('sample-number'))[5]).toMatch(/^2\t\d\d\.\d\d$/);
    expect(rows(textOf('trailing-delimiter'))[4]).toMatch(/^0\.00,\d\d\.\d\d,$/);
    expect(rows(textOf('unnamed-column'))[4]).toMatch(/^1\t0\.00\t\d\d\.\d\d$/);
    expect(rows(textOf('spaces'))[6]).toMatch(/^ {10}0\.05 {10}\d\d\.\d\d$/);
    expect(rows(textOf('cycle-counter'))[4]).toMatch(/^0\.00\t98,765\t\d\d\.\d\d$/);
    // 50 Hz at 20 readings a second: five cycles in two readings; 2000 readings are 5000 cycles.
    expect(rows(textOf('cycle-counter'))[2004]).toMatch(/^100\.00\t103,765\t/);
    expect(textOf('blank-lines')).toMatch(/\d\r\n\r\n\r\n\r\n$/);
    expect(textOf('cut-last-line')).toMatch(/120\.\d*\t?\d*$/);
  });

  test('a clock passes midnight a third of the way', () => {
    const lines = rows(textOf('past-midnight'));
    expect(lines[4]).toMatch(/^23:59:20\.00\t/);
    expect(lines.findIndex((line) => line.startsWith('00:00:00.00'))).toBe(4 + 40 * 20);
  });

  test('a clock is put back by an hour', () => {
    const lines = rows(textOf('clock-put-back'));
    expect(lines[4 + 799]).toMatch(/^2026-03-09 10:13:10\.95;/);
    expect(lines[4 + 800]).toMatch(/^2026-03-09 09:13:11\.00;/);
  });

  test('stamps to the second are those that the clock has reached', () => {
    const lines = rows(textOf('repeated-stamps')).slice(4);
    expect(lines.slice(0, 20).every((line) => line.startsWith('2026-03-09 10:12:31,'))).toBe(true);
    expect(lines[20]).toMatch(/^2026-03-09 10:12:32,/);
  });

  test('a logger that begins again does so in the baseline, with its header and from zero', () => {
    const lines = rows(textOf('restarted'));
    const again = lines.indexOf('Time [s]\tJunction [°C]', 5);
    // A fifth of the baseline of 15 s, at 20 Hz.
    expect(again).toBe(4 + 60 + 3);
    expect(lines[again + 1]).toMatch(/^0\.00\t/);
    expect(lines[again - 1]).toBe('Started: 2026-03-09T10:12:34');
  });

  test('a logger that begins again without a baseline has nothing before', () => {
    const trial = { ...benchTrial, heatings: [] };
    const text = bytesOf(written({ dialect: 'restarted' }, { ...simulated, trial })).toString();
    expect(text.split('Sample rate').length).toBe(2);
  });

  test.each([
    ['overload-words', 'OL', '-OL', 'NaN'],
    ['indefinite-words', '1.#INF', '-1.#INF', '-1.#IND'],
    ['overload-numbers', '9.9E37', '-9.9E37', '9.91E37'],
  ] as const)('%s marks what lies outside the range, and a few lost readings', (name, over, under, lost) => {
    const output = {
      kind: 'degrees',
      unit: 'degF',
      step: 0.1,
      range: { from: 21.5, to: 45 },
      mistaken: null,
    } as const;
    const readings = simulateRecording({
      ...benchTrial,
      chain: { ...benchTrial.chain, output },
      logger: { ...benchTrial.logger, dialect: name },
    });
    const cells = rows(bytesOf(readings).toString())
      .slice(4, -1)
      .map((row) => row.split(/[,\t]/)[1]);
    expect(cells.length).toBe(readings.logged.length);
    // 21.5 and 45 °C are 70.7 and 113 °F.
    const expected = [...readings.logged].map((value, i) =>
      value >= 113 ? over : value <= 70.7 ? under : cells[i] === lost ? lost : value.toFixed(1),
    );
    expect(cells).toEqual(expected);
    for (const word of [over, under])
      expect(cells.filter((cell) => cell === word).length).toBeGreaterThan(10);
    expect(cells.filter((cell) => cell === lost).length).toBeLessThanOrEqual(3);
  });

  test('a reference junction is written at its temperature', () => {
    const lines = rows(bytesOf(written({ dialect: 'reference-first' }, volts)).toString());
    expect(lines[3]).toBe('"Time (s)","Reference junction (°C)","Sphere (mV)"');
    const temperatures = lines.slice(4, -1).map((line) => Number(line.split(',')[1]));
    const mean = temperatures.reduce((sum, t) => sum + t, 0) / temperatures.length;
    // Wander of 0.05 K about 23 °C.
    expect(Math.abs(mean - 23)).toBeLessThan(0.2);
  });
});

describe('a file that a spreadsheet has saved again', () => {
  /** What this file needs to be read: a single column leaves open what its commas are. */
  const alsoNeeded: Partial<Record<DialectName, ReadOptions>> = {
    'bare-column': { decimal: ',' },
    'headed-column': { decimal: ',' },
  };

  test.each(dialects)('is read back: $name', (dialect) => {
    const readings = written({ dialect: dialect.name, resaved: true });
    const recording = readBack(readings, { ...needed(dialect, readings), ...alsoNeeded[dialect.name] });
    expect(recording.channel.unit).toBe('degC');
    expect(Math.abs(recording.rate / 20 - 1)).toBeLessThan(1e-6);
    expect(recording.blocks.mean[0]).toBeCloseTo(
      simulated.logged[Math.round(lastPartStart(readings.trial) * 20)] ?? Number.NaN,
      2,
    );
  });

  test('has semicolons, decimal commas, cells for every column, and shorter stamps', () => {
    const lines = (dialect: DialectName) => textOf(dialect, { resaved: true }).split('\r\n');
    expect(lines('plain-tab')[0]).toBe('Bench: Thornwick, bench 2;');
    expect(lines('plain-tab')[5]).toMatch(/^0,05;\d\d,\d\d$/);
    expect(lines('date-time')[4]).toMatch(/^09\.03\.2026 10:12;/);
    expect(lines('date-and-time')[4]).toMatch(/^09\.03\.2026;10:12:31;/);
    expect(lines('time-of-day')[7]).toMatch(/^12:31,2;/);
    expect(lines('indefinite-words').join()).toContain(';-1,#IND');
    expect(lines('comma-header')[0]).not.toContain('"');
  });

  test('has few decimals, but not so few that nothing is left', () => {
    const cells = (readings: BenchReadings) =>
      bytesOf(written({ dialect: 'bare-column', resaved: true }, readings))
        .toString()
        .split('\r\n');
    expect(
      cells(simulateWith({ kind: 'degrees', unit: 'degC', step: 0.0001, range: null, mistaken: null }))[0],
    ).toMatch(/^\d\d,\d\d$/);
    const type = { kind: 'volts', type: 'T', reference: 0, compensated: true, gain: 1, zero: 0 } as const;
    const inVolts = simulateWith({ ...type, unit: 'V', range: { from: 0, to: 0.01 }, bits: 16 });
    // From about 22 to 60 °C, 0.9 to 2.5 mV: steps of a hundredth of that are 1.6e-5 V, and 1e-5 V is the next.
    expect(cells(inVolts)[0]).toMatch(/^0,000\d\d$/);
    expect(new Set(cells(inVolts)).size).toBeGreaterThan(100);
  });
});

describe('times', () => {
  test.each([
    [1, '1\t'],
    [10, '0.1\t'],
    [8, '0.125\t'],
    [1000, '0.001\t'],
    [2500, '0.0004\t'],
    // Not a short decimal: to a hundredth of the period.
    [3, '0.333\t'],
    [60, '0.0167\t'],
  ])('have the decimals that %d Hz takes', (rate, start) => {
    const row = textOf('plain-tab', { rate }).split('\n')[5] ?? '';
    expect(row.startsWith(start)).toBe(true);
  });

  test('count from the first sample at any rate', () => {
    const lines = textOf('plain-tab', { rate: 10_000 }).split('\n');
    expect(lines[4 + 2400]).toMatch(/^0\.2400\t/);
  });
});

describe('what cannot be written', () => {
  test('a start that is no date and time', () => {
    const readings = written({ dialect: 'date-time', startedAt: 'yesterday' });
    expect(() => bytesOf(readings)).toThrow('"yesterday" is no start of a recording');
  });

  test('a bench’s name keeps to its line', () => {
    const text = textOf('plain-tab', { bench: 'one\n0.0\t1\r\u0000two' });
    expect(text.split('\n')[0]).toBe('Bench: one 0.0 1 two');
  });
});
