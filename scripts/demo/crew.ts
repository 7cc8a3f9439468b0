import { Worker } from 'node:worker_threads';
import type { KeyedRecording } from '../../src/practice/key.ts';
import type { PracticeRecording } from '../../src/practice/set-types.ts';
import { writeRecording } from './recordings.ts';

/** Writes recordings, in this thread or in several. */
export interface Crew {
  /** @param onDone told how many are written. @returns what the key says of each, in their order */
  write(
    folder: string,
    recordings: readonly PracticeRecording[],
    onDone: (count: number) => void,
  ): Promise<KeyedRecording[]>;
}

/** Writes one recording after another in this thread. */
export const alone: Crew = {
  async write(folder, recordings, onDone) {
    return recordings.map((recording, i) => {
      const keyed = writeRecording(folder, recording);
      onDone(i + 1);
      return keyed;
    });
  },
};

/** What a thread is asked to do. */
export interface Order {
  readonly folder: string;
  readonly number: number;
  readonly recording: PracticeRecording;
}

/** What it answers. */
export interface Answer {
  readonly number: number;
  readonly keyed: KeyedRecording;
}

/**
 * Shares the work between threads; the recordings do not depend on how many there are.
 *
 * @param module that each thread runs: it takes orders as messages and answers each; any other message ends it
 * @param threads how many, > 0
 */
export function crewOf(module: URL, threads: number): Crew {
  return {
    async write(folder, recordings, onDone) {
      const keyed = new Map<number, KeyedRecording>();
      let next = 0;
      const work = () =>
        new Promise<void>((resolve, reject) => {
          const worker = new Worker(module);
          const hand = () => {
            const number = next++;
            const recording = recordings[number];
            worker.postMessage(recording === undefined ? null : { folder, number, recording });
          };
          worker.on('message', (answer: Answer) => {
            keyed.set(answer.number, answer.keyed);
            onDone(keyed.size);
            hand();
          });
          worker.on('error', reject);
          worker.on('exit', () => resolve());
          hand();
        });
      await Promise.all(Array.from({ length: Math.min(threads, recordings.length) }, work));
      return recordings.map(({ path }, i) => {
        const one = keyed.get(i);
        if (one === undefined) throw new Error(`${path} was not written.`);
        return one;
      });
    },
  };
}
