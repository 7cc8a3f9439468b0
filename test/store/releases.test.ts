import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, test } from 'vitest';
import { appendRelease, isReleased, readReleases, standingRelease } from '../../src/store/index.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-releases-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));
const newFolder = () => mkdtempSync(join(base, 'folder-'));
const at = '2026-03-02T09:00:00Z';
const release = { section: 'A', at, who: 'IK', released: true };

describe('Releases of results', () => {
  test('count by section, the last one of each', async () => {
    const folder = newFolder();
    expect(isReleased(await readReleases(folder), 'A')).toBe(false);
    await appendRelease(folder, release);
    await appendRelease(folder, { ...release, section: 'B' });
    const all = await appendRelease(folder, { ...release, released: false, who: 'MB' });
    expect(await readReleases(folder)).toEqual(all);
    expect(['A', 'B', 'C', null].map((section) => isReleased(all, section))).toEqual([
      false,
      true,
      false,
      false,
    ]);
    expect(standingRelease(all, 'A')?.who).toBe('MB');
    expect(all).toHaveLength(3);
  });

  test('of a class without sections are one', async () => {
    const all = await appendRelease(newFolder(), { ...release, section: null });
    expect(isReleased(all, null)).toBe(true);
    expect(isReleased(all, 'A')).toBe(false);
  });

  test('by many at once are all kept', async () => {
    const folder = newFolder();
    const sections = Array.from({ length: 15 }, (_, i) => `S${i}`);
    await Promise.all(sections.map((section) => appendRelease(folder, { ...release, section })));
    expect((await readReleases(folder)).map(({ section }) => section).toSorted()).toEqual(
      sections.toSorted(),
    );
  });

  test('are refused where nobody stands for them, and nothing is written', async () => {
    const folder = newFolder();
    await appendRelease(folder, release);
    const before = readFileSync(join(folder, 'releases.json'), 'utf8');
    await expect(appendRelease(folder, { ...release, who: '  ' })).rejects.toThrow('who');
    expect(readFileSync(join(folder, 'releases.json'), 'utf8')).toBe(before);
  });

  test('in a file with faults release nothing, and say where the fault is', async () => {
    const folder = newFolder();
    writeFileSync(
      join(folder, 'releases.json'),
      '{"about":"","releases":[{"section":"A","released":"yes"}]}',
    );
    await expect(readReleases(folder)).rejects.toThrow(/releases\.json: releases › number 1 › at.*move/);
    await expect(appendRelease(folder, release)).rejects.toThrow('releases.json');
  });
});
