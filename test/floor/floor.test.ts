import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { analyzeFile, experimentDecaySettings, sensorSettings } from '../../src/analysis/index.ts';
import { readExperiment } from '../../src/store/index.ts';
import { BenchFloor, trialPieces } from './bench-floor.ts';

let bench: BenchFloor;
beforeEach(() => {
  bench = new BenchFloor();
});
afterEach(() => bench.end());

const path = 'recordings/A/A1/brass-12_120-1.txt';

describe('a trial while it is recorded', () => {
  test('goes through its phases on the tile of its bench, and comes to the whole file to the last digit', async () => {
    const floor = await bench.open();
    const tile = () => floor.now().benches.find((one) => one.bench === 'bench-1');
    expect(floor.now().benches.map((one) => one.bench)).toEqual(['bench-1', 'bench-2', 'bench-3', 'bench-4']);
    const phases: string[] = [];
    await bench.record(path, trialPieces(), floor, () => {
      const phase = tile()?.trial?.phase;
      if (phase !== undefined && phase !== phases.at(-1)) phases.push(phase);
    });
    expect(phases).toEqual(['waiting', 'baseline', 'heating', 'cooling', 'done']);
    expect(tile()).toMatchObject({ group: 'A1', section: 'A', repeat: 1, trouble: null });
    expect(tile()?.trials).toEqual([]);
    await bench.rest(floor, 12);
    const experiment = await readExperiment(bench.folder);
    const whole = await analyzeFile(join(bench.folder, path), {
      read: {},
      chain: sensorSettings(experiment),
      zero: null,
      settings: experimentDecaySettings(experiment, 'brass-12'),
    });
    const [trial] = tile()?.trials ?? [];
    expect(trial?.timeConstant).toBe(whole.decay.timeConstant?.value);
    expect(trial?.verdict).toBe(whole.decay.verdict);
  });
});
