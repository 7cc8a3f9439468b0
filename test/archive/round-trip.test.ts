import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { afterAll, describe, expect, test } from 'vitest';
import { openRecordingFile, recordingHash } from '../../src/archive/index.ts';
import { sameSamples } from '../../src/archive/same-samples.ts';
import { writeArchiveFile } from '../../src/archive/write.ts';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import { dialects } from '../../src/practice/dialect.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';
import { type RecordingFile, readRecordingFile, readSamples } from '../../src/recording/files.ts';
import { type ReadOptions, RecordingError } from '../../src/recording/index.ts';
import { benchTrial } from '../practice/bench.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-round-trip-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
let made = 0;

/** A text on the disk, and the file that it was archived in; the two were held against each other. */
async function archived(bytes: string | Uint8Array, reading: ReadOptions = {}) {
  made += 1;
  const text = join(root, `text-${made}.txt`);
  const file = join(root, `text-${made}.parquet`);
  writeFileSync(text, bytes);
  await writeArchiveFile({ text, recording: `recordings/text-${made}.txt`, reading, modified: 0 }, file);
  await sameSamples(text, file, 'a recording');
  return { text, file };
}

/** A recording apart from where it was read. */
function apart({ path: _path, ...recording }: RecordingFile) {
  return recording;
}

async function expectSame({ text, file }: { text: string; file: string }, options: ReadOptions = {}) {
  const named = { ...options, name: 'a recording' };
  const expected = await readRecordingFile(text, named);
  const read = await openRecordingFile(file, named);
  expect(apart(read)).toStrictEqual(apart(expected));
  expect(await recordingHash(file)).toBe(expected.sha256);
  const third = expected.duration / 3;
  for (const [from, to, most] of [
    [0, expected.duration, 50],
    [third, 2 * third, 1000],
    [-1, expected.duration + 1, 3],
  ] as const) {
    expect(await readSamples(read, from, to, most)).toStrictEqual(
      await readSamples(expected, from, to, most),
    );
  }
}

const header = 'Time (s)\tSphere (degC)\tRoom (degC)\n';
const rows = (count: number, row: (i: number) => string) =>
  Array.from({ length: count }, (_, i) => `${row(i)}\n`).join('');
const cooling = (i: number) => (20 + 60 * Math.exp(-i / 300)).toFixed(3);

/** Texts in the ways of loggers, each with something of its own. */
const texts: Readonly<Record<string, readonly [string | Uint8Array, ReadOptions?]>> = {
  'two channels with gaps in one of them': [
    header + rows(900, (i) => `${(i / 10).toFixed(1)}\t${cooling(i)}\t${i % 7 === 0 ? '' : '21.5'}`),
  ],
  'overload marks, blanks and comments': [
    header +
      rows(900, (i) => {
        if (i === 100) return '# door opened';
        const value = i > 200 && i < 220 ? 'OVL' : i === 300 ? '' : i === 400 ? 'NaN' : cooling(i);
        return `${(i / 10).toFixed(1)}\t${value}\t21.5`;
      }),
  ],
  'a logger that began again': [
    header +
      rows(400, (i) => `${(i / 10).toFixed(1)}\t${cooling(i)}\t21`) +
      header +
      rows(700, (i) => `${(i / 10).toFixed(1)}\t${cooling(i)}\t22`),
  ],
  'stamps of whole seconds that are spread': [
    `Time;T\n${rows(900, (i) => `2026-03-02 10:${String(Math.floor(i / 600)).padStart(2, '0')}:${String(Math.floor(i / 10) % 60).padStart(2, '0')};${cooling(i)}`)}`,
  ],
  'times out of order, repeated, and a gap': [
    header +
      rows(900, (i) => {
        const at = i === 50 ? 48 : i === 80 ? 79 : i > 500 ? i + 1000 : i;
        return `${(at / 10).toFixed(1)}\t${cooling(i)}\t21`;
      }),
  ],
  'decimal commas and a midnight': [
    `Uhrzeit;Kugel (°C)\n${rows(900, (i) => {
      const at = (86_000 + i) % 86_400;
      const two = (n: number) => String(Math.floor(n)).padStart(2, '0');
      return `${two(at / 3600)}:${two((at / 60) % 60)}:${two(at % 60)};${cooling(i).replace('.', ',')}`;
    })}`,
  ],
  'UTF-16 with a mark': [
    Buffer.from(
      `\ufeffTime (s);Sphère (°C)\r\n${rows(900, (i) => `${(i / 10).toFixed(1)};${cooling(i)}\r`)}`,
      'utf16le',
    ),
  ],
  gzip: [gzipSync(header + rows(900, (i) => `${(i / 10).toFixed(1)}\t${cooling(i)}\t21`))],
  'no time column, and a rate from a person': [rows(900, cooling), { rate: 10 }],
  'numbers of all sizes, and minus zero': [
    `Time (s);U (V)\n${rows(900, (i) => `${(i / 10).toFixed(1)};${['-0', '1e-300', '-4.9e-324', '0.1', '123456789.123456789', '1.7e308'][i % 6]}`)}`,
  ],
  'zeros of either sign among few values, as in an ice bath': [
    header +
      rows(900, (i) => `${(i / 10).toFixed(1)}\t${cooling(i)}\t${['0.00', '-0.00', '0.01', '-0.01'][i % 4]}`),
  ],
  'one that is longer than its opening': [
    `Logger: bench 3\n${header}${rows(40_000, (i) => `${(i / 100).toFixed(2)}\t${cooling(i / 10)}\t21.${i % 10}`)}`,
  ],
};

const simulated = simulateRecording(benchTrial);

describe('a recording from the archive', () => {
  test.each(Object.entries(texts))('is that of the text: %s', async (_name, [bytes, reading = {}]) => {
    await expectSame(await archived(bytes, reading), reading);
  });

  test.each(dialects.map((dialect) => [dialect.name, dialect] as const))(
    'is that of the text, as a logger of the kind %s writes it',
    async (name, dialect) => {
      const { trial } = simulated;
      const written = { ...simulated, trial: { ...trial, logger: { ...trial.logger, dialect: name } } };
      const reading: ReadOptions = {
        ...(dialect.statesRate || dialect.writesTime ? {} : { rate: trial.logger.rate }),
        ...(dialect.statesUnit ? {} : { unit: trial.chain.output.unit }),
      };
      await expectSame(await archived(Buffer.concat([...recordingBytes(written)]), reading), reading);
    },
  );

  test('is that of the text, whatever can be read at all', async () => {
    const cell = fc.oneof(
      { weight: 20, arbitrary: fc.double({ noNaN: true }).map(String) },
      fc.constantFrom('', 'OVER', 'NaN', '-0', 'x', '# note', '1e999'),
    );
    const row = fc.tuple(fc.integer({ min: -3, max: 12 }), cell, cell);
    await fc.assert(
      fc.asyncProperty(fc.array(row, { minLength: 10, maxLength: 120 }), async (steps) => {
        let time = 0;
        const lines = steps.map(([step, own, other]) => {
          time += step < 10 ? Math.max(step, -1) || 1 : 100 * step;
          return `${time}\t${own}\t${other}\n`;
        });
        const text = `${header}0\t20\t21\n1\t21\t21\n2\t20\t21\n${lines.join('')}`;
        const file = join(root, `any-${made}.txt`);
        writeFileSync(file, text);
        const readable = await readRecordingFile(file).then(
          () => true,
          (error: unknown) => {
            if (!(error instanceof RecordingError)) throw error;
            return false;
          },
        );
        fc.pre(readable);
        await expectSame(await archived(text));
      }),
      { numRuns: 20 },
    );
  });

  test('may be asked for in another unit, for another part and with another channel beside it', async () => {
    const pair = await archived(
      `Time (s)\tA\tB\n${rows(500, (i) => `${i / 10}\t${cooling(i)}\t21.${i % 9}`)}Time (s)\tA\tB\n${rows(90, (i) => `${i / 10}\t${cooling(i)}\t22.${i % 9}`)}`,
      { channel: 'A' },
    );
    await expectSame(pair, { channel: 2, unit: 'degF', segment: 2, companions: ['B'] });
    await expectSame(pair, { channel: 'a', unit: 'K' });
  });

  test('is not made up where another reading is asked for than it was made by', async () => {
    const { file } = await archived(`U1;U2\n${rows(500, (i) => `${cooling(i)};${21 + (i % 9)}`)}`, {
      rate: 10,
      channel: 1,
    });
    await expect(openRecordingFile(file, { rate: 20, channel: 1 })).rejects.toThrow(
      /made by reading the text channel 1, sampled at 10 Hz; read otherwise/,
    );
    await expect(openRecordingFile(file, { channel: 1 })).rejects.toThrow(/read otherwise/);
    await expect(openRecordingFile(file, { rate: 10, channel: 2 })).rejects.toThrow(
      /Column 2 \("U2"\) is asked for; the archive was made for column 1/,
    );
    await expect(openRecordingFile(file, { rate: 10, channel: 1, segment: 2 })).rejects.toThrow(
      /There is no part 2/,
    );
  });
});

describe('text and archive', () => {
  test('are held against each other, sample by sample', async () => {
    const { file } = await archived(header + rows(900, (i) => `${i / 10}\t${cooling(i)}\t21`));
    const other = join(root, 'other.txt');
    const changed = (from: number) => {
      writeFileSync(
        other,
        header + rows(900, (i) => `${i / 10}\t${i === from ? '-0' : cooling(i)}\t${from < 0 ? 22 : 21}`),
      );
      return sameSamples(other, file, 'a recording');
    };
    await expect(changed(700)).rejects.toThrow(/not the same: sample 701 is another one/);
    await expect(changed(-1)).rejects.toThrow(/sample 1 is another one/);
    writeFileSync(other, header + rows(899, (i) => `${i / 10}\t${cooling(i)}\t21`));
    await expect(sameSamples(other, file, 'a recording')).rejects.toThrow(/holds more samples than the text/);
    writeFileSync(other, header + rows(901, (i) => `${i / 10}\t${cooling(i)}\t21`));
    await expect(sameSamples(other, file, 'a recording')).rejects.toThrow(/ends after sample 900/);
    // The same samples in other bytes.
    writeFileSync(other, header + rows(900, (i) => `${i / 10}\t${cooling(i)}0\t21`));
    await expect(sameSamples(other, file, 'a recording')).rejects.toThrow(/other bytes/);
  });
});
