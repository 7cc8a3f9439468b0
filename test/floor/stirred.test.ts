import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { Discovery } from '../../src/floor/discovery.ts';
import { readExperimentFile } from '../../src/store/index.ts';

const { experiment } = await readExperimentFile(join('examples', 'thornwick'));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'emberline-stirred-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A scan reads folders that it did not know once more. */
async function scanned(discovery: Discovery): Promise<void> {
  await discovery.scan(() => 0);
  while (await discovery.stirred()) await discovery.scan(() => 0);
}

test('a file or folder that came or went shows without a scan, one that grows does not', async () => {
  const bench = join(folder, 'recordings', 'A', 'A1');
  mkdirSync(bench, { recursive: true });
  const discovery = new Discovery(folder, experiment);
  await scanned(discovery);
  const file = join(bench, 'brass-12_60-1.txt');
  writeFileSync(file, '0\t20\n');
  expect(await discovery.stirred()).toBe(true);
  await scanned(discovery);
  expect(discovery.files.map(({ path }) => path)).toEqual(['recordings/A/A1/brass-12_60-1.txt']);
  writeFileSync(file, '0\t20\n1\t20\n', { flag: 'a' });
  expect(await discovery.stirred()).toBe(false);
  mkdirSync(join(folder, 'recordings', 'A', 'A2'));
  expect(await discovery.stirred()).toBe(true);
  await scanned(discovery);
  rmSync(file);
  expect(await discovery.stirred()).toBe(true);
  await scanned(discovery);
  expect(discovery.files).toEqual([]);
});

test('a folder that is not there yet is waited for', async () => {
  const discovery = new Discovery(folder, experiment);
  await discovery.scan(() => 0);
  expect(await discovery.stirred()).toBe(false);
  mkdirSync(join(folder, 'recordings'));
  expect(await discovery.stirred()).toBe(true);
});
