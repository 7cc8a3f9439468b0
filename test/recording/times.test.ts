import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { codes, message, read, refusal, times, values } from './helpers.ts';

// How loggers write time: common practice, no source. Expected values are read off the files by hand.

function rows(
  n: number,
  time: (i: number) => string,
  value: (i: number) => string = (i) => (20 + i / 10).toFixed(2),
): string {
  return Array.from({ length: n }, (_, i) => `${time(i)};${value(i)}\n`).join('');
}

describe('units of a time column', () => {
  test.each([
    ['Time (ms)', 1e-3, 'milliseconds'],
    ['Time [µs]', 1e-6, 'microseconds'],
    ['time/min', 60, 'minutes'],
    ['Elapsed (h)', 3600, 'hours'],
    ['Zeit in s', 1, 'seconds'],
    ['t_s', 1, 'seconds'],
  ])('%s', (name, unit, format) => {
    const recording = read(`${name};T (°C)\n${rows(5, (i) => String(3 + 2 * i))}`);
    expect(recording.rate).toBeCloseTo(1 / (2 * unit), 9);
    expect(recording.duration).toBeCloseTo(8 * unit, 12);
    expect(recording.dialect.time).toEqual({ kind: 'column', column: 1, format });
  });

  test('a column without a unit that fits the stated rate', () => {
    const recording = read(`Sample rate: 100 Hz\nTime;T (°C)\n${rows(5, (i) => String(10 * i))}`);
    expect(recording.rate).toBe(100);
    expect(message(recording, 'time-assumed')).toContain('ms');
    expect(codes(recording)).not.toContain('rate-disagrees');
  });

  test('a column without a unit in large steps is asked about', () => {
    const file = `Time;T (°C)\n${rows(5, (i) => String(10 * i))}`;
    const error = refusal(file);
    expect(error.code).toBe('time-unit-needed');
    expect(error.message).toContain('--time-unit');
    expect(error.message).toContain('column 2: "T", degC, numbers: 20.00');
    expect(read(file, { timeUnit: 'ms' }).rate).toBe(100);
  });

  test('a clock of seconds since 1970 gives the start', () => {
    // 1 709 287 872 s after 1970-01-01 is 2024-03-01 10:11:12 UTC (19 783 days, 36 672 s; by hand).
    const recording = read(`Time (s);T (°C)\n${rows(5, (i) => (1709287872 + i / 10).toFixed(1))}`);
    expect(recording.startedAt).toBe('2024-03-01T10:11:12Z');
    expect(recording.rate).toBeCloseTo(10, 5);
  });
});

describe('sample numbers and no time at all', () => {
  test('sample numbers need a rate', () => {
    const file = `Sample;T (°C)\n${rows(5, (i) => String(i + 1))}`;
    const error = refusal(file);
    expect(error.code).toBe('rate-needed');
    expect(error.message).toContain('--rate');
    const recording = read(file, { rate: 50 });
    expect(times(recording)).toEqual([0, 0.02, 0.04, 0.06, 0.08]);
    expect(recording.dialect.time).toEqual({ kind: 'index-column', column: 1, rateFrom: 'caller' });
  });

  test('sample numbers with a rate in the header are never read as seconds', () => {
    const recording = read(`Rate: 1000 Hz\nn;T (°C)\n${rows(5, (i) => String(i))}`);
    expect(recording.duration).toBeCloseTo(0.004, 12);
    expect(recording.dialect.time).toMatchObject({ kind: 'index-column', rateFrom: 'header' });
    expect(message(recording, 'time-assumed')).toContain('line 1');
  });

  test('whole numbers without a name are asked about', () => {
    expect(refusal(rows(5, (i) => String(i))).code).toBe('rate-needed');
    expect(
      read(
        rows(5, (i) => String(i)),
        { timeUnit: 's' },
      ).rate,
    ).toBe(1);
  });

  test('readings alone', () => {
    const file = 'T (°C)\n20.5\n21.5\n22.5\n';
    const error = refusal(file);
    expect(error).toMatchObject({ code: 'rate-needed', line: 2 });
    expect(error.message).toContain('--rate');
    const recording = read(file, { rate: 4 });
    expect(times(recording)).toEqual([0, 0.25, 0.5]);
    expect(recording.dialect.time).toEqual({ kind: 'none', rateFrom: 'caller' });
    expect(codes(recording)).toEqual(['time-assumed']);
  });

  test.each([
    ['Sample rate: 10000 Hz', 10_000],
    ['Sampling frequency = 2.5 kHz', 2500],
    ['fs=1000', 1000],
    ['dt = 0.001 s', 1000],
    ['Interval: 100 ms', 10],
    ['Sample interval (ms): 20', 50],
    ['Sample Interval,0.25', 4],
    ['Interval 00:00:02', 0.5],
    ['Scan rate 50 samples/s', 50],
    ['2000 S/s', 2000],
    ['Abtastrate: 12,5 Hz', 12.5],
    ['Abtastintervall: 0,01 s', 100],
    ["Fréquence d'échantillonnage : 20 Hz", 20],
    ['# Rate: 30 readings/min', 0.5],
  ])('the header says %s', (line, rate) => {
    expect(read(`${line}\nFilter: 50 Hz\nT (°C)\n20.5\n21.5\n22.5\n`).rate).toBeCloseTo(rate, 9);
  });

  test('a filter frequency is no sampling rate', () => {
    expect(refusal('Filter frequency: 50 Hz\nT (°C)\n20.5\n21.5\n').code).toBe('rate-needed');
  });
});

describe('dates and times of day', () => {
  test.each([
    ['2024-03-01 10:11:12.5', '2024-03-01 10:11:13.0', '2024-03-01T10:11:12.5'],
    ['2024-03-01T10:11:12.5', '2024-03-01T10:11:13.0', '2024-03-01T10:11:12.5'],
    ['2024-03-01T10:11:12.5Z', '2024-03-01T10:11:13.0Z', '2024-03-01T10:11:12.5Z'],
    ['2024-03-01T10:11:12.5+01:00', '2024-03-01T10:11:13.0+01:00', '2024-03-01T10:11:12.5+01:00'],
    ['01.03.2024 10:11:12,5', '01.03.2024 10:11:13,0', '2024-03-01T10:11:12.5'],
    ['1.3.24 10:11:12,5', '1.3.24 10:11:13,0', '2024-03-01T10:11:12.5'],
    ['2024/03/01 10:11:12.500', '2024/03/01 10:11:13.000', '2024-03-01T10:11:12.5'],
    ['13/03/2024 10:11:12.5', '13/03/2024 10:11:13.0', '2024-03-13T10:11:12.5'],
    ['03/13/2024 10:11:12.5', '03/13/2024 10:11:13.0', '2024-03-13T10:11:12.5'],
    ['03/13/2024 12:11:12.5 AM', '03/13/2024 12:11:13.0 AM', '2024-03-13T00:11:12.5'],
    ['13-Mar-2024 10:11:12.5', '13-Mar-2024 10:11:13.0', '2024-03-13T10:11:12.5'],
  ])('%s', (first, second, startedAt) => {
    const recording = read(`Stamp;T (°C)\n${first};20.5\n${second};21.5\n`);
    expect(recording.startedAt).toBe(startedAt);
    expect(recording.rate).toBe(2);
    expect(recording.dialect.time).toEqual({ kind: 'column', column: 1, format: 'date-time' });
  });

  test('a date that could be read two ways is said', () => {
    const recording = read('Stamp;T (°C)\n01/03/2024 10:11:12;20.5\n01/03/2024 10:11:13;21.5\n');
    expect(recording.startedAt).toBe('2024-03-01T10:11:12');
    expect(message(recording, 'numbers-guessed')).toContain('day');
  });

  test('date and time in two columns', () => {
    const recording = read(
      'Date,Time,T (°C)\n31.12.2023,23:59:59,20.5\n01.01.2024,00:00:00,21.5\n01.01.2024,00:00:01,22.5\n',
    );
    expect(recording.startedAt).toBe('2023-12-31T23:59:59');
    expect(times(recording)).toEqual([0, 1, 2]);
    expect(recording.channel.column).toBe(3);
    expect(recording.remarks).toEqual([]);
  });

  test('date and time parted by a space in a file of spaces', () => {
    const recording = read(
      '2024-03-01 10:11:12.0 20.5\n2024-03-01 10:11:12.5 21.5\n2024-03-01 10:11:13.0 22.5\n',
    );
    expect(times(recording)).toEqual([0, 0.5, 1]);
    expect(values(recording)).toEqual([20.5, 21.5, 22.5]);
  });

  test('the time of day passes midnight', () => {
    const recording = read(
      'Date: 2024-03-01\nTime;T (°C)\n23:59:58;20.5\n23:59:59;21.5\n00:00:00;22.5\n00:00:01;23.5\n',
    );
    expect(times(recording)).toEqual([0, 1, 2, 3]);
    expect(recording.startedAt).toBe('2024-03-01T23:59:58');
    expect(message(recording, 'time-repaired')).toContain('midnight once (line 5)');
  });

  // Clocks in the European Union change at 02:00 and 03:00 local time in central Europe (Directive 2000/84/EC;
  // from memory).
  test.each([
    ['forward', '2024-03-31 01:59:', '2024-03-31 03:00:'],
    ['back', '2024-10-27 02:59:', '2024-10-27 02:00:'],
  ])('the clock is put %s', (way, before, after) => {
    const early = rows(60, (i) => `${before}${String(i).padStart(2, '0')}`);
    const late = rows(60, (i) => `${after}${String(i).padStart(2, '0')}`);
    const recording = read(`Stamp;T (°C)\n${early}${late}`);
    expect(recording.duration).toBe(119);
    expect(recording.samples).toBe(120);
    expect(message(recording, 'time-repaired')).toContain(`put ${way} an hour once (line 62)`);
    expect(codes(recording)).not.toContain('gaps');
  });

  test('a clock that was set back goes on', () => {
    const early = rows(60, (i) => `2024-03-01 10:20:${String(i).padStart(2, '0')}`);
    const late = rows(60, (i) => `2024-03-01 10:15:${String(i).padStart(2, '0')}`);
    const recording = read(`Stamp;T (°C)\n${early}${late}`);
    expect(recording.duration).toBe(119);
    expect(message(recording, 'time-repaired')).toContain('ran backwards once (line 62)');
  });

  test('minutes without seconds that repeat are spread, and nobody is accused', () => {
    const recording = read(
      `Stamp;T (°C)\n${rows(600, (i) => `01.03.2024 10:${String(Math.floor(i / 60)).padStart(2, '0')}`)}`,
    );
    expect(codes(recording)).toEqual(['time-repaired']);
    expect(message(recording, 'time-repaired')).toContain('every 60 s and repeat, about 60 samples');
    expect(recording.rate).toBeCloseTo(1, 9);
  });
});

test('times cut to two decimals are spread, and nobody is accused', () => {
  const recording = read(`Time (s);T (°C)\n${rows(3000, (i) => (Math.floor(i / 10) / 100).toFixed(2))}`);
  expect(recording.rate).toBeCloseTo(1000, 6);
  expect(codes(recording)).toEqual(['time-repaired']);
});

describe('stamps that repeat, gaps, uneven steps', () => {
  test('one-second stamps at 10 Hz are spread, and that is said', () => {
    const recording = read(`Time (s);T (°C)\n${rows(100, (i) => String(Math.floor(i / 10)))}`);
    expect(recording.rate).toBeCloseTo(10, 12);
    expect(recording.samples).toBe(100);
    times(recording).forEach((t, i) => {
      expect(t).toBeCloseTo(i / 10, 9);
    });
    expect(message(recording, 'time-repaired')).toContain('10 samples to a stamp');
  });

  test('a first stamp that is joined half way has its samples at its end', () => {
    const recording = read(`Time (s);T (°C)\n${rows(96, (i) => String(Math.floor((i + 4) / 10)))}`);
    times(recording).forEach((t, i) => {
      expect(t).toBeCloseTo(i / 10, 9);
    });
  });

  test('stamps of a coarse clock do not move the time', () => {
    // 3 kHz with stamps in milliseconds: three samples a stamp.
    const recording = read(`Time (ms);T (°C)\n${rows(3000, (i) => String(Math.floor(i / 3)))}`);
    expect(recording.rate).toBeCloseTo(3000, 6);
    expect(recording.duration).toBeCloseTo(2999 / 3000, 6);
    expect(codes(recording)).toEqual(['time-repaired']);
  });

  test('rounded stamps are no uneven sampling', () => {
    // 300 Hz with stamps in milliseconds: steps of 3, 3 and 4 ms.
    const recording = read(`Time (ms);T (°C)\n${rows(3000, (i) => String(Math.round(i / 0.3)))}`);
    expect(recording.rate).toBeCloseTo(300, 1);
    expect(codes(recording)).toEqual([]);
  });

  test('a gap is said with place, length and line, and not filled', () => {
    const file = `Time (s);T (°C)\n${rows(100, (i) => (i < 50 ? i / 10 : i / 10 + 2).toFixed(1))}`;
    const recording = read(file);
    expect(recording.samples).toBe(100);
    const remark = recording.remarks.find((r) => r.code === 'gaps');
    expect(remark?.message).toContain('1 gap');
    expect(remark?.message).toContain('2.1 s at 4.9 s (line 52)');
    expect(remark?.at?.from).toBeCloseTo(4.9, 9);
    expect(remark?.at?.to).toBeCloseTo(7, 9);
    expect(recording.blocks.cell[50]).toBe(70);
  });

  test('many gaps are counted, the longest are listed', () => {
    const file = `Time (s);T (°C)\n${rows(1000, (i) => (i / 10 + Math.floor(i / 10) * 0.5).toFixed(1))}`;
    const text = message(read(file), 'gaps');
    expect(text).toContain('99 gaps');
    expect(text.length).toBeLessThan(300);
  });

  test('uneven sampling is said', () => {
    const steps = [0.05, 0.15, 0.1, 0.1, 0.1];
    let t = 0;
    const file = `Time (s);T (°C)\n${rows(500, (i) => {
      t += steps[i % 5] ?? 0;
      return t.toFixed(3);
    })}`;
    const recording = read(file);
    expect(codes(recording)).toContain('sampling-uneven');
    expect(recording.samples).toBe(500);
  });

  test('rows out of order are left out, and that is said', () => {
    const stamps = [0, 0.1, 0.2, 0.4, 0.3, 0.5, 0.6];
    const recording = read(`Time (s);T (°C)\n${rows(7, (i) => String(stamps[i]))}`);
    expect(recording.samples).toBe(6);
    expect(message(recording, 'samples-dropped')).toContain('out of order in time (line 6)');
  });
});

describe('a rate that disagrees', () => {
  const file = `Sample rate: 100 Hz\nTime (s);T (°C)\n${rows(20, (i) => (i / 10).toFixed(1))}`;
  test('the column wins over the header, with a caution', () => {
    const recording = read(file);
    expect(recording.rate).toBe(10);
    expect(recording.remarks).toMatchObject([{ code: 'rate-disagrees', severity: 'caution' }]);
    expect(message(recording, 'rate-disagrees')).toContain(
      'Line 1 states 100 Hz, the time column runs at 10 Hz',
    );
  });

  test('the caller wins over the column, with a caution', () => {
    const recording = read(file, { rate: 50 });
    expect(recording.rate).toBe(50);
    expect(recording.duration).toBeCloseTo(19 / 50, 12);
    expect(codes(recording).filter((code) => code === 'rate-disagrees')).toHaveLength(2);
  });

  test('a caller who agrees changes nothing', () => {
    expect(read(file, { rate: 10 }).rate).toBe(10);
    expect(read(`Time (s);T (°C)\n${rows(20, (i) => (i / 10).toFixed(1))}`, { rate: 10 }).remarks).toEqual(
      [],
    );
  });
});

describe('stamps in every spelling', () => {
  const two = (x: number) => String(x).padStart(2, '0');
  const stamp = fc
    .record({
      day: fc.integer({ min: 1, max: 31 }),
      month: fc.integer({ min: 1, max: 12 }),
      hour: fc.integer({ min: 0, max: 25 }),
      minute: fc.integer({ min: 0, max: 61 }),
      second: fc.integer({ min: 0, max: 61 }),
      fraction: fc.stringMatching(/^(?:|\.\d{1,10}|,\d{3}|:\d{2})$/),
      zone: fc.constantFrom('', '', '', 'Z', ' PM', '+01:00'),
      gap: fc.constantFrom(' ', 'T', '  ', '_'),
      wide: fc.boolean(),
    })
    .map(({ day, month, hour, minute, second, fraction, zone, gap, wide }) => {
      const date = wide ? `2024-${two(month)}-${two(day)}` : `2024-${month}-${day}`;
      return `${date}${gap}${two(hour)}:${two(minute)}:${two(second)}${fraction}${zone}`;
    });

  test('a quoted cell, which is read the careful way, means the same as a bare one', () => {
    fc.assert(
      fc.property(fc.array(stamp, { minLength: 1, maxLength: 20 }), (stamps) => {
        const head = rows(5, (i) => `2023-12-31 23:59:5${i}.5`);
        const bare = stamps.map((cell) => `${cell};30.5\n`).join('');
        const quoted = stamps.map((cell) => `"${cell}";30.5\n`).join('');
        const one = read(`Stamp;T (°C)\n${head}${bare}`);
        const other = read(`Stamp;T (°C)\n${head}${quoted}`);
        expect(times(one)).toEqual(times(other));
        expect(one.remarks).toEqual(other.remarks);
      }),
      { seed: 21, numRuns: 150 },
    );
  });
});
