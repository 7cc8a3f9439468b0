import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type AnalysisRequest, type AnalyzedFile, analyzeFile } from '../../src/analysis/index.ts';
import { usualDecaySettings } from '../../src/decay/index.ts';
import { amplifier } from './draw-trial.ts';

/** A folder for one file at a time, which goes with it. */
export interface Desk {
  /**
   * Analyzes a file as the command does, from its bytes.
   *
   * @throws RecordingError where it cannot be read
   */
  analyze(bytes: Uint8Array, wishes: AnalysisRequest): Promise<AnalyzedFile>;
  close(): void;
}

export function openDesk(): Desk {
  const folder = mkdtempSync(join(tmpdir(), 'emberline-prove-'));
  const path = join(folder, 'recording.txt');
  return {
    analyze: (bytes, wishes) => {
      writeFileSync(path, bytes);
      return analyzeFile(path, wishes);
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** What an instructor knows of the bench of the scenarios: sensor, gain, zero and the limit of the course, 140 °C. */
export const benchWishes: AnalysisRequest = {
  read: {},
  chain: {
    thermocouple: amplifier.type,
    resistance: null,
    tolerance: null,
    junction: { kind: 'ice' },
    gain: amplifier.gain,
    zero: amplifier.zero,
    junctionUncertainty: null,
    gainUncertainty: null,
    zeroUncertainty: null,
  },
  settings: { ...usualDecaySettings, limit: 140 },
  zero: null,
};
