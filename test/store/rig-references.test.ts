import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { NewReferenceRun } from '../../src/rig/index.ts';
import {
  appendReferenceRun,
  RigCheckError,
  readReferenceRuns,
  referenceRunsPath,
  withdrawReferenceRun,
} from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-reference-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

let number = 0;
function folder(): string {
  number += 1;
  const path = join(root, String(number));
  mkdirSync(path);
  return path;
}

const run: NewReferenceRun = {
  at: '2026-03-02T10:00:00.000Z',
  who: 'IK',
  term: '2026-spring',
  bench: 'bench-1',
  recording: 'reference/a.txt',
  sha256: 'a'.repeat(64),
  body: 'brass-12',
  flow: '120',
  timeConstant: 38,
  standardUncertainty: 0.3,
  interval: [37.4, 38.6],
  expected: null,
  note: '',
};

async function refusal(work: Promise<unknown>): Promise<string> {
  return work.then(
    () => 'kept',
    (error: unknown) => (error instanceof RigCheckError ? error.message : String(error)),
  );
}

describe('the book of reference runs', () => {
  test('keeps runs with their names and those that were taken back', async () => {
    const path = folder();
    expect(await readReferenceRuns(path)).toEqual({ runs: [], withdrawn: [] });
    await appendReferenceRun(path, run);
    const book = await appendReferenceRun(path, { ...run, bench: null, timeConstant: 40 });
    expect(book.runs.map(({ id, timeConstant }) => [id, timeConstant])).toEqual([
      ['r1', 38],
      ['r2', 40],
    ]);
    const why = 'of another bench';
    const back = await withdrawReferenceRun(path, { id: 'r1', at: run.at, who: ' IK ', why });
    expect(back.runs).toHaveLength(2);
    expect(back.withdrawn).toEqual([{ id: 'r1', at: run.at, who: 'IK', why }]);
    expect(await readReferenceRuns(path)).toEqual(back);
    expect(await refusal(withdrawReferenceRun(path, { id: 'r1', at: run.at, who: 'IK', why }))).toContain(
      'reference run r1 is taken back already',
    );
    expect(await refusal(withdrawReferenceRun(path, { id: 'r9', at: run.at, who: 'IK', why }))).toContain(
      'there is no reference run r9',
    );
    expect(await refusal(withdrawReferenceRun(path, { id: 'r2', at: run.at, who: '', why }))).toContain(
      'give both',
    );
  });

  test('loses nothing where two write at once', async () => {
    const path = folder();
    await Promise.all([1, 2, 3, 4].map((i) => appendReferenceRun(path, { ...run, timeConstant: i })));
    const { runs } = await readReferenceRuns(path);
    expect(runs.map(({ timeConstant }) => timeConstant).sort()).toEqual([1, 2, 3, 4]);
    expect(runs.map(({ id }) => id)).toEqual(['r1', 'r2', 'r3', 'r4']);
  });

  test.each([
    ['{', 'is not JSON'],
    ['{"about":"","runs":[{}],"withdrawn":[]}', 'runs › number 1'],
    [`{"about":"","runs":[],"withdrawn":[],"more":1}`, 'more'],
  ])('says what is wrong with a file that was edited: %s', async (text, words) => {
    const path = folder();
    mkdirSync(dirname(referenceRunsPath(path)));
    writeFileSync(referenceRunsPath(path), text);
    expect(await refusal(readReferenceRuns(path))).toContain(words);
    expect(await refusal(appendReferenceRun(path, run))).toContain(words);
    expect(readFileSync(referenceRunsPath(path), 'utf8')).toBe(text);
  });
});
