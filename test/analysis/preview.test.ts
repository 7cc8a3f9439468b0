import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { analyzeOpened, type OpenedFile, openRecording } from '../../src/analysis/analyze-file.ts';
import { sensorSettings } from '../../src/analysis/index.ts';
import { coarseTrace, previewAnalysis } from '../../src/analysis/preview.ts';
import { usualDecaySettings } from '../../src/decay/index.ts';
import type { Trace } from '../../src/sensing/index.ts';
import { readExperiment } from '../../src/store/index.ts';
import { plainTrial, simulateTrial } from '../support/trial.ts';

const folder = mkdtempSync(join(tmpdir(), 'emberline-preview-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Moves of a mark, s from where it was found. */
const moves = [-4, -1.5, -0.4, 0, 0.3, 0.9, 2.2, 5, 11];

describe('marks that move on a recording with more readings than the preview looks at', () => {
  let opened: OpenedFile;
  let coarse: Trace;
  beforeAll(async () => {
    const { temperature } = simulateTrial({ ...plainTrial, rate: 200, correlatedNoise: 0.1 });
    const lines = Array.from(temperature, (t, i) => `${(i / 200).toFixed(3)}\t${t.toFixed(4)}`);
    const file = join(folder, 'trial.txt');
    writeFileSync(file, `Time (s)\tTemperature (degC)\n${lines.join('\n')}\n`);
    const chain = sensorSettings(await readExperiment(join('examples', 'thornwick')));
    opened = await openRecording(file, { read: {}, chain, zero: null });
    coarse = coarseTrace(opened.trace, plainTrial.timeConstant);
  });

  test.each(['from', 'to'] as const)('give what the whole analysis gives: %s', async (end) => {
    const found = (await analyzeOpened(opened, usualDecaySettings)).decay.segments.cooling;
    expect(found).not.toBeNull();
    expect(coarse.blocks.length).toBeLessThan(opened.trace.blocks.length / 10);
    for (const by of moves) {
      const cooling = { from: found?.from ?? 0, to: found?.to ?? 0 };
      cooling[end] += end === 'from' ? by : -Math.abs(8 * by);
      const settings = { ...usualDecaySettings, marks: { baseline: null, cooling } };
      const shown = previewAnalysis(opened, coarse, settings).decay;
      const whole = (await analyzeOpened(opened, settings)).decay;
      const { value = Number.NaN, standardUncertainty = Number.NaN } = whole.timeConstant ?? {};
      expect(Math.abs((shown.timeConstant?.value ?? Number.NaN) - value)).toBeLessThan(
        0.1 * standardUncertainty,
      );
      expect(shown.verdict).toBe(whole.verdict);
      // Wider blocks see other noise, and where slow wandering is near its limit, it may be allowed for in one of them only.
      const ratio = (shown.timeConstant?.standardUncertainty ?? Number.NaN) / standardUncertainty;
      expect(Math.abs(Math.log(ratio))).toBeLessThan(Math.LN2);
    }
  });

  test('say the same whatever was asked before', () => {
    const marks = (from: number, to: number) => ({ baseline: { from: 1, to: 15 }, cooling: { from, to } });
    const ask = (trace: Trace, from: number, to: number) =>
      previewAnalysis(opened, trace, { ...usualDecaySettings, marks: marks(from, to) }).decay;
    ask(coarse, 70, 200);
    ask(coarse, 64, 190);
    const afresh = { ...coarse, opening: coarse.opening.slice(), blocks: { ...coarse.blocks } };
    expect(ask(coarse, 66, 195)).toEqual(ask(afresh, 66, 195));
  });
});
