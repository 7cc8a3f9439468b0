import { cpSync, mkdirSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type FolderAnalysis,
  findRecordings,
  measureFolder,
  openAnalysis,
} from '../../src/analysis/index.ts';
import { beganAt } from '../../src/analysis/rig-of-recording.ts';
import type { NewRigCheck } from '../../src/rig/index.ts';
import { detail, recordingList } from '../../src/server/contract/index.ts';
import { appendRigCheck, readExperiment, withdrawRigCheck } from '../../src/store/index.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-rig-of-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const group = join('recordings', 'A', 'A1');
const demo = join('demo', 'thornwick');
// Group A1 works at bench-1.
const [name = ''] = readdirSync(join(demo, group)).filter((one) => one.startsWith('brass-12_'));
const path = `recordings/A/A1/${name}`;

let analysis: FolderAnalysis;
let began = 0;

beforeAll(async () => {
  mkdirSync(join(folder, group), { recursive: true });
  cpSync(join(demo, 'experiment.yaml'), join(folder, 'experiment.yaml'));
  cpSync(join(demo, group, name), join(folder, group, name), { preserveTimestamps: true });
  analysis = await openAnalysis(folder);
  await analysis.settled();
  began = Date.parse(listed().startedAt ?? '');
});
afterAll(() => analysis.close());

function listed() {
  const [only] = recordingList.parse(analysis.list()).recordings;
  if (only === undefined) throw new Error('the folder has no recording');
  return only;
}

async function checked(check: Partial<NewRigCheck> & { readonly minutes: number }) {
  const { minutes, ...given } = check;
  const at = new Date(began + minutes * 60_000).toISOString();
  const zero = { kind: 'zero', subject: null, value: 9e-3, written: '9 mV' } as const;
  const book = await appendRigCheck(folder, { at, who: 'IK', bench: 'bench-1', note: '', ...zero, ...given });
  await analysis.refresh();
  await analysis.settled();
  return book.checks.at(-1)?.id ?? '';
}

async function takeBack(id: string): Promise<void> {
  await withdrawRigCheck(folder, { id, at: new Date(0).toISOString(), who: 'IK', why: 'a test' });
  await analysis.refresh();
  await analysis.settled();
}

describe('what a recording says of its rig', () => {
  test('is nothing where nobody checked', () => {
    expect(listed().codes.filter((code) => code.startsWith('rig'))).toEqual([]);
  });

  test('is the check that had failed, in list, detail and what is compared, with the same time constant', async () => {
    const before = await analysis.detail(path);
    const id = await checked({ minutes: -30 });
    expect(listed()).toMatchObject({
      verdict: 'usable-with-remarks',
      codes: expect.arrayContaining(['rig-check-outside']),
      timeConstant: before.timeConstant,
    });
    const whole = detail.parse(await analysis.detail(path));
    expect(whole.timeConstant).toEqual(before.timeConstant);
    expect(whole.estimates).toEqual(before.estimates);
    expect(whole.verdict).toBe('usable-with-remarks');
    expect(whole.figure.verdict).toBe('usable, with remarks');
    expect(whole.remarks.at(-1)).toMatchObject({ code: 'rig-check-outside', severity: 'caution' });
    expect(whole.remarks.at(-1)?.message).toContain('9 mV; it should be 1.3 mV ± 2.4 mV');
    const experiment = await readExperiment(folder);
    const measured = await measureFolder(folder, experiment, await findRecordings(folder, experiment, []));
    const [noted] = measured.recordings;
    expect(noted?.notes.at(-1)).toMatchObject({ code: 'rig-check-outside', severity: 'caution' });
    expect(noted?.timeConstant).toBe(before.timeConstant?.value);
    const [first] = analysis.comparison().noted;
    expect(first).toMatchObject({ code: 'rig-check-outside', severity: 'caution', paths: [path] });
    expect(first?.message).toContain('9 mV; it should be 1.3 mV ± 2.4 mV');
    await takeBack(id);
    expect(analysis.comparison().noted.filter(({ code }) => code.startsWith('rig'))).toEqual([]);
    expect(listed().codes).toEqual(before.codes);
    expect(detail.parse(await analysis.detail(path))).toEqual(before);
  });

  test('is a note where the check was too old', async () => {
    const before = listed();
    const id = await checked({ minutes: -24 * 60, value: 1.3e-3, written: '1.3 mV' });
    expect(listed().codes).toEqual([...before.codes, 'rig-check-stale']);
    expect(listed().verdict).toBe(before.verdict);
    await takeBack(id);
  });

  test('is nothing of a check that was made later, or at another bench', async () => {
    const before = listed().codes;
    const later = await checked({ minutes: 30 });
    const other = await checked({ minutes: -30, bench: 'bench-2' });
    expect(listed().codes).toEqual(before);
    await takeBack(later);
    await takeBack(other);
  });
});

describe('when a recording began', () => {
  const modified = Date.parse('2026-03-02T10:05:00Z');

  test('is what its file says, in the zone that it names', () => {
    const startedAt = '2026-03-02T10:00:00+01:00';
    expect(beganAt({ startedAt, duration: 60, modified })).toBe(Date.parse('2026-03-02T09:00:00Z'));
  });

  test.each([null, '2026-03-02', 'noon'])(
    'is its length before the file was last written for %s',
    (startedAt) => {
      expect(beganAt({ startedAt, duration: 60, modified })).toBe(Date.parse('2026-03-02T10:04:00Z'));
      expect(beganAt({ startedAt, duration: 60, modified: null })).toBeNaN();
    },
  );
});
