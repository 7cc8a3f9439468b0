import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createReader, type ReadOptions, RecordingError } from '../../src/recording/index.ts';
import { latin1, read, utf8, utf16 } from './helpers.ts';

/** Reads a file cut at the given places, and looks at it on the way where asked. */
function readCut(bytes: Uint8Array, cuts: readonly number[], look: boolean, options: ReadOptions): string {
  const places = [...new Set([0, ...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length])].sort(
    (a, b) => a - b,
  );
  const reader = createReader({ name: 'thornwick.txt', ...options });
  const piece = new Uint8Array(bytes.length);
  places.slice(1).forEach((to, i) => {
    const from = places[i] ?? 0;
    // The reader must not keep what it was given: the same buffer is used for every piece.
    piece.fill(0x37);
    piece.set(bytes.subarray(from, to));
    reader.push(piece.subarray(0, to - from));
    if (look && i % 3 === 0) quietly(() => reader.snapshot());
  });
  const before = quietly(() => reader.snapshot());
  const after = quietly(() => reader.finish());
  expect(before).toBe(after);
  return after;
}

/** Everything in a result, or the error's words, as one text: quick to compare, to the last digit. */
function quietly(run: () => unknown): string {
  try {
    return JSON.stringify(run(), (_, value) => (value instanceof Float64Array ? value.join() : value));
  } catch (error) {
    if (error instanceof RecordingError) return error.message;
    throw error;
  }
}

const rows = (n: number, row: (i: number) => string) => Array.from({ length: n }, (_, i) => row(i)).join('');
const decimal = (x: number) => x.toFixed(2).replace('.', ',');

const files: Record<string, [Uint8Array, ReadOptions?]> = {
  'CRLF and marks': [
    utf8(
      `\ufeffRate: 10 Hz\r\nTime (s),T (°C)\r\n${rows(40, (i) => `${i / 10},${i % 7 === 3 ? 'OL' : 20 + i * 1.5}\r\n`)}`,
    ),
  ],
  'decimal commas in Latin-1': [
    latin1(`Zeit (s);T (°C)\n${rows(40, (i) => `${decimal(i / 10)};${decimal(20 + i)}\n`)}`),
  ],
  'UTF-16': [
    utf16(
      `\ufeffZeit (s);T (°C)\r\n${rows(40, (i) => `${decimal(i / 10)};\u2212${decimal(20 + i)}\r\n`)}`,
      'le',
    ),
  ],
  'UTF-16, other order': [
    utf16(`Zeit (s);T (°C)\r\n${rows(40, (i) => `${decimal(i / 10)};${decimal(20 + i)}\r\n`)}`, 'be'),
  ],
  'CR alone': [utf8(`Time (s)\tT (°C)\r${rows(40, (i) => `${i / 10}\t${20 + i}\r`)}`)],
  'mixed line ends': [
    utf8(`Time (s)\tT (°C)\n${rows(40, (i) => `${i / 10}\t${20 + i}${['\n', '\r\n', '\r'][i % 3]}`)}`),
  ],
  'typographic minus, units in cells': [
    utf8(`Time (s);T\n${rows(40, (i) => `${i / 10};\u2212${20 + i},5 °C\n`)}`),
  ],
  restarts: [utf8(rows(3, (k) => `Time (s),T (°C)\n${rows(10 + k, (i) => `${i / 10},${100 * k + i}\n`)}`))],
  'repeated stamps': [utf8(`Time (s),T (°C)\n${rows(95, (i) => `${Math.floor((i + 3) / 10)},${20 + i}\n`)}`)],
  'dates, companions': [
    utf8(
      `Stamp,A (°C),Room (°C)\n${rows(40, (i) => `2024-03-01 23:59:${String(20 + i).padStart(2, '0')}.5,${20 + i},${i % 5 === 0 ? '' : 21}\n`)}`,
    ),
    { companions: ['Room'] },
  ],
  'padding and a cut end': [
    utf8(
      `Time (s),T (°C)\n${rows(40, (i) => `${(i / 10).toFixed(1)},${(20 + i).toFixed(2)}\n`)}4.0,5${'\0'.repeat(300)}`,
    ),
  ],
  'decimal commas between commas': [
    utf8(`Zeit,Temp\n${rows(40, (i) => `${decimal(i / 10)},${decimal(20 + i)}\n`)}9,0,1`),
    { decimal: ',' },
  ],
  'a serial monitor': [utf8(`Ready\n${rows(40, (i) => `09:59:${20 + i}.5 -> T=${20 + (i % 7)}.5 °C\r\n`)}`)],
  'a counter that rolls over': [
    utf8(`millis,T (°C)\n${rows(40, (i) => `${(2 ** 32 - 1010 + 50 * i) % 2 ** 32},${20 + (i % 7)}.5\n`)}`),
  ],
  'a clock put back within a stamp': [
    utf8(
      `Stamp;T (°C)\n${rows(200, (i) => `09.03.2026 ${i < 90 ? 10 : 9}:${12 + Math.floor((i + 25) / 50)};${20 + (i % 7)}\n`)}`,
    ),
  ],
  'minutes and seconds over a full hour, with decimal commas': [
    latin1(
      `Zeit;T (°C)\n${rows(40, (i) => `${i < 25 ? 59 : '00'}:${String((35 + i) % 60).padStart(2, '0')},5;${decimal(20 + (i % 7))}\n`)}`,
    ),
  ],
  'nothing but text': [utf8('no numbers here\r\nat all °C\r\n')],
};

describe('how a file is cut changes nothing', () => {
  for (const [name, [bytes, options = {}]] of Object.entries(files)) {
    test(name, () => {
      const whole = quietly(() => read(bytes, options));
      fc.assert(
        fc.property(fc.array(fc.nat(bytes.length), { maxLength: 12 }), fc.boolean(), (cuts, look) => {
          expect(readCut(bytes, cuts, look, options)).toBe(whole);
        }),
        { seed: 42, numRuns: 25 },
      );
      const everyByte = Array.from(bytes, (_, i) => i);
      expect(readCut(bytes, everyByte, false, options)).toBe(whole);
    });
  }

  test('beyond the head as well, with lines of every kind', () => {
    const kinds = [
      (i: number) => `${(i / 1000).toFixed(3)},${(20 + Math.sin(i)).toFixed(4)}\n`,
      (i: number) => `${(i / 1000).toFixed(3)},\u2212${(20 + Math.sin(i)).toExponential(6)}\r\n`,
      (i: number) => `${(i / 1000).toFixed(3)},${(20 + Math.sin(i)).toFixed(17)}\n`,
      (i: number) => `${(i / 1000).toFixed(3)},9.91E37\n`,
      (i: number) => `"${(i / 1000).toFixed(3)}","${20 + (i % 13)}"\n`,
      (i: number) => `# note ${i} °\n`,
    ];
    const text = rows(24_000, (i) => (kinds[(i * i + 3 * i) % 11] ?? kinds[0])?.(i) ?? '');
    const bytes = utf8(`Time (s),T (°C)\n${text}`);
    expect(bytes.length).toBeGreaterThan(1 << 18);
    const whole = quietly(() => read(bytes));
    fc.assert(
      fc.property(fc.array(fc.nat(bytes.length), { minLength: 1, maxLength: 30 }), (cuts) => {
        expect(readCut(bytes, cuts, false, {})).toBe(whole);
      }),
      { seed: 7, numRuns: 3 },
    );
    const head = 1 << 18;
    expect(readCut(bytes, [head - 1, head, head + 1], true, {})).toBe(whole);
  });

  test('a growing file is read as far as it goes', () => {
    const reader = createReader();
    reader.push(utf8('Time (s),T (°C)\n0.0,20.5\n0.1,21.5\n'));
    expect(reader.snapshot().samples).toBe(2);
    reader.push(utf8('0.2,22.5\n0.3'));
    expect(reader.snapshot().samples).toBe(3);
    reader.push(utf8(',23.5\n'));
    expect(reader.snapshot().samples).toBe(4);
    const all = reader.finish();
    expect(all.samples).toBe(4);
    expect(() => reader.push(utf8('0.4,24.5\n'))).toThrow('finished');
  });

  test('nothing yet is an error that more bytes mend', () => {
    const reader = createReader();
    expect(() => reader.snapshot()).toThrow(RecordingError);
    reader.push(utf8('Time (s),T (°C)\n'));
    expect(() => reader.snapshot()).toThrow(RecordingError);
    reader.push(utf8('0.0,20.5\n0.1,21.5\n'));
    expect(reader.finish().samples).toBe(2);
  });
});
