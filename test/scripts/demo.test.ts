import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { PassThrough } from 'node:stream';
import { afterAll, beforeEach, expect, test } from 'vitest';
import type { Crew } from '../../scripts/demo/crew.ts';
import { ensureDemo } from '../../scripts/demo/ensure.ts';
import { keyedRecording } from '../../src/practice/key.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-demo-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const surroundings = { stdout: new PassThrough(), stderr: new PassThrough(), environment: {} };
const truth = {
  timeConstant: 1,
  lumpedTimeConstant: 1,
  biot: 0.01,
  peak: 100,
  heatOn: 0,
  heatOff: 1,
  coolingAir: 20,
  endFraction: 0.1,
};

/** Writes a line in place of each recording. */
const quick: Crew = {
  async write(place, recordings) {
    return recordings.map((recording) => {
      mkdirSync(dirname(join(place, recording.path)), { recursive: true });
      writeFileSync(join(place, recording.path), `${recording.path}\n`);
      return keyedRecording(recording, { handedIn: null, truth, sha256: '' });
    });
  },
};

const failing: Crew = {
  async write(place, recordings) {
    await quick.write(place, recordings.slice(0, 3), () => undefined);
    throw new Error('the disk is full');
  },
};

let root = '';

/** A project with as much as the demo is made by. */
beforeEach(() => {
  root = mkdtempSync(join(folder, 'project-'));
  for (const room of ['quantity', 'sensing', 'prediction', 'experiment', 'practice', 'store']) {
    mkdirSync(join(root, 'src', room), { recursive: true });
    writeFileSync(join(root, 'src', room, 'index.ts'), '');
  }
  for (const path of ['scripts/demo', 'examples', 'src/version.ts', 'node_modules/pure-rand/package.json']) {
    cpSync(path, join(root, path), { recursive: true });
  }
});

async function made(crew = quick): Promise<boolean> {
  return (await ensureDemo(root, crew, surroundings)).made;
}

test('the demo is made once, and again where something is missing or the code has changed', async () => {
  expect(await made()).toBe(true);
  expect(await made()).toBe(false);
  const one = join(root, 'demo', 'thornwick', 'recordings', 'A', 'A1', 'brass-12_120-1.txt');
  rmSync(one);
  expect(await made()).toBe(true);
  expect(existsSync(one)).toBe(true);
  writeFileSync(one, 'shortened');
  expect(await made()).toBe(true);
  writeFileSync(join(root, 'src', 'practice', 'index.ts'), 'export {};');
  expect(await made()).toBe(true);
  rmSync(join(root, 'demo', 'thornwick-answers'), { recursive: true });
  expect(await made()).toBe(true);
  expect(await made()).toBe(false);
});

test('the demo appears as a whole or not at all', async () => {
  await expect(made(failing)).rejects.toThrow('the disk is full');
  expect(readdirSync(join(root, 'demo'))).toEqual([]);
  await made();
  const key = readFileSync(join(root, 'demo', 'thornwick-answers', 'key.json'), 'utf8');
  writeFileSync(join(root, 'src', 'practice', 'index.ts'), 'export {};');
  await expect(made(failing)).rejects.toThrow('the disk is full');
  expect(readFileSync(join(root, 'demo', 'thornwick-answers', 'key.json'), 'utf8')).toBe(key);
  expect(readdirSync(join(root, 'demo')).sort()).toEqual(['made.json', 'thornwick', 'thornwick-answers']);
});

test('results that were kept of the demo are removed, and nothing else of it', async () => {
  await made();
  const course = join(root, 'demo', 'thornwick');
  const before = readdirSync(course);
  mkdirSync(join(course, 'results', 'recordings'), { recursive: true });
  writeFileSync(join(course, 'results', 'recordings', 'brass-12_120-1.txt.json'), '{}');
  expect(await made()).toBe(false);
  expect(readdirSync(course)).toEqual(before);
});

test('no answer stands among the recordings', async () => {
  await made();
  const course = join(root, 'demo', 'thornwick');
  const names = readdirSync(course, { recursive: true, encoding: 'utf8' });
  expect(names.filter((name) => name.endsWith('.txt'))).toHaveLength(100);
  expect(names.filter((name) => /key|answer/i.test(name))).toEqual([]);
});
