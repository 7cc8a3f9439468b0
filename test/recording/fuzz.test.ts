import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createReader, type ReadOptions, type Recording, RecordingError } from '../../src/recording/index.ts';
import { utf8 } from './helpers.ts';

/** Reads anything; what is not read must be refused with words. */
function survive(bytes: Uint8Array, options: ReadOptions = {}): Recording | RecordingError {
  const reader = createReader({ name: 'thornwick.txt', ...options });
  try {
    for (let at = 0; at < bytes.length; at += 997) reader.push(bytes.subarray(at, at + 997));
    const recording = reader.finish();
    sound(recording);
    return recording;
  } catch (error) {
    if (!(error instanceof RecordingError)) throw error;
    expect(error.message.length).toBeLessThan(5000);
    expect(error.mend).not.toBe('');
    return error;
  }
}

/** What holds for every recording, however strange the file was. */
function sound({ samples, rate, duration, blocks, opening, remarks, preamble }: Recording): void {
  expect(rate).toBeGreaterThan(0);
  expect(Number.isFinite(rate) && Number.isFinite(duration) && duration >= 0).toBe(true);
  expect(blocks.count.reduce((a, b) => a + b, 0)).toBe(samples);
  let earlier = -1;
  for (let i = 0; i < blocks.length; i++) {
    const cell = blocks.cell[i] ?? Number.NaN;
    if (!(cell > earlier) || !Number.isFinite(blocks.mean[i] ?? Number.NaN)) expect.fail(`block ${i}`);
    earlier = cell;
  }
  expect(opening.length).toBeLessThanOrEqual(65_536);
  expect(preamble.length).toBeLessThanOrEqual(200);
  expect(remarks.length).toBeLessThan(20);
  for (const remark of remarks) expect(remark.message.length).toBeLessThan(1000);
}

const rows = (n: number, row: (i: number) => string) => Array.from({ length: n }, (_, i) => row(i)).join('');
const two = (i: number) => String(i).padStart(2, '0');

const good = [
  `Rate: 10 Hz\r\nTime (s),T (°C)\r\n${rows(60, (i) => `${(i / 10).toFixed(1)},${(20 + i / 3).toFixed(2)}\r\n`)}`,
  `Zeit;T [°C]\n${rows(60, (i) => `2024-03-01 23:59:${two(i)},5;${20 + i},25\n`)}`,
  `Date\tTime\tA (mV)\tB\n${rows(60, (i) => `03/01/2024\t11:59:${two(i)} PM\t1,${two(i)}0.5\tok\n`)}`,
  `${rows(60, (i) => `${Math.floor(i / 10)} ${20 + i}.5\n`)}`,
  `a|b|c\ns|V|V\n${rows(30, (i) => `${i}|OL|1e${i}\n`)}a|b|c\n${rows(30, (i) => `${i}|1|2\n`)}`,
];

const options: fc.Arbitrary<ReadOptions> = fc.record(
  {
    rate: fc.constantFrom(1, 10_000, 1e-6),
    channel: fc.constantFrom<string | number>(1, 2, '2', 'T', ''),
    decimal: fc.constantFrom('.' as const, ',' as const),
    delimiter: fc.constantFrom(',' as const, ';' as const, 'space' as const, '\t' as const),
    timeColumn: fc.constantFrom<string | number>('none', 1, 2),
    timeUnit: fc.constantFrom('s' as const, 'ms' as const, 'index' as const),
    segment: fc.constantFrom(1, 2),
    encoding: fc.constantFrom('utf-8' as const, 'latin-1' as const, 'utf-16le' as const),
  },
  { requiredKeys: [] },
);

const edit = fc.record({
  at: fc.nat(4000),
  remove: fc.nat(12),
  insert: fc.oneof(
    fc.uint8Array({ maxLength: 6 }),
    fc
      .constantFrom(
        '\0',
        '\r',
        '\n',
        '"',
        ',',
        ';',
        '\t',
        '-',
        '9.9E37',
        '1e308',
        '-1e308',
        '\ufeff',
        '°',
        '99:99:99',
        '31.02.2024',
        '#',
      )
      .map(utf8),
  ),
});

function mutated(
  text: string,
  edits: readonly { at: number; remove: number; insert: Uint8Array }[],
): Uint8Array {
  return edits.reduce((bytes, { at, remove, insert }) => {
    const place = at % (bytes.length + 1);
    return Uint8Array.from([...bytes.subarray(0, place), ...insert, ...bytes.subarray(place + remove)]);
  }, utf8(text));
}

describe('hostile bytes', () => {
  test('random bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 3000 }), options, (bytes, o) => {
        survive(bytes, o);
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  test('random text of the characters that recordings are made of', () => {
    const characters = fc.constantFrom(...'0123456789.,;:\t\n\r "-+eE/°ams#|'.split(''));
    fc.assert(
      fc.property(fc.array(characters, { maxLength: 600 }), options, (text, o) => {
        survive(utf8(text.join('')), o);
      }),
      { seed: 12, numRuns: 500 },
    );
  });

  test('good files, damaged', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...good),
        fc.array(edit, { maxLength: 8 }),
        options,
        fc.boolean(),
        (text, edits, o, bare) => {
          survive(mutated(text, edits), bare ? {} : o);
        },
      ),
      { seed: 13, numRuns: 600 },
    );
  });

  test('a damaged line costs that line, not its neighbours', () => {
    const lines = rows(60, (i) => `${(i / 10).toFixed(1)},${20 + i}.25\n`)
      .trimEnd()
      .split('\n');
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 50 }), fc.stringMatching(/^[!-~]{0,12}$/), (at, junk) => {
        const text = `Time (s),T (°C)\n${lines.with(at, `x${junk}`).join('\n')}\n`;
        const recording = survive(utf8(text));
        if (recording instanceof RecordingError) throw recording;
        expect([...recording.blocks.mean]).toEqual(lines.flatMap((_, i) => (i === at ? [] : [20.25 + i])));
      }),
      { seed: 14, numRuns: 100 },
    );
  });

  test.each([
    ['quotes that never close', `"${'a,'.repeat(30_000)}`],
    ['many delimiters', `${','.repeat(60_000)}\n`.repeat(4)],
    ['many columns', `${'1,'.repeat(20_000)}\n`.repeat(6)],
    ['many digits', `0.0,${'7'.repeat(60_000)}\n0.1,${'7'.repeat(60_000)}\n0.2,1\n`],
    ['many spaces', `${' '.repeat(60_000)}1 2\n`.repeat(4)],
    ['many brackets in a name', `t,${'('.repeat(20_000)}\n0.0,1\n0.1,2\n0.2,3\n`],
    ['many comment marks', `${'#'.repeat(50_000)}\n`.repeat(5)],
    ['many colons', `${'1:'.repeat(30_000)}\n`.repeat(4)],
    ['a long word in the preamble', `${'rate '.repeat(12_000)}\nt,T\n0.0,1\n0.1,2\n`],
    ['times that jump for ever', rows(3000, (i) => `${i % 2 === 0 ? i : i * 1e9}.5;1\n`)],
    ['times at the end of the number line', rows(100, (i) => `${i}e300;1\n`)],
    ['times that do not move', rows(3000, () => '5.5;1\n')],
    ['values at the end of the number line', rows(100, (i) => `${i / 10};${i % 2 === 0 ? '' : '-'}9e37\n`)],
    ['a restart on every other line', rows(3000, (i) => `${(i % 2) / 10};1\n`)],
    ['a header on every other line', rows(3000, (i) => `t (s);T\n${i % 2 === 0 ? 0.1 : 0.5};1\n`)],
  ])('%s: answered at once', (_, text) => {
    const start = process.cpuUsage();
    survive(utf8(text), { delimiter: text.includes(';') ? ';' : ',' });
    survive(utf8(text));
    // Far above what it takes, far below what a quadratic way would take; of the processor, not of a busy machine.
    expect(process.cpuUsage(start).user / 1000).toBeLessThan(5000);
  });
});
