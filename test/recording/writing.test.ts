import { describe, expect, test } from 'vitest';
import { codes, latin1, message, read, refusal, utf8, utf16, values } from './helpers.ts';

// How files are written: common practice, no source. What each holds is what a person reads off it.

describe('delimiter, decimal mark and thousands mark', () => {
  test.each([
    ['comma and point', 'Time (s),Temp (°C)\n0.0,20.5\n0.1,21.5\n0.2,22.5\n', ',', '.'],
    ['semicolon and comma', 'Time (s);Temp (°C)\n0,0;20,5\n0,1;21,5\n0,2;22,5\n', ';', ','],
    ['tab and comma', 'Time (s)\tTemp (°C)\n0,0\t20,5\n0,1\t21,5\n0,2\t22,5\n', '\t', ','],
    ['tab and point', 'Time (s)\tTemp (°C)\n0.0\t20.5\n0.1\t21.5\n0.2\t22.5\n', '\t', '.'],
    ['pipe', 'Time (s)|Temp (°C)\n0.0|20.5\n0.1|21.5\n0.2|22.5\n', '|', '.'],
    ['spaces', '  Time (s)   Temp (°C)\n   0.0   20.5\n   0.1   21.5\n   0.2   22.5\n', 'space', '.'],
    ['spaces and decimal comma', 'Zeit[s] Temp[°C]\n0,0 20,5\n0,1 21,5\n0,2 22,5\n', 'space', ','],
    ['comma and space', 'Time (s), Temp (°C)\n0.0, 20.5\n0.1, 21.5\n0.2, 22.5\n', ',', '.'],
    ['tab among spaces', 'Time (s) \t Temp (°C)\n0.0 \t 20.5\n0.1 \t 21.5\n0.2 \t 22.5\n', '\t', '.'],
    ['quoted cells', '"Time (s)","Temp (°C)"\n"0,0","20,5"\n"0,1","21,5"\n"0,2","22,5"\n', ',', ','],
  ])('%s', (_, file, delimiter, decimal) => {
    const recording = read(file);
    expect(values(recording)).toEqual([20.5, 21.5, 22.5]);
    expect(recording.rate).toBe(10);
    expect(recording.dialect).toMatchObject({ delimiter, decimal, thousands: null, firstDataLine: 2 });
    expect(recording.channel).toEqual({ column: 2, name: 'Temp', unit: 'degC' });
    expect(recording.remarks).toEqual([]);
  });

  test('thousands commas in a tab file do not make commas the delimiter', () => {
    const recording = read('t (s)\tU (uV)\n0.0\t998.5\n0.5\t1,000.25\n1.0\t12,345.75\n');
    expect(values(recording)).toEqual([998.5, 1000.25, 12345.75]);
    expect(recording.dialect).toMatchObject({ delimiter: '\t', decimal: '.', thousands: ',' });
  });

  test.each([
    ['points', '1.234,5', '2.345,75'],
    ['spaces', '1 234,5', '2 345,75'],
    ['no-break spaces', '1\u00a0234,5', '2\u202f345,75'],
    ['apostrophes', "1'234,5", "2'345,75"],
  ])('thousands marked by %s', (_, a, b) => {
    expect(values(read(`t (s);U (uV)\n0,0;999,5\n0,5;${a}\n1,0;${b}\n`))).toEqual([999.5, 1234.5, 2345.75]);
  });

  test('whole numbers below and above one thousand: the comma groups, and that is said', () => {
    const recording = read('t (s)\tU (uV)\n0\t998\n1\t1,001\n2\t1,102\n3\t1,250\n');
    expect(values(recording)).toEqual([998, 1001, 1102, 1250]);
    expect(message(recording, 'numbers-guessed')).toContain('thousands');
  });

  test('one comma with three digits behind it, in every number, beside a time with points: taken, and said', () => {
    const recording = read('Time (s);T (°F)\n0.0;71,917\n0.5;71,906\n1.0;72,277\n1.5;72,028\n');
    expect(message(recording, 'numbers-guessed')).toContain('decimal mark');
  });

  test('such commas in a column that is not used are nobody’s concern', () => {
    const rows = [21.49, 21.54, 21.51, 21.5].map(
      (t, i) => `${(i / 20).toFixed(2)}\t98,${765 + i}\t${t.toFixed(2)}`,
    );
    const text = `Time [s]\tCycle count\tJunction [°C]\n${rows.join('\n')}\n`;
    expect(read(text).remarks.map(({ code }) => code)).not.toContain('numbers-guessed');
    expect(message(read(text, { channel: 2, unit: 'uV' }), 'numbers-guessed')).toContain('decimal mark');
  });

  test('three digits behind every comma: decimals, and that is said', () => {
    const recording = read('t (s)\tU (mV)\n0\t1,001\n1\t1,102\n2\t1,250\n');
    expect(values(recording)).toEqual([1.001, 1.102, 1.25]);
    expect(message(recording, 'numbers-guessed')).toContain('decimal mark');
  });

  test('a lone comma is asked about, never cut off', () => {
    const error = refusal('12,34\n12,56\n12,78\n', { rate: 10 });
    expect(error.code).toBe('numbers-ambiguous');
    expect(error.message).toContain('--decimal');
    expect(error.message).toContain('12,34');
    expect(values(read('12,34\n12,56\n12,78\n', { rate: 10, decimal: ',' }))).toEqual([12.34, 12.56, 12.78]);
    expect(values(read('12,34\n13,56\n14,78\n', { delimiter: ',', timeUnit: 's' }))).toEqual([34, 56, 78]);
  });

  test('a lone comma under a header of one name is a decimal mark, and that is said', () => {
    const recording = read('Temp °C\n12,34\n12,56\n', { rate: 10 });
    expect(values(recording)).toEqual([12.34, 12.56]);
    expect(codes(recording)).toContain('numbers-guessed');
  });

  test('a long preamble does not decide the delimiter', () => {
    const preamble = Array.from({ length: 120 }, (_, i) => `# note ${i}, with, commas, and ${i}, numbers`);
    const recording = read(`${preamble.join('\n')}\nTime (s);Temp (°C)\n0,0;20,5\n0,1;21,5\n`);
    expect(values(recording)).toEqual([20.5, 21.5]);
    expect(recording.preamble).toHaveLength(121);
    expect(recording.preamble[7]).toBe('# note 7, with, commas, and 7, numbers');
    expect(recording.dialect.firstDataLine).toBe(122);
  });

  test('no more than 200 lines of preamble are kept', () => {
    const preamble = Array.from({ length: 500 }, (_, i) => `# note ${i}`).join('\n');
    expect(read(`${preamble}\nTime (s);Temp (°C)\n0,0;20,5\n0,1;21,5\n`).preamble).toHaveLength(200);
  });
});

describe('encodings', () => {
  const text = 'Time (s);T (°C)\r\n0,0;20,5\r\n0,1;21,5\r\n';
  test.each([
    ['utf-8', utf8(text)],
    ['utf-8', utf8(`\ufeff${text}`)],
    ['utf-16le', utf16(`\ufeff${text}`, 'le')],
    ['utf-16be', utf16(`\ufeff${text}`, 'be')],
    ['utf-16le', utf16(text, 'le')],
    ['utf-16be', utf16(text, 'be')],
    ['latin-1', latin1(text)],
  ])('%s', (encoding, bytes) => {
    const recording = read(bytes);
    expect(recording.dialect.encoding).toBe(encoding);
    expect(recording.preamble).toEqual(['Time (s);T (°C)']);
    expect(recording.channel).toEqual({ column: 2, name: 'T', unit: 'degC' });
    expect(values(recording)).toEqual([20.5, 21.5]);
  });

  test('micro signs of both kinds', () => {
    expect(read(latin1('t [µs]\tU [µV]\n0\t1.5\n100\t1.75\n')).channel.unit).toBe('uV');
    expect(read('t [\u03bcs]\tU [\u03bcV]\n0\t1.5\n100\t1.75\n').rate).toBe(10_000);
  });

  test('bytes that are no UTF-8 behind the head do no harm', () => {
    const rows = Array.from({ length: 30_000 }, (_, i) => `${i / 10},20.5\n`).join('');
    const bytes = Uint8Array.from([
      ...utf8(`Time (s),T (°C)\n${rows}`),
      0xff,
      0xfe,
      0x41,
      0x0a,
      ...utf8('3000.0,21.5\n'),
    ]);
    const recording = read(bytes);
    expect(recording.samples).toBe(30_001);
    expect(message(recording, 'samples-dropped')).toContain('line 30002');
  });
});

describe('line ends and padding', () => {
  const lines = ['Time (s),T (°C)', '0.0,20.5', '0.1,21.5', '0.2,22.5'];
  test.each([
    ['LF', `${lines.join('\n')}\n`],
    ['CRLF', `${lines.join('\r\n')}\r\n`],
    ['CR', `${lines.join('\r')}\r`],
    ['no end behind the last line', lines.join('\n')],
    ['NUL bytes behind the end', `${lines.join('\n')}\n${'\0'.repeat(100_000)}`],
    ['NUL bytes behind the last number', `${lines.join('\n')}${'\0'.repeat(100_000)}`],
    ['blank lines', lines.join('\n\n \n')],
    ['an end-of-file character', `${lines.join('\r\n')}\r\n\u001a`],
  ])('%s', (_, file) => {
    const recording = read(file);
    expect(values(recording)).toEqual([20.5, 21.5, 22.5]);
    expect(recording.remarks).toEqual([]);
  });

  test('a lone CR between LF lines ends a line as well', () => {
    const recording = read('T (°C)\n20.5\n21.5\r22.5\n23.5\r\n24.5\nOL\n', { rate: 10 });
    expect(values(recording)).toEqual([20.5, 21.5, 22.5, 23.5, 24.5]);
    expect(message(recording, 'samples-dropped')).toContain('(line 7)');
  });

  test('a trailing delimiter makes no column', () => {
    const recording = read('Time (s),T (°C),\n0.0,20.5,\n0.1,21.5,\n');
    expect(values(recording)).toEqual([20.5, 21.5]);
    expect(recording.channels).toHaveLength(1);
  });

  test('a trailing delimiter that the header does not have', () => {
    const recording = read('Time (s),T (°C)\n0.0,20.5,\n0.1,21.5,\n');
    expect(recording.channel).toMatchObject({ column: 2, name: 'T', unit: 'degC' });
    expect(values(recording)).toEqual([20.5, 21.5]);
  });

  test('one cell more than names, because rows are numbered', () => {
    const recording = read('Time (s),T (°C)\n1,0.0,20.5\n2,0.1,21.5\n3,0.2,22.5\n');
    expect(recording.channel).toMatchObject({ column: 3, name: 'T', unit: 'degC' });
    expect(recording.remarks).toEqual([]);
    expect(recording.rate).toBe(10);
    expect(values(recording)).toEqual([20.5, 21.5, 22.5]);
  });

  test('a last line that cannot be complete is left out, and that is said', () => {
    const rows = Array.from({ length: 30 }, (_, i) => `${(i / 10).toFixed(1)},${20 + i}.50`);
    for (const cut of ['3.0', '3.0,', '3.0,5', '3.0,50', '3.0,50.', '3.0,50.5']) {
      const recording = read(`Time (s),T (°C)\n${rows.join('\n')}\n${cut}`);
      expect(recording.samples).toBe(30);
      expect(message(recording, 'samples-dropped')).toContain('1 incomplete last line (line 32)');
    }
    expect(read(`Time (s),T (°C)\n${rows.join('\n')}\n3.0,50.50`).samples).toBe(31);
  });

  test('a line beyond all measure is refused with its number', () => {
    const error = refusal(`Time (s),T (°C)\n0.0,20.5\n0.1,21.5\n${'7'.repeat(70_000)}\n0.2,22.5\n`);
    expect(error).toMatchObject({ code: 'line-too-long', line: 4 });
    expect(error.message).toContain('thornwick.txt, line 4');
    const rows = Array.from({ length: 40_000 }, (_, i) => `${i / 10},20.5\n`).join('');
    expect(refusal(`Time (s),T (°C)\n${rows}${'7'.repeat(2e6)}`)).toMatchObject({
      code: 'line-too-long',
      line: 40_002,
    });
  });
});

describe('what is no recording', () => {
  test.each([
    ['nothing', '', 'empty'],
    ['blank lines', ' \n\n \n', 'empty'],
    ['prose', 'Dear all,\nthe jet is broken.\nRegards\n', 'no-numbers'],
    ['one row', 'Time (s),T (°C)\n0.0,20.5\n', 'no-numbers'],
    ['a workbook', Uint8Array.from([0x50, 0x4b, 3, 4, 20, 0, 6, 0]), 'not-text'],
    ['a document', utf8('%PDF-1.7 1 0 obj'), 'not-text'],
    [
      'random bytes',
      Uint8Array.from({ length: 4000 }, (_, i) => (i * i * 31 + i * 17 + 7) % 251),
      'not-text',
    ],
  ])('%s', (_, file, code) => {
    const error = refusal(file);
    expect(error.code).toBe(code);
    expect(error.file).toBe('thornwick.txt');
    expect(error.message).toContain(error.mend);
    expect(error.mend.length).toBeGreaterThan(20);
  });

  test('options that cannot be', () => {
    expect(refusal('1\n2\n', { rate: 0 }).code).toBe('option-invalid');
    expect(refusal('1\n2\n', { rate: Number.NaN }).code).toBe('option-invalid');
    expect(refusal('1\n2\n', { segment: 0 }).code).toBe('option-invalid');
    expect(refusal('1\n2\n', { decimal: ',', thousands: ',' }).code).toBe('option-invalid');
    expect(refusal('1\n2\n', { delimiter: ',', thousands: ',' }).code).toBe('option-invalid');
  });
});
