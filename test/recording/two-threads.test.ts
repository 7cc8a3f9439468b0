import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { isDeepStrictEqual } from 'node:util';
import { afterAll, describe, expect, test } from 'vitest';
import { readRecordingFile, readSamples } from '../../src/recording/files.ts';
import { Reader } from '../../src/recording/reader.ts';
import { readWithSecond } from '../../src/recording/two-threads.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-two-threads-'));
afterAll(() => rmSync(folder, { recursive: true }));
const built = resolve('dist', 'second-thread.js');

const value = (i: number) => 20 + 60 * Math.exp(-i / 40_000) + Math.sin(i) / 50;
const plain = (i: number) => `${(i / 1000).toFixed(3)}\t${value(i).toFixed(4)}\n`;

/** Texts of some pieces, each with something that plain rows are interrupted by. */
const texts: Readonly<Record<string, () => string | Uint8Array>> = {
  'plain rows': () => `Time (s)\tTemperature (degC)\n${rows(170_000, plain)}`,
  'a last line without an end': () => `Time (s)\tTemperature (degC)\n${rows(100_000, plain)}400.000\t2`,
  'decimal commas, CRLF and a junction': () =>
    `Time (s);Ball (degC);Note\r\n${rows(90_000, (i) => `${(i / 1000).toFixed(3)};${value(i).toFixed(3)};${i % 7 ? 'x' : ''}\r\n`.replaceAll('.', ','))}`,
  'notes, blanks and overloads between the rows': () =>
    `Time (s)\tTemperature (degC)\n${rows(140_000, (i) =>
      i % 2011 === 7
        ? `# a note about row ${i}\n`
        : i % 1307 === 5
          ? `${(i / 1000).toFixed(3)}\t\n`
          : i % 1711 === 3
            ? `${(i / 1000).toFixed(3)}\tOVL\n`
            : plain(i),
    )}`,
  'a gap and a second start': () =>
    `Time (s)\tTemperature (degC)\n${rows(80_000, (i) => plain(i + (i > 40_000 ? 5000 : 0)))}${rows(90_000, plain)}`,
  'rows too short for the room': () => `Temperature (degC)\n${rows(600_000, (i) => `${i % 9}\n`)}`,
  'mostly other lines': () => `Time (s)\tTemperature (degC)\n${rows(60_000, (i) => `${plain(i)}\n`)}`,
};

function rows(count: number, row: (i: number) => string): string {
  const parts: string[] = [];
  for (let i = 0; i < count; i++) parts.push(row(i));
  return parts.join('');
}

function written(name: string, text: string | Uint8Array): string {
  const path = join(folder, `${name.replaceAll(/\W+/g, '-')}.txt`);
  writeFileSync(path, text);
  return path;
}

const options = { rate: 1000 };

describe('two threads', () => {
  test.each(Object.entries(texts))('read %s as one does', async (name, text) => {
    expect(existsSync(built), 'run npm run build first').toBe(true);
    const path = written(name, text());
    const settings = name.startsWith('rows too short') ? options : {};
    const alone = await readRecordingFile(path, settings);
    const told: number[] = [];
    const both = await readWithSecond(
      path,
      new Reader({ ...settings, name: path }),
      path,
      pathToFileURL(built),
      (bytes) => told.push(bytes),
    );
    expect(both).not.toBeNull();
    if (both === null) return;
    // Quicker than the runner's own comparison, which takes typed arrays apart.
    expect(isDeepStrictEqual(both, alone)).toBe(true);
    expect(told.at(-1)).toBe(alone.bytes);
    const end = alone.blocks.time.at(-1) ?? 0;
    const stretch = [0.4 * end, 0.4 * end + 2] as const;
    expect(await readSamples(both, ...stretch, 5000)).toEqual(await readSamples(alone, ...stretch, 5000));
  });

  test('leave a file that is not read as it is stored to one', async () => {
    const text = `\ufeffTime (s)\tTemperature (degC)\n${rows(60_000, plain)}`;
    const path = written('wide', Buffer.from(text, 'utf16le'));
    const both = await readWithSecond(path, new Reader({ name: path }), path, pathToFileURL(built));
    expect(both).toBeNull();
  });

  test.each([
    ['throws', `throw new Error('no');`],
    ['ends', 'process.exit(3);'],
    ['ends when it has its job', `parentPort.once('message', () => process.exit(3));`],
  ])('leave a file to one where the second %s', async (name, body) => {
    const path = written(name, `Time (s)\tTemperature (degC)\n${rows(60_000, plain)}`);
    const code = `import { parentPort } from 'node:worker_threads';\n${body}`;
    const module = new URL(`data:text/javascript,${encodeURIComponent(code)}`);
    expect(await readWithSecond(path, new Reader({ name: path }), path, module)).toBeNull();
  });

  test('say what is wrong with a file in the words that one thread uses', async () => {
    const path = written(
      'long line',
      `Time (s)\tTemperature (degC)\n${rows(60_000, plain)}${'7'.repeat(80_000)}\n`,
    );
    const said = (reading: Promise<unknown>) => reading.then(() => null, String);
    const words = await said(readRecordingFile(path));
    expect(words).toMatch(/line/i);
    expect(await said(readWithSecond(path, new Reader({ name: path }), path, pathToFileURL(built)))).toBe(
      words,
    );
  });
});
