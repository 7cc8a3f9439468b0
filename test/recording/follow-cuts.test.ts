import { appendFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { analyzeOpened, openRecording } from '../../src/analysis/analyze-file.ts';
import { chainFor, sensorSettings } from '../../src/analysis/sensor.ts';
import { usualDecaySettings } from '../../src/decay/index.ts';
import { followRecording, readRecordingFile } from '../../src/recording/files.ts';
import { type ReadOptions, RecordingError } from '../../src/recording/index.ts';
import { toTrace } from '../../src/sensing/index.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';
import { digits, latin1, utf8, utf16 } from './helpers.ts';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-cuts-'));
});
afterAll(() => rmSync(folder, { recursive: true }));

/** All of a recording to the last digit, or the words of the refusal. */
async function outcome(read: () => unknown): Promise<string> {
  try {
    return digits(await read());
  } catch (error) {
    if (error instanceof RecordingError) return error.message;
    throw error;
  }
}

/** Writes bytes in bursts that end at the given places, and follows them with a look between some of them. */
async function followed(
  path: string,
  bytes: Uint8Array,
  cuts: readonly number[],
  looks: readonly boolean[],
  options: ReadOptions = {},
) {
  rmSync(path, { force: true });
  const file = followRecording(path, options);
  const places = [...cuts.map((cut) => cut % (bytes.length + 1)), bytes.length].sort((a, b) => a - b);
  let from = 0;
  for (const [i, to] of places.entries()) {
    appendFileSync(path, bytes.subarray(from, to));
    from = to;
    if (looks[i] === true) {
      await file.poll();
      await outcome(() => file.coarse(64));
      await outcome(() => file.recording('file'));
    }
  }
  await file.poll();
  return file;
}

const rows = (n: number, row: (i: number) => string) => Array.from({ length: n }, (_, i) => row(i)).join('');
const header = 'Time (s),T (°C)\r\n';
const clock = (i: number) => `12:00:${String(Math.floor(i / 10)).padStart(2, '0')}`;

const forms: Record<string, [bytes: Uint8Array, options?: ReadOptions]> = {
  'CRLF and overload marks': [
    utf8(header + rows(300, (i) => `${i / 10},${i % 7 === 3 ? 'OL' : 20 + (i % 90)}\r\n`)),
  ],
  'UTF-16': [utf16(`\ufeff${header}${rows(200, (i) => `${i / 10},${20 + (i % 90)}.5\r\n`)}`, 'le')],
  'CR alone': [utf8(`Time (s)\tT (°C)\r${rows(300, (i) => `${i / 10}\t${20 + (i % 90)}\r`)}`)],
  'decimal commas in Latin-1': [
    latin1(`Zeit (s);T (°C)\n${rows(300, (i) => `${i},5;${20 + (i % 90)},25\n`)}`),
  ],
  'stamps that repeat': [utf8(`Stamp,T (°C)\n${rows(400, (i) => `${clock(i)},${20 + (i % 90)}\n`)}`)],
  'restarts and a companion': [
    utf8(rows(3, (k) => `Time (s),T (°C),Room (°C)\n${rows(90 + k, (i) => `${i / 10},${k + i},21\n`)}`)),
    { channel: 'T', companions: ['Room'] },
  ],
  'a torn last line': [utf8(`${header}${rows(60, (i) => `${i / 10},${(20 + i).toFixed(3)}\r\n`)}6.0,8`)],
  'no recording': [utf8('no numbers here\r\nat all °C\r\n')],
};

test.each(Object.entries(forms))(
  'however bytes arrive, the recording is that of the file: %s',
  async (_, form) => {
    const [bytes, options = {}] = form;
    const path = join(folder, 'recording.csv');
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.nat(bytes.length), { maxLength: 12 }),
        fc.array(fc.boolean(), { minLength: 13, maxLength: 13 }),
        async (cuts, looks) => {
          const file = await followed(path, bytes, cuts, looks, options);
          const whole = await outcome(() => readRecordingFile(path, options));
          expect(await outcome(() => file.recording('file'))).toBe(whole);
          expect(await outcome(() => file.recording('file'))).toBe(whole);
        },
      ),
      { seed: 42, numRuns: 5 },
    );
  },
);

test('the same time constant to the last digit, from a followed file and from the whole one', async () => {
  const trial = simulateTrial({ ...plainTrial, rate: 200, timeConstant: 20, heating: 20 });
  const text = `Time (s),T (°C)\n${rows(trial.temperature.length, (i) => `${(i / 200).toFixed(3)},${(trial.temperature[i] ?? 0).toFixed(3)}\n`)}`;
  const path = join(folder, 'trial.csv');
  const file = await followed(path, utf8(text), [1000, 100_001, 262_150, 300_007], [true, true, true, true]);
  const request = { read: {}, chain: sensorSettings(null), zero: null };
  const whole = await analyzeOpened(await openRecording(path, request), usualDecaySettings);
  const recording = file.recording('file');
  const chain = chainFor(recording, request.chain, null);
  const live = await analyzeOpened(
    { recording, chain, trace: toTrace(recording, chain) },
    usualDecaySettings,
  );
  expect(readFileSync(path).length).toBeGreaterThan(1 << 18);
  expect(whole.decay.fit?.timeConstant).toBeGreaterThan(0);
  expect(digits(live)).toBe(digits(whole));
});

test('nothing is kept of a file that another takes the place of', async () => {
  const path = join(folder, 'next.csv');
  const first = utf8(header + rows(400, (i) => `${i / 10},${30 + (i % 9)}\r\n`));
  const file = await followed(path, first, [700], [true]);
  const second = utf8(`Time (s);T (°C)\n${rows(500, (i) => `${i / 100};${40 + (i % 9)}\n`)}`);
  writeFileSync(path, second);
  expect(await file.poll()).toMatchObject({ kind: 'restarted' });
  expect(digits(file.recording())).toBe(digits(await readRecordingFile(path)));
});
