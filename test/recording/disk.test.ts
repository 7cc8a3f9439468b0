import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readRecordingFile, readSamples } from '../../src/recording/files.ts';
import { createReader, RecordingError } from '../../src/recording/index.ts';
import { utf16 } from './helpers.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

function save(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

async function refusal(path: string): Promise<RecordingError> {
  const error: unknown = await readRecordingFile(path).catch((e: unknown) => e);
  if (error instanceof RecordingError) return error;
  throw new Error('The file was read.');
}

const rows = (n: number, row: (i: number) => string) => Array.from({ length: n }, (_, i) => row(i)).join('');
const n = 60_000;
const value = (i: number) => (i % 1000 === 7 ? 'OL' : (20 + Math.sin(i / 5000)).toFixed(5));
const text = `Time (s),T (°C)\r\n${rows(n, (i) => `${(i / 1000).toFixed(4)},${value(i)}\r\n`)}`;
/** All samples of that text, made without the reader. */
const samples = Array.from({ length: n }, (_, i) => ({
  time: Number((i / 1000).toFixed(4)),
  value: Number(value(i)),
})).filter((s) => !Number.isNaN(s.value));

/** All that a recording holds, to the last digit. */
function digits(recording: unknown): string {
  return JSON.stringify(recording, (_, x) => (x instanceof Float64Array ? x.join() : x));
}

describe('files', () => {
  test('a file is read as its bytes are', async () => {
    const path = save('plain.csv', text);
    const seen: number[] = [];
    const file = await readRecordingFile(path, {}, (bytes) => seen.push(bytes));
    const reader = createReader({ name: path });
    reader.push(new TextEncoder().encode(text));
    const expected = {
      ...reader.finish(),
      path,
      sha256: createHash('sha256').update(text).digest('hex'),
      bytes: Buffer.byteLength(text),
    };
    expect(digits(file)).toBe(digits(expected));
    expect(file.samples).toBe(samples.length);
    expect(seen.at(-1)).toBe(file.bytes);
  });

  test('gzip is told by its first bytes and gives the same', async () => {
    const packed = gzipSync(text);
    const plain = await readRecordingFile(save('a.csv', text), { name: 'x' });
    const zipped = await readRecordingFile(save('b.csv', packed), { name: 'x' });
    expect(zipped.sha256).toBe(createHash('sha256').update(packed).digest('hex'));
    expect(zipped.bytes).toBe(packed.length);
    expect({ ...zipped, path: '', sha256: '', bytes: 0 }).toEqual({
      ...plain,
      path: '',
      sha256: '',
      bytes: 0,
    });
  });

  test('damaged gzip is refused', async () => {
    const packed = gzipSync(text);
    expect((await refusal(save('cut.gz', packed.subarray(0, packed.length / 2)))).code).toBe('unreadable');
    expect(
      (
        await refusal(
          save(
            'bad.gz',
            packed.map((b, i) => (i === 5000 ? b ^ 255 : b)),
          ),
        )
      ).code,
    ).toBe('unreadable');
  });

  test('an archive that unpacks beyond reason is refused', async () => {
    const bomb = Buffer.concat([
      gzipSync('Time (s),T (°C)\n0.0,1\n0.1,2\n'),
      ...new Array(12).fill(gzipSync('0.2,3\n'.repeat(1e6), { level: 9 })),
    ]);
    const error = await refusal(save('bomb.gz', bomb));
    expect(error.code).toBe('archive-suspicious');
  });

  test('what is no file is refused with words', async () => {
    mkdirSync(join(folder, 'recordings'));
    expect(await refusal(join(folder, 'recordings'))).toMatchObject({
      code: 'not-a-file',
      message: expect.stringContaining('folder'),
    });
    expect(await refusal(join(folder, 'nothing.csv'))).toMatchObject({
      code: 'unreadable',
      message: expect.stringContaining('no such file'),
    });
    expect(await refusal(save('empty.csv', ''))).toMatchObject({ code: 'empty' });
    expect(await refusal('/dev/zero')).toMatchObject({
      code: 'not-a-file',
      message: expect.stringContaining('device'),
    });
    expect(await refusal(`${folder}/a\0b`)).toMatchObject({ code: 'not-a-file' });
    const makePipe = 'mkfifo';
    execFileSync(makePipe, [join(folder, 'pipe')]);
    expect(await refusal(join(folder, 'pipe'))).toMatchObject({ code: 'not-a-file' });
  });
});

describe('a stretch read once more', () => {
  const stretches = [
    [0, 0.01, 1e6],
    [0, 1e9, 1e6],
    [-5, 0.0055, 1e6],
    [30, 31, 1e6],
    [59.99, 60, 1e6],
    [12.3456, 45.6789, 100],
    [45, 45, 1e6],
    [70, 80, 1e6],
    [10, 20, 0],
  ] as const;

  test.each([
    ['plain', text],
    ['gzip', gzipSync(text)],
    ['UTF-16', utf16(`\ufeff${text}`, 'le')],
    ['with a mark', `\ufeff${text}`],
  ])('%s', async (name, content) => {
    const file = await readRecordingFile(save(`again-${name}`, content));
    for (const [from, to, most] of stretches) {
      const expected = samples.filter((s) => s.time >= from && s.time <= to).slice(0, most);
      const got = await readSamples(file, from, to, most);
      expect([...got.time]).toEqual(expected.map((s) => s.time));
      expect([...got.value]).toEqual(expected.map((s) => s.value));
    }
  });

  test('of the part that was chosen, with times that were repaired', async () => {
    // Two parts; in the second, stamps of one second hold 200 samples each and pass midnight.
    const stamp = (s: number) =>
      `${String(Math.floor(s / 3600) % 24).padStart(2, '0')}:${String(Math.floor(s / 60) % 60).padStart(2, '0')}:${String(s % 60).padStart(2, '0')}`;
    const header = 'Time,T (°C)\n';
    const first = header + rows(4000, (i) => `${stamp(43_200 + Math.floor(i / 200))},1\n`);
    const second = header + rows(60_000, (i) => `${stamp(86_300 + Math.floor(i / 200))},${i}.5\n`);
    const file = await readRecordingFile(save('parts.csv', first + second));
    expect(file.samples).toBe(60_000);
    expect(file.duration).toBeCloseTo(299.995, 6);
    const got = await readSamples(file, 150, 150.1, 1000);
    expect(got.value.length).toBeGreaterThanOrEqual(20);
    got.value.forEach((v, k) => {
      expect(got.time[k]).toBeCloseTo((v - 0.5) / 200, 6);
    });
  });

  test('a copy of the recording finds its file as well; another object does not', async () => {
    const file = await readRecordingFile(save('copy.csv', text));
    expect((await readSamples({ ...file }, 1, 1.001, 10)).value).toHaveLength(2);
    await expect(readSamples({ ...file, blocks: { ...file.blocks } }, 1, 2, 10)).rejects.toThrow(TypeError);
    rmSync(file.path);
    await expect(readSamples(file, 1, 2, 10)).rejects.toThrow('no such file');
  });
});
