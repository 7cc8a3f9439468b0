import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openRecordingFile, readSamples } from '../../src/index.ts';
import { readArchive } from '../../src/store/index.ts';
import { runCommand } from '../cli/run.ts';
import { courseIn, plain, put } from './folder.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-archive-library-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** An amplifier that shows 1.3 mV with its input shorted, a little more and less. */
const zero = 'recordings/A/A1/brass-12_60-2.txt';
const zeroRows = Array.from({ length: 400 }, (_, i) => `${i / 10}\t${(1.3 + 0.01 * (i % 3)).toFixed(3)}\n`);

async function archivedAs(recording: string): Promise<string> {
  const entries = await readArchive(join(folder, 'archive'));
  return join(folder, 'archive', entries.find((one) => one.recording === recording)?.file ?? '');
}

describe('a program that imports the library', () => {
  beforeAll(async () => {
    courseIn(folder);
    put(folder, zero, `Time (s)\tSphere (mV)\n${zeroRows.join('')}`);
    expect((await runCommand(['archive', folder])).status).toBe(0);
  });

  test('opens a recording of an archive as it opens its text', async () => {
    const text = await openRecordingFile(join(folder, plain), { name: plain });
    const archived = await openRecordingFile(await archivedAs(plain), { name: plain });
    expect({ ...archived, path: text.path }).toEqual(text);
    expect(await readSamples(archived, 1, 5, 100)).toEqual(await readSamples(text, 1, 5, 100));
  });

  test('gives the command a zero from either', async () => {
    const voltage = join(folder, 'voltage.txt');
    const rows = Array.from({ length: 900 }, (_, i) => {
      const excess = i < 100 ? 0 : i < 200 ? 0.03 * (i - 100) : 3 * Math.exp((200 - i) / 150);
      return `${i / 10}\t${(2.1 + excess + 1e-3 * (i % 5)).toFixed(4)}\n`;
    });
    put(folder, 'voltage.txt', `Time (s)\tSphere (mV)\n${rows.join('')}`);
    const by = async (file: string) => {
      const sensor = ['--thermocouple', 'T', '--junction', '21 degC', '--zero-recording', file];
      const { stdout, stderr } = await runCommand(['analyze', voltage, ...sensor, '--json']);
      expect(stderr).toBe('');
      const { timeConstant, recording } = JSON.parse(stdout);
      expect(recording.conversion).toContain(`zero 1.310 mV from ${file}`);
      return timeConstant;
    };
    const text = await by(join(folder, zero));
    expect(text.value).toBeGreaterThan(0);
    expect(await by(await archivedAs(zero))).toEqual(text);
  });
});
