import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import type { Floor } from '../../src/floor/types.ts';
import { BenchFloor, trialPieces, wholeResult } from './bench-floor.ts';

let bench: BenchFloor;
beforeEach(() => {
  bench = new BenchFloor();
});
afterEach(() => bench.end());

const path = 'recordings/A/A1/brass-12_120-1.txt';
const next = 'recordings/A/A1/brass-12_120-2.txt';
const tileOf = (floor: Floor, name = 'bench-1') => floor.now().benches.find((one) => one.bench === name);

describe('a trial while it is recorded', () => {
  test('goes through its phases on the tile of its bench, and comes to the whole file to the last digit', async () => {
    const floor = await bench.open();
    expect(floor.now().benches.map((one) => one.bench)).toEqual(['bench-1', 'bench-2', 'bench-3', 'bench-4']);
    const phases: string[] = [];
    const told: string[] = [];
    floor.onChange((_, changed) => told.push(...changed));
    await bench.record(path, trialPieces(), floor, () => {
      const phase = tileOf(floor)?.trial?.phase;
      if (phase !== undefined && phase !== phases.at(-1)) phases.push(phase);
    });
    expect(phases).toEqual(['waiting', 'baseline', 'heating', 'cooling', 'done']);
    expect(told).toContain('bench-1');
    expect(tileOf(floor)).toMatchObject({ group: 'A1', section: 'A', repeat: 1, trouble: null, trials: [] });
    await bench.rest(floor, 12);
    const whole = await wholeResult(bench.folder, path, 'brass-12');
    const [trial, ...more] = tileOf(floor)?.trials ?? [];
    expect(more).toEqual([]);
    expect(trial?.timeConstant).toBe(whole.timeConstant?.value);
    expect(trial?.standardUncertainty).toBe(whole.timeConstant?.standardUncertainty);
    expect(trial?.verdict).toBe(whole.verdict);
    // The trial before is what the next one's ambient is held against.
    expect(floor.now().session.message).toContain('1 trial is done');
  });

  test('is done as soon as the next one begins, and not before it has rested', async () => {
    const floor = await bench.open();
    // Broken off in the heating.
    await bench.record(path, trialPieces().slice(0, 40), floor);
    await bench.rest(floor, 55);
    expect(tileOf(floor)?.trials).toEqual([]);
    expect(floor.now().calls[0]).toMatchObject({ bench: 'bench-1' });
    await bench.record(next, trialPieces({ seed: 2 }).slice(0, 5), floor);
    await bench.rest(floor, 2);
    expect(tileOf(floor)).toMatchObject({ path: next, repeat: 2 });
    expect(tileOf(floor)?.trials.map((one) => [one.path, one.verdict])).toEqual([[path, 'repeat']]);
  });

  test('goes on where its file grows again', async () => {
    const floor = await bench.open();
    const pieces = trialPieces();
    await bench.record(path, pieces.slice(0, 40), floor);
    await bench.rest(floor, 62);
    expect(tileOf(floor)).toMatchObject({ trial: { phase: 'done' }, trials: [{ verdict: 'repeat' }] });
    await bench.record(path, pieces.slice(40), floor);
    expect(tileOf(floor)?.trials).toEqual([]);
    await bench.rest(floor, 12);
    const whole = await wholeResult(bench.folder, path, 'brass-12');
    expect(tileOf(floor)?.trials.map((one) => one.timeConstant)).toEqual([whole.timeConstant?.value]);
  });
});

describe('the clock of the disk', () => {
  test('is never held against ours: a file that grows is not taken for old, nor an old one for new', async () => {
    const old = 'recordings/A/A2/brass-20_60-1.txt';
    bench.now -= 2 * 3600_000;
    await bench.logger.open(bench.file(old));
    await bench.write(old, trialPieces({ seed: 5 }).join(''));
    // The session lasts 110 min; the file is older by 120.
    bench.now += 2 * 3600_000;
    const floor = await bench.open();
    expect(tileOf(floor, 'bench-2')?.path).toBe(old);
    await bench.record(path, trialPieces().slice(0, 30), floor);
    expect(tileOf(floor, 'bench-2')).toMatchObject({ path: null, trials: [] });
    expect(tileOf(floor)).toMatchObject({ path, trial: { phase: 'heating' } });
    expect(tileOf(floor)?.quiet).toBeLessThanOrEqual(1);
    // Set-up takes 15 min before the first recording, which began 30 s ago.
    expect(floor.now().session.elapsed).toBeGreaterThan(15 * 60 + 25);
    expect(floor.now().session.elapsed).toBeLessThan(15 * 60 + 35);
  });
});

describe('what is in the way', () => {
  test('a path that does not say what is recorded is named, and its trial watched all the same', async () => {
    const floor = await bench.open();
    await bench.record('recordings/A/A1/bras-12_120-1.txt', trialPieces().slice(0, 30), floor);
    const tile = floor.now().benches.find((one) => one.trouble !== null);
    expect(tile?.trouble?.message).toContain('bras-12_120-1.txt does not say what is recorded');
    expect(tile).toMatchObject({ condition: null, trial: { phase: 'heating' } });
    expect(floor.now().calls[0]?.why).toContain('bras-12_120-1.txt');
  });

  test('an experiment file with faults stops the watching until it is mended', async () => {
    const floor = await bench.open();
    const file = join(bench.folder, 'experiment.yaml');
    const text = readFileSync(file, 'utf8');
    writeFileSync(file, text.replace('mains: 50 Hz', 'mains: 55 Hz'));
    await bench.rest(floor, 1);
    expect(floor.now().benches).toEqual([]);
    expect(floor.now().trouble?.message).toMatch(/experiment\.yaml, line \d+: mains: must be 50 Hz or 60 Hz/);
    writeFileSync(file, text);
    await bench.rest(floor, 1);
    expect(floor.now().trouble).toBeNull();
    expect(floor.now().benches).toHaveLength(4);
  });

  test('what cannot be read is said with its mend', async () => {
    const floor = await bench.open();
    cpSync(join('examples', 'thornwick', 'experiment.yaml'), bench.file(path));
    await bench.rest(floor, 62);
    expect(tileOf(floor)?.trouble?.mend).toBeTruthy();
    expect(tileOf(floor)?.trials.map(({ verdict }) => verdict)).toEqual(['unreadable']);
  });

  test('failed checks of the rig are named on the tile', async () => {
    const { appendRigCheck } = await import('../../src/store/index.ts');
    await appendRigCheck(bench.folder, {
      at: new Date(bench.now - 60_000).toISOString(),
      who: 'IK',
      bench: 'bench-1',
      kind: 'gain',
      subject: null,
      value: 190,
      written: '190',
      note: '',
    });
    const floor = await bench.open();
    expect(tileOf(floor)?.rig[0]).toContain('bench-1, gain: 190');
    expect(tileOf(floor, 'bench-2')?.rig).toEqual([]);
  });
});
