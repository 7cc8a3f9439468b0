import {
  appendFileSync,
  cpSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { appendDecision, appendRelease, openTrail, textHash } from '../../src/store/index.ts';
import { experimentText } from '../server/app.ts';
import { runCommand } from './run.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-verify-'));
const whole = join(base, 'whole');
let copy = '';
let copies = 0;

const recording = 'recordings/g1/brass-12_60-1.txt';
const text = '0 80\n1 70\n';
const sheet = 'submissions/g1/2026-03-02T09-00-00-000Z-sheet.csv';
const sheetText = 'group,recording,time constant / s\ng1,x,12\n';
const at = '2026-03-02T09:00:00Z';

beforeAll(async () => {
  for (const folder of ['recordings/g1', 'submissions/g1']) {
    mkdirSync(join(whole, folder), { recursive: true });
  }
  writeFileSync(join(whole, 'experiment.yaml'), experimentText);
  writeFileSync(join(whole, recording), text);
  writeFileSync(join(whole, sheet), sheetText);
  const trail = openTrail(whole, { now: () => Date.parse(at) });
  const who = { role: 'group', group: 'g1', label: 'group g1' };
  await trail.write({ who, deed: 'signed-in' });
  await trail.write({ who, deed: 'recording-kept', about: recording, sha256: textHash(text) });
  await trail.write({ who, deed: 'sheet-taken', about: sheet, sha256: textHash(sheetText) });
  const circumstances = { who: 'IK', why: 'a draught', at, sha256: textHash(text) };
  await appendDecision(whole, recording, { kind: 'reject' }, circumstances);
  await appendRelease(whole, { section: null, at, who: 'IK', released: true });
});
afterAll(() => rmSync(base, { recursive: true, force: true }));
beforeEach(() => {
  copies += 1;
  copy = join(base, `copy ${copies}`);
  cpSync(whole, copy, { recursive: true });
});

/** The text on one line, as far as it is about what was found. */
async function verified() {
  const { status, stdout } = await runCommand(['verify', copy]);
  return { status, said: stdout.replace(/\s+/g, ' ') };
}

describe('emberline verify', () => {
  test('says that a copy is whole, and where its trail ends', async () => {
    const { status, said } = await verified();
    expect(status).toBe(0);
    expect(said).toMatch(/: whole trail 3 lines; the last one is 3, [0-9a-f]{64} /);
    expect(said).toContain('recordings 1, 1 of them as the trail says handed in 1, 1 of them');
    expect(said).not.toMatch(/fault|note/);
  });

  test('says the same as one JSON object', async () => {
    const { status, stdout } = await runCommand(['verify', copy, '--json']);
    expect(status).toBe(0);
    expect(JSON.parse(stdout)).toMatchObject({
      whole: true,
      trail: { lines: 3, days: 1, end: { number: 3 } },
      recordings: { there: 1, vouched: 1 },
      decisions: 1,
      bytes: text.length + sheetText.length,
      findings: [],
    });
  });

  const inCopy = (path: string) => join(copy, path);
  test.each([
    ['a recording that is missing', () => rmSync(inCopy(recording)), `${recording} is missing`],
    ['a recording that was changed', () => appendFileSync(inCopy(recording), '2 60\n'), 'has other bytes'],
    ['a sheet that is missing', () => rmSync(inCopy(sheet)), `${sheet} is missing`],
    [
      'a recording behind a link that leads out',
      () => {
        rmSync(inCopy('recordings'), { recursive: true });
        symlinkSync(join(whole, 'recordings'), inCopy('recordings'));
      },
      'recordings is a link that leads out of the folder',
    ],
    [
      'decisions with a fault',
      () => writeFileSync(inCopy(`decisions/${recording}.json`), '{'),
      'is not JSON',
    ],
    ['releases with a fault', () => writeFileSync(inCopy('releases.json'), '[]'), 'releases.json: '],
    [
      'checks of rigs with a fault',
      () => {
        mkdirSync(inCopy('rig'));
        writeFileSync(inCopy('rig/checks.json'), '{"about":""}');
      },
      'rig/checks.json: ',
    ],
    [
      'an experiment file with a fault',
      () => writeFileSync(inCopy('experiment.yaml'), 'bodies: 7\n'),
      'bodies',
    ],
    [
      'a trail with a gap',
      () => {
        const lines = readFileSync(inCopy('trail/2026-03-02.tsv'), 'utf8').split('\n');
        writeFileSync(inCopy('trail/2026-03-02.tsv'), lines.filter((_, i) => i !== 1).join('\n'));
      },
      'a line was taken out',
    ],
  ])('finds %s', async (_, change, expected) => {
    await change();
    const { status, said } = await verified();
    expect(status).toBe(1);
    expect(said).toContain('something is missing or was changed');
    expect(said).toContain('fault');
    expect(said).toContain(expected);
    expect(said).not.toContain(`${copy}/`);
  });

  test.each([
    [
      'a recording that was put there by hand',
      () => writeFileSync(inCopy('recordings/g1/brass-12_60-2.txt'), text),
      '1 recording is not in the trail, as where it was put there by hand',
    ],
    [
      'what a killed program left behind',
      () => writeFileSync(inCopy('recordings/g1/.brass.txt.0123456789ab.tmp'), 'x'),
      '.brass.txt.0123456789ab.tmp was left by a program that was killed',
    ],
    [
      'a torn last line',
      () => appendFileSync(inCopy('trail/2026-03-02.tsv'), '4\t20'),
      'the middle of a line',
    ],
  ])('only notes %s', async (_, change, expected) => {
    change();
    const { status, said } = await verified();
    expect(status).toBe(0);
    expect(said).toContain('note');
    expect(said).toContain(expected);
  });

  test('reads nothing outside the folder, whatever the trail says', async () => {
    const trail = openTrail(copy, { now: () => Date.parse(at) });
    const who = { role: 'group', group: 'g1', label: 'group g1' };
    const about = '../whole/experiment.yaml';
    await trail.write({ who, deed: 'recording-kept', about, sha256: textHash(experimentText) });
    const { status, said } = await verified();
    expect(status).toBe(1);
    expect(said).toContain(`${about} is missing, or cannot be read`);
  });

  test('says where there is no such folder', async () => {
    const { status, stderr } = await runCommand(['verify', join(base, 'none')]);
    expect(status).toBe(2);
    expect(stderr).toContain('there is no such folder');
  });
});
