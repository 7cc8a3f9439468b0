import { createHash } from 'node:crypto';
import {
  cpSync,
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  unlinkSync,
  writeFileSync,
} from 'node:fs';
import { readFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import type { Essence } from '../../src/analysis/essence.ts';
import {
  type Analyst,
  findRecordings,
  keptTrials,
  measureFolder,
  openAnalysis,
} from '../../src/analysis/index.ts';
import { readExperiment } from '../../src/store/index.ts';

const root = mkdtempSync(join(tmpdir(), 'emberline-kept-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));

const many = 40;
const pathOf = (i: number) => `recordings/A/A1/brass-12_120-${i + 1}.txt`;
const constantOf = (i: number) => 30 + i;

/** A folder of files that hold nothing but their time constant, for an analyst that reads them so. */
function folderFor(name: string, count = many): string {
  const folder = join(root, name);
  mkdirSync(join(folder, 'recordings', 'A', 'A1'), { recursive: true });
  cpSync(join('examples', 'thornwick', 'experiment.yaml'), join(folder, 'experiment.yaml'));
  for (let i = 0; i < count; i++) writeFileSync(join(folder, pathOf(i)), `${constantOf(i)} ${i}`);
  return folder;
}

function essenceFor(value: number): Essence {
  return {
    timeConstant: {
      value,
      standardUncertainty: 0.1,
      interval: [value - 0.2, value + 0.2],
      coverage: 0.95,
      degreesOfFreedom: 50,
      method: 'exponential-fit',
    },
    verdict: 'usable',
    codes: [],
    strip: { x: [0, 1], y: [0, -1] },
    sketch: [null, 1, 2],
    chain: null,
    duration: 100,
    startedAt: null,
    run: { own: 0.003, shared: 0.002 },
    noise: null,
    ambient: 22,
    beside: null,
    excluded: null,
    cautions: [],
    graver: [],
  };
}

function counted(): { analyst: Analyst; calls: string[] } {
  const calls: string[] = [];
  return {
    calls,
    analyst: async ({ file }) => {
      calls.push(file.slice(file.indexOf('recordings/')));
      const bytes = await readFile(file);
      const essence = essenceFor(Number(bytes.toString().split(' ')[0]));
      const sha256 = createHash('sha256').update(bytes).digest('hex');
      return { sha256, result: { kind: 'analyzed', essence } };
    },
  };
}

/** What the list of a folder says, and what had to be analyzed for it. */
async function listed(folder: string) {
  const { analyst, calls } = counted();
  const analysis = await openAnalysis(folder, { analyst });
  await analysis.settled();
  const values = new Map(
    analysis.list().recordings.map(({ path, timeConstant }) => [path, timeConstant?.value]),
  );
  await analysis.close();
  return { values, calls };
}

const indexOf = (folder: string) => join(folder, 'results', '.index.json');
const resultOf = (folder: string, i: number) => join(folder, 'results', `${pathOf(i)}.json`);
const expected = new Map(
  Array.from({ length: many }, (_, i) => [pathOf(i), constantOf(i)] as const).sort(([a], [b]) =>
    a < b ? -1 : 1,
  ),
);

/** Puts something else in place of a time constant that is kept. */
function tamper(path: string, i: number, value: number): void {
  writeFileSync(path, readFileSync(path, 'utf8').replace(`{"value":${constantOf(i)},`, `{"value":${value},`));
}

describe('what is kept of many recordings', () => {
  test('is read from one file the next time', async () => {
    const folder = folderFor('index');
    expect(await listed(folder)).toMatchObject({ values: expected, calls: { length: many } });
    // Only whoever reads the index can know of this.
    tamper(indexOf(folder), 7, 77);
    expect(await listed(folder)).toEqual({ values: new Map(expected).set(pathOf(7), 77), calls: [] });
    const experiment = await readExperiment(folder);
    const trials = await keptTrials(folder, experiment);
    expect(trials.find(({ summary }) => summary.path === pathOf(7))?.summary.timeConstant?.value).toBe(77);
    const found = await findRecordings(folder, experiment, []);
    const measured = await measureFolder(folder, experiment, found);
    expect(measured.recordings.find(({ path }) => path === pathOf(7))?.timeConstant).toBe(77);
  });

  test('has no such file where it is few', async () => {
    const folder = folderFor('few', 5);
    await listed(folder);
    expect(existsSync(resultOf(folder, 0))).toBe(true);
    expect(existsSync(indexOf(folder))).toBe(false);
  });

  test('counts as the file of each result says, where that was written since', async () => {
    const folder = folderFor('newer');
    await listed(folder);
    tamper(resultOf(folder, 3), 3, 33.5);
    expect(await listed(folder)).toEqual({ values: new Map(expected).set(pathOf(3), 33.5), calls: [] });
  });

  test('is found again where the file of a result is gone or damaged', async () => {
    const folder = folderFor('gone');
    await listed(folder);
    unlinkSync(resultOf(folder, 3));
    writeFileSync(resultOf(folder, 4), '{');
    const { values, calls } = await listed(folder);
    expect(values).toEqual(expected);
    expect(calls.toSorted()).toEqual([pathOf(3), pathOf(4)].toSorted());
    expect(existsSync(resultOf(folder, 3))).toBe(true);
    expect((await listed(folder)).calls).toEqual([]);
  });

  test('does not count for a recording that has changed, of the same size', async () => {
    const folder = folderFor('changed');
    await listed(folder);
    writeFileSync(join(folder, pathOf(9)), `${constantOf(11)} 9`);
    const changed = new Map(expected).set(pathOf(9), constantOf(11));
    expect(await listed(folder)).toEqual({ values: changed, calls: [pathOf(9)] });
    expect(await listed(folder)).toEqual({ values: changed, calls: [] });
  });

  test('does not count by other settings', async () => {
    const folder = folderFor('settings');
    await listed(folder);
    const file = join(folder, 'experiment.yaml');
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace(/target: .*/, 'target: 71 degC'));
    expect(readFileSync(file, 'utf8')).not.toBe(text);
    expect((await listed(folder)).calls).toHaveLength(many);
  });

  const one = (kept: unknown) => ({
    format: 'emberline results index 1',
    results: [{ recording: pathOf(0), file: { size: 1, modified: 1, changed: 1 }, kept }],
  });
  test.each([
    ['cut off', (text: string) => text.slice(0, text.length / 2)],
    ['empty', () => ''],
    ['of another version', (text: string) => text.replace('results index 1', 'results index 99')],
    [
      'of results of another version',
      (text: string) => text.replaceAll(/emberline result \d/g, 'emberline result 0'),
    ],
    ['something else', () => '[[[]]]'],
    ['without results', () => '{"format":"emberline results index 1"}'],
    [
      'of hostile names',
      () => JSON.stringify({ ...one({}), results: [{ ...one({}).results[0], recording: '../../outside' }] }),
    ],
    ['of results that are none', () => JSON.stringify(one({ result: 'x', traits: [] }))],
    ['bytes that are no text', () => '\u0000\uffff'.repeat(1000)],
    ['with numbers that are texts', (text: string) => text.replaceAll(/"x":\[0,1\]/g, '"x":["a",{}]')],
  ])('is read one by one where its index is damaged: %s', async (_, damaged) => {
    const folder = folderFor(`damaged-${createHash('md5').update(_).digest('hex')}`);
    await listed(folder);
    const whole = readFileSync(indexOf(folder), 'utf8');
    writeFileSync(indexOf(folder), damaged(whole));
    expect(await listed(folder)).toEqual({ values: expected, calls: [] });
    // It is made again.
    expect(JSON.parse(readFileSync(indexOf(folder), 'utf8'))).toMatchObject({ results: { length: many } });
    tamper(indexOf(folder), 7, 77);
    expect((await listed(folder)).values.get(pathOf(7))).toBe(77);
  });

  test('is neither read nor written through a link that leads out of the folder', async () => {
    const folder = folderFor('link');
    await listed(folder);
    const outside = join(root, 'outside.json');
    cpSync(indexOf(folder), outside);
    tamper(outside, 7, 77);
    unlinkSync(indexOf(folder));
    symlinkSync(outside, indexOf(folder));
    const before = readFileSync(outside, 'utf8');
    expect(await listed(folder)).toEqual({ values: expected, calls: [] });
    expect(readFileSync(outside, 'utf8')).toBe(before);
    expect(lstatSync(indexOf(folder)).isSymbolicLink()).toBe(true);
  });
});
