import { appendFileSync, cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { openAnalysis } from '../../src/analysis/index.ts';
import { type FolderChange, type Watching, watchFolder } from '../../src/server/watch.ts';
import { appendRigCheck } from '../../src/store/index.ts';
import { trialPieces } from '../floor/bench-floor.ts';
import { experimentText } from './app.ts';

const path = 'recordings/g1/brass-12_60-1.txt';
const other = 'recordings/g1/brass-20_60-1.txt';

let folder = '';
let now = 0;
let told: FolderChange[] = [];
let watching: Watching | null = null;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-looks-'));
  writeFileSync(join(folder, 'experiment.yaml'), experimentText);
  mkdirSync(dirname(join(folder, path)), { recursive: true });
  now = 1e12;
  told = [];
});
afterEach(() => {
  watching?.stop();
  rmSync(folder, { recursive: true });
});

async function watch(): Promise<Watching> {
  watching = await watchFolder(
    folder,
    async (change) => void told.push(change),
    () => now,
  );
  return watching;
}

/** Appends, lets so many seconds pass, looks, and says what was told since the last time. */
async function after(seconds: number, text = '', whole?: string): Promise<readonly string[][]> {
  if (text !== '') appendFileSync(join(folder, path), text);
  now += 1000 * seconds;
  await watching?.look(whole);
  return told.splice(0).map(({ writing }) => [...writing]);
}

test('a recording that is written is told of when it begins and when it rests, not each time it grows', async () => {
  await watch();
  expect(await after(3, '0 22\n')).toEqual([[path]]);
  for (let i = 1; i <= 20; i++) expect(await after(3, `${i} 22\n`)).toEqual([]);
  expect(await after(9)).toEqual([]);
  expect(await after(2)).toEqual([[]]);
  expect(await after(60)).toEqual([]);
  expect(await after(3, '21 22\n')).toEqual([[path]]);
});

test('what was there at first is at rest, and what is put there as a whole is not waited for', async () => {
  writeFileSync(join(folder, path), '0 22\n');
  await watch();
  expect(await after(3)).toEqual([]);
  cpSync(join(folder, path), join(folder, other));
  expect(await after(0, '', other)).toEqual([[]]);
  expect(await after(3)).toEqual([]);
  rmSync(join(folder, other));
  expect(await after(3)).toEqual([[]]);
});

test('experiment file and rig checks are told of at once, with what is being written meanwhile', async () => {
  await watch();
  await after(3, '0 22\n');
  writeFileSync(join(folder, 'experiment.yaml'), `${experimentText}# changed\n`);
  expect(await after(3, '1 22\n')).toEqual([[path]]);
  await appendRigCheck(folder, {
    at: '2026-03-02T10:00:00.000Z',
    who: 'IK',
    bench: null,
    kind: 'gain',
    subject: null,
    value: 190,
    written: '190',
    note: '',
  });
  now += 3000;
  await watching?.look();
  expect(told).toEqual([
    { experiment: false, recordings: false, rig: true, sheets: false, writing: new Set([path]) },
  ]);
});

test('sheets that somebody puts there or takes away are told of, once each', async () => {
  await watch();
  const sheet = join(folder, 'submissions', 'g1.csv');
  mkdirSync(dirname(sheet));
  const looked = async () => {
    now += 3000;
    await watching?.look();
    return told.splice(0).map(({ sheets }) => sheets);
  };
  expect(await looked()).toEqual([]);
  writeFileSync(sheet, 'recording,time constant (s)\n');
  expect(await looked()).toEqual([true]);
  expect(await looked()).toEqual([]);
  appendFileSync(sheet, 'brass-12_60-1,40\n');
  expect(await looked()).toEqual([true]);
  rmSync(sheet);
  expect(await looked()).toEqual([true]);
});

test('a recording that is written waits in the list, can be looked at, and comes to the whole when it rests', async () => {
  const pieces = trialPieces();
  const analysis = await openAnalysis(folder);
  await watchFolder(
    folder,
    ({ writing }) => analysis.refresh(writing),
    () => now,
  ).then((one) => {
    watching = one;
  });
  const listed = () => analysis.list().recordings;
  await after(3, pieces.slice(0, 60).join(''));
  await analysis.settled();
  expect(listed()).toMatchObject([{ path, state: 'writing', timeConstant: null, verdict: null }]);
  expect(analysis.list().progress).toEqual({ done: 0, total: 0 });
  expect(analysis.comparison().left).toEqual([{ path, why: 'It is still being written.' }]);
  let changes = 0;
  analysis.onChange(() => {
    changes += 1;
  });
  const early = await analysis.detail(path);
  expect(early).toMatchObject({ state: 'analyzed', note: expect.stringContaining('still being written') });
  expect(listed()).toMatchObject([{ state: 'writing', timeConstant: null }]);
  // Whoever is told asks again, and it has grown meanwhile.
  expect(changes).toBe(0);
  await after(3, pieces.slice(60).join(''));
  await analysis.settled();
  expect(listed()).toMatchObject([{ state: 'writing' }]);
  expect(changes).toBe(0);
  await after(12);
  await analysis.settled();
  const whole = await analysis.detail(path);
  expect(whole.note).toBeNull();
  expect(listed()).toMatchObject([
    { state: 'analyzed', verdict: 'usable', timeConstant: whole.timeConstant },
  ]);
  await analysis.close();
});
