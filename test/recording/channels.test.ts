import { describe, expect, test } from 'vitest';
import { createReader, type ReadOptions } from '../../src/recording/index.ts';
import { codes, message, read, refusal, utf8, values } from './helpers.ts';

const two = 'Time (s),Sphere (°C),Room (°C)\n0.0,80.5,21\n0.1,79.5,22\n0.2,78.5,23\n';

describe('names and units', () => {
  test.each([
    ['Temp (°C)', 'Temp', 'degC'],
    ['Temperature [degC]', 'Temperature', 'degC'],
    ['T/°C', 'T', 'degC'],
    ['Temp_C', 'Temp', 'degC'],
    ['Temp (F)', 'Temp', 'degF'],
    ['Sphere temp. in K', 'Sphere temp.', 'K'],
    ['CH1 [mV]', 'CH1', 'mV'],
    ['U in V', 'U', 'V'],
    ['Signal (µV)', 'Signal', 'uV'],
    ['R (Ω)', 'R', 'ohm'],
    ['R [Ohm]', 'R', 'ohm'],
    ['TC type K', 'TC type K', null],
    ['TC type S', 'TC type S', null],
    ['Sphere', 'Sphere', null],
  ])('%s', (header, name, unit) => {
    expect(read(`Time (s),${header}\n0.0,20.5\n0.1,21.5\n`).channel).toEqual({ column: 2, name, unit });
  });

  test.each([
    ['names, units', 'Time;Sphere\ns;°C\n'],
    ['units, names', 's;°C\nTime;Sphere\n'],
    ['names, units, comments', 'Time;Sphere\ns;mV\n;polished\n'.replace('mV', '°C')],
    [
      'comments, names, units in brackets',
      'since start;polished, second trial of the day in the basement\nTime;Sphere\n[s];[°C]\n',
    ],
    ['a commented header', '# Time;Sphere\n# s;°C\n'],
    ['a blank line below', 'Time;Sphere\ns;°C\n\n'],
  ])('%s', (_, header) => {
    const recording = read(`Serial: 7\n${header}0,0;20,5\n0,1;21,5\n`);
    expect(recording.channel).toEqual({ column: 2, name: 'Sphere', unit: 'degC' });
    expect(recording.rate).toBe(10);
    expect(recording.remarks).toEqual([]);
  });

  test('a unit and names that the preamble states', () => {
    const recording = read('Channel 1: Sphere\nUnit: mV\nInterval: 0.1 s\n\n1.5\n1.6\n1.7\n');
    expect(recording.channel).toEqual({ column: 1, name: 'Sphere', unit: 'mV' });
  });

  test('a file of numbers alone has no unit; the caller may give one', () => {
    const file = '0.0 20.5\n0.1 21.5\n0.2 22.5\n';
    expect(read(file).channel).toEqual({ column: 2, name: 'column 2', unit: null });
    expect(read(file, { unit: 'mV' }).channel.unit).toBe('mV');
  });

  test('a unit that contradicts the file is used, with a caution', () => {
    const recording = read('Time (s),T (°C)\n0.0,70.5\n0.1,71.5\n', { unit: 'degF' });
    expect(recording.channel.unit).toBe('degF');
    expect(recording.remarks).toMatchObject([{ code: 'unit-assumed', severity: 'caution' }]);
  });
});

describe('several channels', () => {
  test('the likeliest is taken, and that is said', () => {
    const recording = read(two);
    expect(values(recording)).toEqual([80.5, 79.5, 78.5]);
    expect(recording.channels.map((channel) => channel.name)).toEqual(['Sphere', 'Room']);
    expect(message(recording, 'channel-chosen')).toContain('column 2 ("Sphere", degC)');
  });

  test('other quantities are no rivals', () => {
    const recording = read('Time (s),Supply (bar),CH1 (mV),Flow (l/min)\n0.0,2,1.5,100\n0.1,2,1.6,100\n');
    expect(recording.channel.name).toBe('CH1');
  });

  test('two that are as likely are asked about', () => {
    const error = refusal('Time (s),CH1 (mV),CH2 (mV)\n0.0,1.5,2.5\n0.1,1.6,2.6\n');
    expect(error).toMatchObject({ code: 'channel-needed', line: 2 });
    expect(error.message).toContain('--channel');
    expect(error.message).toContain('column 2: "CH1", mV, numbers: 1.5 | 1.6');
    expect(error.message).toContain('column 3: "CH2", mV, numbers: 2.5 | 2.6');
  });

  test.each<[ReadOptions['channel'], number]>([
    ['Room', 21],
    ['room', 21],
    ['ROO', 21],
    [3, 21],
    ['3', 21],
    ['sphere', 80.5],
  ])('chosen by %s', (channel, first) => {
    const recording = read(two, channel === undefined ? {} : { channel });
    expect(values(recording)[0]).toBe(first);
    expect(codes(recording)).not.toContain('channel-chosen');
  });

  test('a channel that is not there', () => {
    const error = refusal(two, { channel: 'jet' });
    expect(error.code).toBe('channel-unknown');
    expect(error.message).toContain('"jet"');
    expect(error.message).toContain('"Sphere"');
    expect(refusal(two, { channel: 9 }).code).toBe('channel-unknown');
    expect(refusal('Time (s),T (°C),Note\n0.0,20.5,ok\n0.1,21.5,ok\n', { channel: 'Note' }).code).toBe(
      'channel-unknown',
    );
  });

  test('the time column may be named, or denied', () => {
    const file = 'a,b\n0.0,20.5\n0.5,21.5\n1.0,22.5\n';
    expect(read(file, { timeColumn: 'a', timeUnit: 's' }).rate).toBe(2);
    expect(read(file, { timeColumn: 1, timeUnit: 's' }).rate).toBe(2);
    const none = read(file, { timeColumn: 'none', rate: 8, channel: 'b' });
    expect(none.rate).toBe(8);
    expect(none.channels).toHaveLength(2);
    expect(refusal(file, { timeColumn: 'c' }).message).toContain('--time-column');
  });

  test('a text column does no harm', () => {
    const recording = read('Time (s),State,T (°C)\n0.0,ok,20.5\n0.1,ok,21.5\n0.2,bad,22.5\n');
    expect(values(recording)).toEqual([20.5, 21.5, 22.5]);
  });
});

describe('companions', () => {
  test('a companion is summed up on the grid of the channel', () => {
    const recording = read(two, { companions: ['Room'] });
    expect(recording.companions).toHaveLength(1);
    expect(recording.companions[0]?.channel).toEqual({ column: 3, name: 'Room', unit: 'degC' });
    expect([...(recording.companions[0]?.blocks.mean ?? [])]).toEqual([21, 22, 23]);
  });

  test('cells keep one width though one channel has gaps', () => {
    const reader = createReader({ companions: ['Room'], channel: 'Sphere' });
    reader.push(utf8('Time (s),Sphere (°C),Room (°C)\n'));
    for (let i = 0; i < 140_000; i += 1000) {
      let text = '';
      for (let j = i; j < i + 1000; j++)
        text += `${(j / 1000).toFixed(3)},${j % 7},${j % 10 === 0 ? 'OL' : j % 5}\n`;
      reader.push(utf8(text));
    }
    const { blocks, companions } = reader.finish();
    const [companion] = companions;
    expect(companion?.blocks.width).toBe(blocks.width);
    expect(companion?.blocks.cell.at(-1)).toBe(blocks.cell.at(-1));
    expect(blocks.count.reduce((a, b) => a + b, 0)).toBe(140_000);
    expect(companion?.blocks.count.reduce((a, b) => a + b, 0)).toBe(126_000);
  });
});

describe('naming a column', () => {
  const file = 't (s),U (mV),CJ (degC)\n0.0,1.5,23\n0.1,1.6,23\n0.2,1.4,23\n';

  test.each(['CJ', 'cj', 'CJ (degC)', 'CJ  (degc)', 'CJ (°C)', '3'])('%s is the junction', (name) => {
    const recording = read(file, { companions: [name], channel: 'U (mV)' });
    expect(recording.companions[0]?.channel).toEqual({ column: 3, name: 'CJ', unit: 'degC' });
    expect(recording.channel.column).toBe(2);
  });

  test('the time by its header', () => {
    expect(read(file, { timeColumn: 't (s)', channel: 'U' }).rate).toBe(10);
  });

  test.each([
    ['--junction', { companions: ['foo'] }],
    ['--channel', { channel: 'foo' }],
    ['--time-column', { timeColumn: 'foo' }],
  ])('an unknown name for %s lists those that are there', (option, options) => {
    const error = refusal(file, options);
    expect(error.code).toBe('channel-unknown');
    expect(error.message).toContain('There is no column "foo"');
    expect(error.message).toContain('1 ("t"), 2 ("U"), 3 ("CJ")');
    expect(error.mend).toContain(option);
    expect(error.message).not.toContain('--companion');
  });

  test.each([
    ['--junction', { companions: [1] }],
    ['--channel', { channel: 1 }],
    ['--channel', { channel: 't' }],
  ])('the time is no reading for %s', (option, options) => {
    const error = refusal(file, options);
    expect(error.message).toContain('Column 1 ("t") is the time. Numbers are in columns 2 ("U"), 3 ("CJ").');
    expect(error.mend).toContain(option);
  });

  test('a name that two columns have', () => {
    const twice = 't (s),T (°C),T (K)\n0.0,20,293\n0.1,21,294\n0.2,22,295\n';
    expect(refusal(twice, { channel: 'T' }).message).toContain(
      'The name "T" fits columns 2 ("T"), 3 ("T") alike.',
    );
    expect(read(twice, { channel: 'T (K)' }).channel.column).toBe(3);
  });

  test('t and T are told apart by their case', () => {
    const cases = 't (s),T (°C)\n0.0,20\n0.1,21\n0.2,22\n';
    expect(read(cases, { channel: 'T', timeColumn: 't' }).channel.column).toBe(2);
    expect(read(cases, { channel: 'T' }).dialect.time).toMatchObject({ column: 1 });
  });
});

describe('a column that says the unit of its neighbour', () => {
  // Common practice, no source.
  test.each([
    ['t (s);Messwert;Einheit', '21.5;°C', 'degC'],
    ['t (s);Value;Unit', '21.5;mV', 'mV'],
    ['t (s);Value;Unit', '21.5;K', 'K'],
    ['t (s);Unit;Value', 'K;21.5', 'K'],
    ['t (s);Value;State', '21.5;C', null],
    ['t (s);Value;Note', '21.5;steady', null],
  ])('%s', (header, cells, unit) => {
    const rows = Array.from({ length: 9 }, (_, i) => `0.${i};${cells}\n`).join('');
    expect(read(`${header}\n${rows}`).channel.unit).toBe(unit);
  });

  test('a text that changes is no unit', () => {
    const rows = Array.from({ length: 9 }, (_, i) => `0.${i};21.5;${i === 5 ? 'K' : '°C'}\n`).join('');
    expect(read(`t (s);Value;Unit\n${rows}`).channel.unit).toBeNull();
  });
});
