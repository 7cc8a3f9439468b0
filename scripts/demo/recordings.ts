import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { simulateRecording } from '../../src/practice/bench-trial.ts';
import { handedIn } from '../../src/practice/handed-in.ts';
import { type KeyedRecording, keyedRecording } from '../../src/practice/key.ts';
import type { PracticeRecording } from '../../src/practice/set-types.ts';
import { recordingBytes } from '../../src/practice/write-recording.ts';

/**
 * Simulates a recording and writes it below a folder.
 *
 * @returns what the key says of it
 */
export function writeRecording(folder: string, recording: PracticeRecording): KeyedRecording {
  const readings = simulateRecording(recording.source.trial);
  const bytes = Buffer.concat([...recordingBytes(readings)]);
  const path = join(folder, recording.path);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, bytes);
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  const row = recording.task === null ? null : handedIn(readings, recording.task);
  return keyedRecording(recording, { truth: readings.truth, sha256, handedIn: row });
}
