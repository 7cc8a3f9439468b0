import { simulateRecording } from '../../src/practice/bench-trial.ts';
import type { BenchReadings, BenchTrial } from '../../src/practice/bench-types.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';

/** A trial as a bench makes it, and the file that its logger leaves. */
export function record(trial: BenchTrial): { readings: BenchReadings; bytes: Uint8Array } {
  const readings = simulateRecording(trial);
  return { readings, bytes: Buffer.concat([...recordingBytes(readings)]) };
}
