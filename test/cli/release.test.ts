import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, test } from 'vitest';
import { readTrailDay, trailDays } from '../../src/store/index.ts';
import { experimentText } from '../server/app.ts';
import { runCommand } from './run.ts';

const base = mkdtempSync(join(tmpdir(), 'emberline-release-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(base, 'folder-'));
  const text = experimentText.replace('g1: {}', 'g1: { section: A }');
  writeFileSync(join(folder, 'experiment.yaml'), `${text}sections: [A, B]\n`);
});

async function told() {
  const lines = [];
  for (const day of await trailDays(folder)) lines.push(...(await readTrailDay(folder, day)));
  return lines;
}

describe('emberline release', () => {
  test('releases a section, takes that back, and lists what stands', async () => {
    expect((await runCommand(['release', folder])).stdout).toBe(
      'section A: not released\nsection B: not released\n',
    );
    const released = await runCommand(['release', folder, '--section', 'A', '--who', 'IK']);
    expect(released.stdout).toMatch(/section A: released since 20.*Z, by IK\nsection B: not released\n/);
    await runCommand(['release', folder, '--section', 'A', '--withdraw', '--who', 'MB']);
    const { stdout } = await runCommand(['release', folder, '--json']);
    expect(JSON.parse(stdout).sections).toMatchObject([
      { section: 'A', released: false, who: 'MB' },
      { section: 'B', released: false, who: null },
    ]);
    expect(await told()).toMatchObject([
      { role: 'command line', label: 'IK', done: 'released results', note: 'section A' },
      { role: 'command line', label: 'MB', done: 'took the release of results back' },
    ]);
  });

  test.each([
    [['--section', 'Q', '--who', 'IK'], 'take one of A, B'],
    [['--section', 'A'], '--who is missing'],
    [['--all', '--who', 'IK'], 'every group is in a section'],
    [['--withdraw', '--who', 'IK'], 'give --section'],
  ])('refuses %o', async (words, said) => {
    const { status, stderr } = await runCommand(['release', folder, ...words]);
    expect(status).toBe(2);
    expect(stderr).toContain(said);
    expect(() => readFileSync(join(folder, 'releases.json'))).toThrow('ENOENT');
  });

  test('releases a class without sections as one', async () => {
    writeFileSync(join(folder, 'experiment.yaml'), experimentText);
    const { status, stdout } = await runCommand(['release', folder, '--all', '--who', 'IK']);
    expect(status).toBe(0);
    expect(stdout).toContain('groups without a section: released since');
  });
});

describe('the trail of commands', () => {
  test('says who checked a rig and took a sheet in', async () => {
    const check = ['--add', 'diameter', '--of', 'brass-12', '--value', '12.1 mm', '--who', 'IK'];
    await runCommand(['rig', folder, ...check]);
    await runCommand(['rig', folder, '--withdraw', 'c1', '--why', 'another sphere', '--who', 'IK']);
    const sheet = join(base, 'g1.csv');
    writeFileSync(sheet, 'recording,point / s\nx,12\n');
    await runCommand(['mark', folder, '--take', sheet]);
    expect(await told()).toMatchObject([
      { role: 'command line', label: 'IK', done: 'kept a check of a rig', about: 'rig/checks.json' },
      { done: 'took an entry about a rig back', note: 'c1: another sphere, signed IK' },
      { done: 'took a sheet in', note: 'handed over as g1.csv' },
    ]);
  });
});
