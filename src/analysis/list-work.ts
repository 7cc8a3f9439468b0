import { setImmediate as nextTurn } from 'node:timers/promises';
import type { DecaySettings } from '../decay/index.ts';
import type { ReadOptions } from '../recording/index.ts';
import { analyzeOpened, openRecording } from './analyze-file.ts';
import { essenceOf } from './essence.ts';
import { hashOf, type ListResult } from './kept-result.ts';
import { unreadWords } from './recording-notes.ts';
import type { SensorSettings } from './sensor.ts';

/** A recording to be analyzed for a list. Plain data: it can be sent to another thread. */
export interface ListOrder {
  /** Path of the file. */
  readonly file: string;
  readonly read: ReadOptions;
  readonly chain: SensorSettings;
  readonly settings: DecaySettings;
}

/** What became of it; without a hash where the file cannot be read. */
export interface ListAnswer {
  readonly sha256: string | null;
  readonly result: ListResult;
}

/** Whoever analyzes recordings for a list, in this thread or in another. */
export type Analyst = (order: ListOrder) => Promise<ListAnswer>;

/** Analyzes one recording for a list, in this thread, with pauses for others. */
export async function analyzeForList({ file, read, chain, settings }: ListOrder): Promise<ListAnswer> {
  try {
    const opened = await openRecording(file, { read, chain, zero: null });
    await nextTurn();
    const essence = essenceOf(await analyzeOpened(opened, settings));
    await nextTurn();
    return { sha256: opened.recording.sha256, result: { kind: 'analyzed', essence } };
  } catch (error) {
    if (!(error instanceof Error)) throw error;
    return { sha256: await hashOf(file), result: { kind: 'unreadable', message: unreadWords(error) } };
  }
}
