import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  classOfFolder,
  earlierRecordings,
  type FolderAnalysis,
  type FolderClass,
  openAnalysis,
  UnknownSectionError,
} from '../../src/analysis/index.ts';
import { classView } from '../../src/server/contract/index.ts';
import { readPracticeKey } from '../../src/store/index.ts';

const demo = join('demo', 'thornwick');
const root = mkdtempSync(join(tmpdir(), 'emberline-class-'));
const folder = join(root, 'now');
const none = { recordings: [], troubles: [] };
const taken = /^(brass-12_120|aluminium-12_120|bare-junction_120)-1\.txt$/;
const at = (path: string) => join(folder, 'recordings', path);

/** A recording of the demo as another program would save it again: fewer digits, another head, its beginning cut off. */
function savedAnew(path: string): string {
  const rows = readFileSync(at(path), 'utf8')
    .split(/\r?\n/)
    .filter((line) => /^\d/.test(line))
    .slice(300)
    .map((line) => line.split('\t').map(Number));
  const text = rows.map(([time = 0, volts = 0]) => `${(time - 3).toFixed(2)};${(1000 * volts).toFixed(1)}`);
  return ['Time [s];Sphere [mV]', ...text, ''].join('\n');
}

/** A recording behind an amplifier that was set to half as much again. */
function amplified(path: string): string {
  return readFileSync(at(path), 'utf8').replace(
    /^(\d[\d.]*\t)([\d.]+)$/gm,
    (_, time: string, volts: string) => {
      return `${time}${(1.5 * Number(volts)).toFixed(5)}`;
    },
  );
}

function put(path: string, text: string): void {
  mkdirSync(dirname(at(path)), { recursive: true });
  writeFileSync(at(path), text);
}

const copy = 'C/C2/brass-12_120-2.txt';
const gain = 'B/B1/bare-junction_120-1.txt';
const lent = 'B/B4/bare-junction_120-2.txt';
const guest = 'A/C3/brass-12_120-1.txt';
let analysis: FolderAnalysis;
let rolled: FolderClass;

beforeAll(async () => {
  for (const path of readdirSync(join(demo, 'recordings'), { recursive: true, encoding: 'utf8' })) {
    if (taken.test(path.split('/').at(-1) ?? ''))
      put(path, readFileSync(join(demo, 'recordings', path), 'utf8'));
  }
  const yaml = readFileSync(join(demo, 'experiment.yaml'), 'utf8');
  writeFileSync(
    join(folder, 'experiment.yaml'),
    yaml.replace('B4: { section: B, bench: bench-4 }', 'B4: { section: B, bench: bench-4, borrows: [B3] }'),
  );
  put(copy, savedAnew('A/A1/brass-12_120-1.txt'));
  put(gain, amplified(gain));
  cpSync(at('B/B3/bare-junction_120-1.txt'), at(lent));
  put(guest, readFileSync(at('C/C3/brass-12_120-1.txt'), 'utf8'));
  rmSync(at('C/C3/brass-12_120-1.txt'));
  analysis = await openAnalysis(folder);
  await analysis.settled();
  rolled = classOfFolder(analysis, none);
}, 300_000);
afterAll(async () => {
  await analysis.close();
  rmSync(root, { recursive: true });
});

const recordings = (path: string) => `recordings/${path}`;

describe('the class of a folder', () => {
  test('finds every body that is exchanged in the key, and no other', async () => {
    const key = await readPracticeKey(join('demo', 'thornwick-answers', 'key.json'), null);
    const there = new Set(analysis.list().recordings.map(({ path }) => path));
    const swapped = key.recordings
      .filter(({ faults }) => faults.some(({ name }) => name === 'swapped'))
      .map(({ path }) => path)
      .filter((path) => there.has(path));
    expect(swapped.length).toBe(2);
    expect(rolled.labels.map(({ path }) => path).sort()).toEqual(swapped.sort());
    const entry = rolled.lookAgain.find(({ kind }) => kind === 'label');
    expect(entry).toMatchObject({ groups: ['A2'] });
    expect(entry?.sentence).toContain('exchanged');
    expect(rolled.labelsChecked).toBe(rolled.counting);
  });

  test('finds a trace that another group saved anew and handed in, and nothing else alike', () => {
    const shapes = rolled.sameTraces.filter(({ by }) => by === 'shape');
    expect(shapes.map(({ paths }) => [...paths].sort())).toEqual([
      [recordings('A/A1/brass-12_120-1.txt'), recordings(copy)],
    ]);
    expect(rolled.lookAgain.find(({ kind }) => kind === 'same-trace')).toMatchObject({
      groups: ['A1', 'C2'],
    });
  });

  test('takes a lent recording for lent', () => {
    expect(rolled.sameTraces.filter(({ by }) => by === 'bytes')).toMatchObject([
      { paths: [recordings('B/B3/bare-junction_120-1.txt'), recordings(lent)], borrowed: true },
    ]);
    expect(rolled.left.map(({ path }) => path)).toContain(recordings(lent));
    expect(rolled.lookAgain.flatMap(({ paths }) => paths)).not.toContain(recordings(lent));
  });

  test('finds the amplifier that was set otherwise, and the bench whose logger writes degrees', () => {
    expect(rolled.chains.filter(({ kind }) => kind === 'shows').map(({ paths }) => paths)).toEqual([
      [recordings(gain)],
    ]);
    expect(rolled.chains.find(({ kind }) => kind === 'set')).toMatchObject({ bench: 'bench-3' });
  });

  test('names the guest of another section', () => {
    // It was made on the day of its own section.
    expect(rolled.visits).toMatchObject([
      { kind: 'guest', group: 'C3', paths: [recordings(guest)] },
      { kind: 'make-up', group: 'C3', paths: [recordings(guest)] },
    ]);
  });

  test('fits the contract, and comes of what is kept alone', async () => {
    expect(classView.parse(rolled)).toEqual(rolled);
    const again = await openAnalysis(folder, { hands: 0 });
    expect(classOfFolder(again, none)).toEqual(rolled);
    await again.close();
  });

  test('is rolled up by section, with traces of the others in view', () => {
    const part = classOfFolder(analysis, none, 'C');
    expect(part.sections).toEqual(['C']);
    expect(part.recordings).toBe(
      analysis.list().recordings.filter(({ place }) => place.section === 'C').length,
    );
    expect(part.sameTraces.flatMap(({ paths }) => paths)).toContain(recordings(copy));
    expect(() => classOfFolder(analysis, none, 'Z')).toThrow(UnknownSectionError);
  });
});

describe('earlier terms', () => {
  test('tell from results and decisions alone, whose recordings are gone', async () => {
    const before = join(root, '2026-spring');
    for (const name of ['experiment.yaml', 'results'])
      cpSync(join(folder, name), join(before, name), { recursive: true });
    const earlier = await earlierRecordings(folder, ['../2026-spring']);
    expect(earlier.troubles).toEqual([]);
    expect(earlier.recordings).toHaveLength(rolled.recordings);
    const held = classOfFolder(analysis, earlier);
    // Every recording was handed in last term already.
    expect(held.sameTraces.filter(({ term }) => term === '2026-spring').length).toBeGreaterThanOrEqual(
      rolled.recordings - 1,
    );
    expect(held.conditions.find(({ body }) => body === 'brass-12')).toMatchObject({
      spread: 'earlier-terms',
      earlier: { terms: 1 },
    });
    expect(readdirSync(before).sort()).toEqual(['experiment.yaml', 'results']);
  });

  test('that cannot be used are said, and cost nothing else', async () => {
    const empty = join(root, 'empty');
    mkdirSync(empty);
    writeFileSync(join(empty, 'experiment.yaml'), 'course: Thornwick\n');
    const { recordings: found, troubles } = await earlierRecordings(folder, ['../nowhere', '../empty', '.']);
    expect(found).toEqual([]);
    expect(troubles.map(({ folder: one }) => one).sort()).toEqual(['.', '../empty', '../nowhere']);
    expect(troubles.find(({ folder: one }) => one === '../empty')?.message).toContain('no results');
    expect(JSON.stringify(troubles)).not.toContain(root);
  });
});
